/*
 * Losses with time, rates with temperature, and peaks with heating rate. R gas constant.
 *
 *   first order   y = rest + (start - rest) exp(-k t)
 *   order n       y = rest + (start - rest) [1 + (n - 1) k t]^(-1/(n - 1)), the limit n = 1 is first order;
 *                 k in 1/s is the rate at the start over the amount there; below n = 1 it ends at `rest`
 *   Arrhenius     k = exp(ln A - E/(R T)), fitted as k or as ln k
 *   Kissinger     heating rate E/(R T^2) = A exp(-E/(R T)) at the peak temperature T, first order. With
 *                 u = E/(R T): u + 2 ln u = ln A + ln(E/(R rate)). Fitted directly: measured is T, so the
 *                 squares are those of T, not those of a linear plot
 *
 * E J/mol, A 1/s, temperatures K, heating rate K/s, time s.
 *
 * Sources: kissinger (memory); wortmann2012 (E of hair by this relation, wet and dry).
 */
#include "models.h"

#include "../keratin/constants.h"

#include <math.h>
#include <stdlib.h>

#define R HFI_GAS_CONSTANT

HFI_VALUE(hfi_first_order_value)
{
    (void)user;
    *y = b[1] + (b[0] - b[1]) * exp(-b[2] * x[0]);
    return HF_OK;
}

HFI_GRADIENT(hfi_first_order_gradient)
{
    (void)user;
    const double e = exp(-b[2] * x[0]);
    g[0] = e;
    g[1] = 1 - e;
    g[2] = -x[0] * (b[0] - b[1]) * e;
    return HF_OK;
}

/* First and last value in the order of x, and the x where the middle between them is first passed. */
static void ends(size_t n, const double *x, const double *y, double *first, double *last,
                 double *half)
{
    size_t early = 0, late = 0;
    for (size_t i = 1; i < n; i++) {
        early = x[i] < x[early] ? i : early;
        late = x[i] > x[late] ? i : late;
    }
    *first = y[early];
    *last = y[late];
    const double middle = 0.5 * (*first + *last);
    *half = 0.3 * x[late];
    double nearest = HUGE_VAL;
    for (size_t i = 0; i < n; i++)
        if (x[i] > 0 && fabs(y[i] - middle) < nearest) {
            nearest = fabs(y[i] - middle);
            *half = x[i];
        }
}

HFI_STARTER(hfi_first_order_starter)
{
    (void)user;
    double first, last, half;
    ends(n, x, y, &first, &last, &half);
    const double given = b[1];
    b[0] = first;
    b[1] = isfinite(given) ? given : last;
    b[2] = 0.7 / half;
    if (isfinite(given)) { /* ln((y - rest)/(start - rest)) at the half point */
        const double middle = (0.5 * (first + last) - given) / (first - given);
        if (middle > 0.01 && middle < 0.99)
            b[2] = -log(middle) / half;
    }
    return HF_OK;
}

/* ln of the share left, and its derivatives by k and by n. */
static int order_share(double t, double k, double order, double *share, double *by_k,
                       double *by_order)
{
    const double q = order - 1, kt = k * t, v = q * kt;
    if (v <= -1)
        return 0;
    *share = fabs(v) < 1e-5 ? -kt * (1 - v / 2 + v * v / 3) : -log1p(v) / q;
    *by_k = -t / (1 + v);
    *by_order = fabs(v) < 1e-4 ? kt * kt * (0.5 - 2 * v / 3 + 0.75 * v * v)
                               : kt * kt * (log1p(v) - v / (1 + v)) / (v * v);
    return 1;
}

HFI_VALUE(hfi_order_value)
{
    (void)user;
    double share, by_k, by_order;
    *y = b[1];
    if (order_share(x[0], b[2], b[3], &share, &by_k, &by_order))
        *y += (b[0] - b[1]) * exp(share);
    return HF_OK;
}

HFI_GRADIENT(hfi_order_gradient)
{
    (void)user;
    double share, by_k, by_order;
    g[0] = g[2] = g[3] = 0;
    g[1] = 1;
    if (order_share(x[0], b[2], b[3], &share, &by_k, &by_order)) {
        const double e = exp(share);
        g[0] = e;
        g[1] = 1 - e;
        g[2] = (b[0] - b[1]) * e * by_k;
        g[3] = (b[0] - b[1]) * e * by_order;
    }
    return HF_OK;
}

HFI_STARTER(hfi_order_starter)
{
    const hf_status status = hfi_first_order_starter(n, x, y, user, b);
    b[3] = 1.2;
    return status;
}

HFI_VALUE(hfi_arrhenius_log_value)
{
    (void)user;
    if (!(x[0] > 0))
        return HF_ERANGE;
    *y = b[1] - b[0] / (R * x[0]);
    return HF_OK;
}

HFI_GRADIENT(hfi_arrhenius_log_gradient)
{
    (void)user;
    (void)b;
    g[0] = -1 / (R * x[0]);
    g[1] = 1;
    return HF_OK;
}

HFI_VALUE(hfi_arrhenius_value)
{
    const hf_status status = hfi_arrhenius_log_value(x, b, user, y);
    if (status == HF_OK)
        *y = exp(*y);
    return status;
}

HFI_GRADIENT(hfi_arrhenius_gradient)
{
    double value = 0;
    const hf_status status = hfi_arrhenius_value(x, b, user, &value);
    g[0] = -value / (R * x[0]);
    g[1] = value;
    return status;
}

/* Line through z(x, y) over 1/(R x): out[0] its fall, out[1] its height. */
static hf_status plot(size_t n, const double *x, const double *y, double (*z)(double x, double y),
                      double (*at)(double x, double y), double *out)
{
    double *rows = malloc(3 * n * sizeof *rows), c[2];
    if (!rows)
        return HF_ENOMEM;
    double *height = rows + 2 * n;
    size_t used = 0;
    for (size_t i = 0; i < n; i++) {
        const double value = z(x[i], y[i]);
        if (!isfinite(value))
            continue;
        rows[2 * used] = -1 / (R * at(x[i], y[i]));
        rows[2 * used + 1] = 1;
        height[used++] = value;
    }
    const int good = used >= 2 && hfi_guess_linear(used, 2, rows, height, c, NULL);
    if (good) {
        out[0] = c[0];
        out[1] = c[1];
    }
    free(rows);
    return HF_OK;
}

static double log_rate(double x, double y)
{
    (void)x;
    return y > 0 ? log(y) : (double)NAN;
}

static double rate_itself(double x, double y)
{
    (void)x;
    return y;
}

static double temperature_x(double x, double y)
{
    (void)y;
    return x;
}

HFI_STARTER(hfi_arrhenius_starter)
{
    (void)user;
    return plot(n, x, y, log_rate, temperature_x, b);
}

HFI_STARTER(hfi_arrhenius_log_starter)
{
    (void)user;
    return plot(n, x, y, rate_itself, temperature_x, b);
}

/* u of the head comment; Newton from the right overshoots once, then climbs. */
static hf_status kissinger_u(double rate, const double *b, double *u)
{
    if (!(rate > 0 && b[0] > 0))
        return HF_ERANGE;
    const double right = b[1] + log(b[0] / (R * rate));
    double at = right > 3 ? right - 2 * log(right) + 1 : 1;
    for (int i = 0; i < 100; i++) {
        const double next = at - (at + 2 * log(at) - right) / (1 + 2 / at);
        const double safe = next > 0 ? next : at / 4;
        if (fabs(safe - at) <= 1e-15 * at) {
            at = safe;
            break;
        }
        at = safe;
    }
    *u = at;
    return at > 1e-6 && isfinite(at) ? HF_OK : HF_ERANGE;
}

HFI_VALUE(hfi_kissinger_value)
{
    (void)user;
    double u;
    const hf_status status = kissinger_u(x[0], b, &u);
    if (status == HF_OK)
        *y = b[0] / (R * u);
    return status;
}

HFI_GRADIENT(hfi_kissinger_gradient)
{
    (void)user;
    double u;
    const hf_status status = kissinger_u(x[0], b, &u);
    if (status != HF_OK)
        return status;
    const double temperature = b[0] / (R * u), du = 1 / (1 + 2 / u); /* by ln A, and by ln E */
    g[0] = temperature / b[0] * (1 - du / u);
    g[1] = -temperature / u * du;
    return HF_OK;
}

static double log_kissinger(double x, double y)
{
    return x > 0 && y > 0 ? log(x / (y * y)) : (double)NAN;
}

static double temperature_y(double x, double y)
{
    (void)x;
    return y;
}

HFI_STARTER(hfi_kissinger_starter)
{
    (void)user;
    double line[2] = {(double)NAN, (double)NAN};
    const hf_status status = plot(n, x, y, log_kissinger, temperature_y, line);
    if (line[0] > 0) { /* ln(rate/T^2) = ln(A R/E) - E/(R T) */
        b[0] = line[0];
        b[1] = line[1] + log(line[0] / R);
    }
    return status;
}
