/*
 * Swelling against regain, stress against strain, life against stress.
 *
 *   swelling        y = offset + slope w         power   y = factor w^exponent
 *   stress-strain   sigma = E e + (E2 - E) h(e, e1) + (E3 - E2) h(e, e2), three straight regions (first,
 *                   yield, post-yield) with corners at e1, e2 rounded over the width c:
 *                   h(e, k) = S(e - k) - S(-k),  S(u) = (u + sqrt(u^2 + c^2))/2
 *   life line       ln N = ln N0 - m ln(stress/100 MPa)
 *
 * Start of the stress-strain curve: corners from a grid over the strains, the three slopes by linear least
 * squares for each, the best of them.
 *
 * Sources: beard1983 (the three regions of wet hair), basquin, evans-fatigue.
 */
#include "models.h"

#include <math.h>
#include <stdlib.h>

HFI_VALUE(hfi_swelling_value)
{
    (void)user;
    *y = b[1] + b[0] * x[0];
    return HF_OK;
}

HFI_GRADIENT(hfi_swelling_gradient)
{
    (void)user;
    (void)b;
    g[0] = x[0];
    g[1] = 1;
    return HF_OK;
}

HFI_STARTER(hfi_swelling_starter)
{
    (void)user;
    double xy = 0, xx = 0;
    for (size_t i = 0; i < n; i++) {
        xy += x[i] * y[i];
        xx += x[i] * x[i];
    }
    b[0] = xx > 0 ? xy / xx : (double)NAN;
    b[1] = isfinite(b[1]) ? b[1] : 0;
    return HF_OK;
}

HFI_VALUE(hfi_swelling_power_value)
{
    (void)user;
    if (!(x[0] >= 0))
        return HF_ERANGE;
    *y = b[0] * pow(x[0], b[1]);
    return HF_OK;
}

HFI_GRADIENT(hfi_swelling_power_gradient)
{
    (void)user;
    if (!(x[0] >= 0))
        return HF_ERANGE;
    g[0] = pow(x[0], b[1]);
    g[1] = x[0] > 0 ? b[0] * g[0] * log(x[0]) : 0;
    return HF_OK;
}

HFI_STARTER(hfi_swelling_power_starter)
{
    (void)user;
    double line[2];
    double *rows = malloc(3 * n * sizeof *rows);
    if (!rows)
        return HF_ENOMEM;
    double *height = rows + 2 * n;
    size_t used = 0;
    for (size_t i = 0; i < n; i++)
        if (x[i] > 0 && y[i] > 0) {
            rows[2 * used] = 1;
            rows[2 * used + 1] = log(x[i]);
            height[used++] = log(y[i]);
        }
    if (used >= 2 && hfi_guess_linear(used, 2, rows, height, line, NULL)) {
        b[0] = exp(line[0]);
        b[1] = line[1];
    }
    free(rows);
    return HF_OK;
}

static double corner(double u, double width, double *slope)
{
    const double root = sqrt(u * u + width * width);
    if (slope)
        *slope = root > 0 ? 0.5 * (1 + u / root) : 0.5;
    return 0.5 * (u + root);
}

/* Parameters: modulus, yield strain, yield slope, post-yield strain, post-yield slope, corner. */
HFI_VALUE(hfi_stretch_value)
{
    (void)user;
    const double e = x[0], c = b[5];
    const double first = corner(e - b[1], c, NULL) - corner(-b[1], c, NULL);
    const double second = corner(e - b[3], c, NULL) - corner(-b[3], c, NULL);
    *y = b[0] * e + (b[2] - b[0]) * first + (b[4] - b[2]) * second;
    return HF_OK;
}

HFI_GRADIENT(hfi_stretch_gradient)
{
    (void)user;
    const double e = x[0], c = b[5];
    double s1, s1_zero, s2, s2_zero;
    const double first = corner(e - b[1], c, &s1) - corner(-b[1], c, &s1_zero);
    const double second = corner(e - b[3], c, &s2) - corner(-b[3], c, &s2_zero);
    g[0] = e - first;
    g[1] = (b[2] - b[0]) * (s1_zero - s1);
    g[2] = first - second;
    g[3] = (b[4] - b[2]) * (s2_zero - s2);
    g[4] = second;
    const double by_width[4] = {hypot(e - b[1], c), hypot(b[1], c), hypot(e - b[3], c),
                                hypot(b[3], c)};
    g[5] = 0;
    if (c > 0)
        g[5] = 0.5 * c *
               ((b[2] - b[0]) * (1 / by_width[0] - 1 / by_width[1]) +
                (b[4] - b[2]) * (1 / by_width[2] - 1 / by_width[3]));
    return HF_OK;
}

#define GRID 14

HFI_STARTER(hfi_stretch_starter)
{
    (void)user;
    double top = 0, least = HUGE_VAL;
    for (size_t i = 0; i < n; i++)
        top = fmax(top, x[i]);
    double *rows = malloc(3 * n * sizeof *rows);
    if (!rows)
        return HF_ENOMEM;
    for (int p = 1; p < GRID; p++)
        for (int q = p + 1; q < GRID; q++) {
            /* Closer together at small strains, where the first corner is. */
            const double e1 = top * pow(p / (double)GRID, 2), e2 = top * pow(q / (double)GRID, 1.3);
            double c[3], rss;
            if (!(e2 > 1.2 * e1))
                continue;
            for (size_t i = 0; i < n; i++) {
                rows[3 * i] = x[i];
                rows[3 * i + 1] = fmax(x[i] - e1, 0);
                rows[3 * i + 2] = fmax(x[i] - e2, 0);
            }
            if (!hfi_guess_linear(n, 3, rows, y, c, &rss) || !(rss < least))
                continue;
            least = rss;
            b[0] = c[0];
            b[1] = e1;
            b[2] = c[0] + c[1];
            b[3] = e2;
            b[4] = c[0] + c[1] + c[2];
        }
    free(rows);
    return HF_OK;
}

#define FATIGUE_REFERENCE 1e8 /* Pa */

HFI_VALUE(hfi_fatigue_value)
{
    (void)user;
    if (!(x[0] > 0))
        return HF_ERANGE;
    *y = b[0] - b[1] * log(x[0] / FATIGUE_REFERENCE);
    return HF_OK;
}

HFI_GRADIENT(hfi_fatigue_gradient)
{
    (void)user;
    (void)b;
    if (!(x[0] > 0))
        return HF_ERANGE;
    g[0] = 1;
    g[1] = -log(x[0] / FATIGUE_REFERENCE);
    return HF_OK;
}

HFI_STARTER(hfi_fatigue_starter)
{
    (void)user;
    (void)x;
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += y[i] / (double)n;
    b[0] = sum;
    b[1] = 10;
    return HF_OK;
}
