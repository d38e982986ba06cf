/*
 * Water entering or leaving a cylinder of constant diffusivity, tau = D t/a^2.
 *
 *   share = 1 - sum 4/z_n^2 exp(-z_n^2 tau),  J0(z_n) = 0                        surface at its final value
 *   share = 1 - sum 4 L^2/[z_n^2 (z_n^2 + L^2)] exp(-z_n^2 tau),  z J1(z) = L J0(z)   film, L = h a/D
 *
 * h is the coefficient of the film on the scale of concentration in the fibre. Below tau = 0.01 the first
 * series is replaced by its expansion for short times, 2 sum a_k tau^((1+k)/2)/Gamma((3+k)/2), a_k those of
 * I1(q)/I0(q) for large q, from the Riccati equation of that ratio: a_m = [(m - 2) a_(m-1) - sum a_i a_(m-i)]/2.
 * The film series is cut where its terms fall below 1e-16 or after 400; what is lost is below
 * 4 L^2/(3 pi^4 400^3), so the earliest uptake is short by 2e-8 at L = 10 and 2e-6 at L = 100.
 *
 * Sources: crank1975 (memory, verified by computation); mathworld-bessel (zeros).
 */
#include "models.h"

#include <math.h>

#include <gsl/gsl_sf_bessel.h>

#define PI          3.14159265358979323846
#define SHORT       0.01
#define SHORT_TERMS 14
#define TERMS       400

static double short_time(double tau, double *slope)
{
    const double root = sqrt(tau);
    double a[SHORT_TERMS] = {1}, power = root, gamma = sqrt(PI) / 2, next = 1, sum = 0, rise = 0;
    /* gamma = Gamma((3 + k)/2), next = Gamma((4 + k)/2) */
    for (int k = 0; k < SHORT_TERMS; k++) {
        if (k > 0) {
            double cross = 0;
            for (int i = 1; i < k; i++)
                cross += a[i] * a[k - i];
            a[k] = ((k - 2) * a[k - 1] - cross) / 2;
        }
        const double term = 2 * a[k] * power / gamma;
        sum += term;
        rise += term * (1 + k) / 2;
        power *= root;
        const double after = gamma * (3 + k) / 2;
        gamma = next;
        next = after;
    }
    if (slope)
        *slope = tau > 0 ? rise / tau : HUGE_VAL;
    return sum;
}

double hfi_uptake_share(double tau, double *slope)
{
    if (tau < SHORT)
        return short_time(tau, slope);
    double left = 0, fall = 0;
    for (unsigned n = 1; n <= 40; n++) {
        const double z = gsl_sf_bessel_zero_J0(n), e = exp(-z * z * tau);
        left += 4 / (z * z) * e;
        fall += 4 * e;
        if (z * z * tau > 40)
            break;
    }
    if (slope)
        *slope = fall;
    return 1 - left;
}

/* Parameters: diffusivity, start, final, radius. */
HFI_VALUE(hfi_uptake_value)
{
    (void)user;
    if (!(b[0] > 0 && b[3] > 0 && x[0] >= 0))
        return HF_ERANGE;
    *y = b[1] + (b[2] - b[1]) * hfi_uptake_share(b[0] * x[0] / (b[3] * b[3]), NULL);
    return HF_OK;
}

HFI_GRADIENT(hfi_uptake_gradient)
{
    (void)user;
    if (!(b[0] > 0 && b[3] > 0 && x[0] >= 0))
        return HF_ERANGE;
    const double tau = b[0] * x[0] / (b[3] * b[3]);
    double slope = 0;
    const double share = hfi_uptake_share(tau, &slope);
    const double rise = tau > 0 ? (b[2] - b[1]) * slope * tau : 0;
    g[0] = rise / b[0];
    g[1] = 1 - share;
    g[2] = share;
    g[3] = -2 * rise / b[3];
    return HF_OK;
}

/* start, final, and D from the time of the middle, reached at tau = `middle`. */
static void guess(size_t n, const double *x, const double *y, double middle, double *diffusivity,
                  double *start, double *final, double radius)
{
    size_t early = 0, late = 0;
    for (size_t i = 1; i < n; i++) {
        early = x[i] < x[early] ? i : early;
        late = x[i] > x[late] ? i : late;
    }
    *start = isfinite(*start) ? *start : y[early];
    *final = isfinite(*final) ? *final : y[late];
    double half = 0.3 * x[late], nearest = HUGE_VAL;
    for (size_t i = 0; i < n; i++) {
        const double off = fabs(y[i] - 0.5 * (*start + *final));
        if (x[i] > 0 && off < nearest) {
            nearest = off;
            half = x[i];
        }
    }
    *diffusivity = half > 0 ? middle * radius * radius / half : (double)NAN;
}

HFI_STARTER(hfi_uptake_starter)
{
    (void)user;
    guess(n, x, y, 0.0631, &b[0], &b[1], &b[2], b[3]);
    return HF_OK;
}

/* Root n (from 1) of z J1(z) = L J0(z): between zero n - 1 of J1 and zero n of J0, where the left less the right
 * changes sign. Start: J0, J1 are close to cos, sin of z - pi/4 over the root of z. */
static double film_root(unsigned n, double film)
{
    double low = n > 1 ? gsl_sf_bessel_zero_J1(n - 1) : 0, high = gsl_sf_bessel_zero_J0(n);
    const double sign = n % 2 ? 1 : -1;
    double z = n == 1 ? high * sqrt(film / (film + 3)) : (n - 0.75) * PI + atan(film / low);
    for (int i = 0; i < 60; i++) {
        const double j0 = gsl_sf_bessel_J0(z), j1 = gsl_sf_bessel_J1(z);
        const double f = z * j1 - film * j0, slope = z * j0 + film * j1;
        if (sign * f > 0)
            high = z;
        else
            low = z;
        double next = z - f / slope;
        if (!(next > low && next < high))
            next = 0.5 * (low + high);
        const int done =
            fabs(next - z) <= 1e-13 * z; /* the step after this one is below rounding */
        z = next;
        if (done)
            break;
    }
    return z;
}

/* Parameters: diffusivity, film, start, final, radius. The roots are found once for all times. */
HFI_VALUES(hfi_film_values)
{
    (void)user;
    const double diffusivity = b[0], film = b[1], radius = b[4];
    if (!(diffusivity > 0 && film > 0 && radius > 0))
        return HF_ERANGE;
    double least = HUGE_VAL;
    for (size_t i = 0; i < n; i++) {
        if (!(x[i] >= 0))
            return HF_ERANGE;
        const double tau = diffusivity * x[i] / (radius * radius);
        least = x[i] > 0 ? fmin(least, tau) : least;
        y[i] = 1;
    }
    for (unsigned k = 1; k <= TERMS; k++) {
        const double z = film_root(k, film);
        const double weight = 4 * film * film / (z * z * (z * z + film * film));
        for (size_t i = 0; i < n; i++)
            y[i] -= weight * exp(-z * z * diffusivity * x[i] / (radius * radius));
        if (z * z * least > 40 || weight < 1e-16)
            break;
    }
    for (size_t i = 0; i < n; i++)
        y[i] = b[2] + (b[3] - b[2]) * (x[i] > 0 ? y[i] : 0);
    return HF_OK;
}

HFI_STARTER(hfi_film_starter)
{
    (void)user;
    b[1] = isfinite(b[1]) ? b[1] : 5;
    guess(n, x, y, 0.143, &b[0], &b[2], &b[3], b[4]);
    return HF_OK;
}
