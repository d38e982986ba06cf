/* What textbooks and independent computations say of diffusion in a cylinder of radius 1,
 * tau = D t/a^2, for every test that runs one.
 *
 * Sources: crank1975 ch. 5 (series, from memory, summed here with Bessel functions of GSL);
 * cengel-tables Table 4-2 (read); barenblatt (exact, from memory, checked by substitution); times for
 * D = exp(k u): reference numbers of an independent computation (even cells, other time stepping, 400 to
 * 1600 cells, change below 1e-6), own-judgement. Digits called "printed" without a table were summed
 * from the same series by an independent program and check the summation here. */
#ifndef HFI_TESTS_CYLINDER_TABLES_H
#define HFI_TESTS_CYLINDER_TABLES_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include <gsl/gsl_sf_bessel.h>

/* ---- constant D, surface step: crank1975 chapter 5 --------------------------------------------- */

/* M_t/M_inf = 1 - sum 4/a_n^2 exp(-a_n^2 tau), J0(a_n) = 0 */
static inline double series_uptake(double tau)
{
    double sum = 0.0;
    for (unsigned n = 1; n <= 400; n++) {
        const double a = gsl_sf_bessel_zero_J0(n);
        sum += 4.0 / (a * a) * exp(-a * a * tau);
    }
    return 1.0 - sum;
}

/* c/c_surface = 1 - sum 2 J0(a_n r)/(a_n J1(a_n)) exp(-a_n^2 tau) */
static inline double series_value(double r, double tau)
{
    double sum = 0.0;
    for (unsigned n = 1; n <= 100; n++) {
        const double a = gsl_sf_bessel_zero_J0(n);
        sum += 2.0 * gsl_sf_bessel_J0(a * r) / (a * gsl_sf_bessel_J1(a)) * exp(-a * a * tau);
    }
    return 1.0 - sum;
}

#define TIMES 10
static const double times[TIMES] = {0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0};
/* Digits of an independent summation of the same series. */
static const double printed_uptake[TIMES] = {0.07035889, 0.15450707, 0.21547394, 0.29856391,
                                             0.45212100, 0.60582419, 0.78214755, 0.87797153,
                                             0.96162129, 0.99787045};

#define FRACTIONS 8
static const double fraction[FRACTIONS] = {0.1,  0.25, 0.5,  0.63212055882855767,
                                           0.75, 0.9,  0.95, 0.99};
static const double fraction_tau[FRACTIONS] = {0.00204536, 0.01368620, 0.06305819, 0.11126588,
                                               0.17638543, 0.33441325, 0.45426076, 0.73255639};

static const double profile_tau[4] = {0.05, 0.1, 0.2, 0.5}, profile_r[3] = {0.0, 0.5, 0.9};
static const double printed_profile[4][3] = {{0.01290078, 0.16445763, 0.79553901},
                                             {0.15164489, 0.38975321, 0.87334371},
                                             {0.49851314, 0.66202567, 0.93390486},
                                             {0.91111028, 0.94044992, 0.98841991}};

/* ---- a film on the surface: crank1975 chapter 5, cengel-tables Table 4-2 ------------------------ */

static inline double film_equation(double b, double film)
{
    return b * gsl_sf_bessel_J1(b) - film * gsl_sf_bessel_J0(b);
}

/* Root n of b J1(b) = L J0(b): between zero n-1 of J1 and zero n of J0; by bisection. */
static inline double film_root(unsigned n, double film)
{
    double low = n > 1 ? gsl_sf_bessel_zero_J1(n - 1) : 0.0, high = gsl_sf_bessel_zero_J0(n);
    const bool rising = film_equation(low, film) < 0.0;
    for (size_t i = 0; i < 60; i++) {
        const double b = 0.5 * (low + high);
        if ((film_equation(b, film) < 0.0) == rising)
            low = b;
        else
            high = b;
    }
    return 0.5 * (low + high);
}

/* M_t/M_inf = 1 - sum 4 L^2 exp(-b_n^2 tau)/(b_n^2 (b_n^2 + L^2)) */
static inline double film_uptake(double film, double tau)
{
    double sum = 0.0;
    for (unsigned n = 1; n <= 60; n++) {
        const double b = film_root(n, film);
        sum += 4.0 * film * film * exp(-b * b * tau) / (b * b * (b * b + film * film));
    }
    return 1.0 - sum;
}

#define FILM_ROWS 8
static const struct {
    double film, root[3], uptake[3], half;
} film_row[FILM_ROWS] = {
    /* digits of an independent computation; the first root is checked with the table below */
    {0.01, {0.14124476, 3.83431488, 7.01701192}, {0.001995, 0.009928, 0.019754}, 34.74397},
    {0.1, {0.44168178, 3.85770991, 7.02982523}, {0.019478, 0.093119, 0.177401}, 3.552051},
    {0.5, {0.94077056, 3.95937119, 7.08638085}, {0.088032, 0.360511, 0.589185}, 0.778017},
    {1.0, {1.25578371, 4.07947771, 7.15579917}, {0.156734, 0.552616, 0.796653}, 0.429501},
    {2.0, {1.59944921, 4.29095846, 7.28838891}, {0.255428, 0.734610, 0.926148}, 0.252688},
    {5.0, {1.98981471, 4.71314229, 7.61770771}, {0.402603, 0.879545, 0.983364}, 0.142553},
    {10.0, {2.17949660, 5.03321198, 7.95688342}, {0.490016, 0.925235, 0.993046}, 0.103842},
    {100.0, {2.38090166, 5.46520700, 8.56783165}, {0.593153, 0.958563, 0.997565}, 0.067249},
};
static const double film_tau[3] = {0.1, 0.5, 1.0};

/* Cengel, Table 4-2: late cooling at the axis is A1 exp(-lambda1^2 Fo). */
#define LONG_ROWS 11
static const struct {
    double film, lambda, amplitude;
} long_row[LONG_ROWS] = {
    {0.01, 0.1412, 1.0025}, {0.1, 0.4417, 1.0246}, {0.2, 0.6170, 1.0483},  {0.3, 0.7465, 1.0712},
    {0.5, 0.9408, 1.1143},  {1.0, 1.2558, 1.2071}, {2.0, 1.5995, 1.3384},  {3.0, 1.7887, 1.4191},
    {4.0, 1.9081, 1.4698},  {5.0, 1.9898, 1.5029}, {10.0, 2.1795, 1.5677},
};

/* Temperatures of the axis, full series, five digits. */
#define AXIS_ROWS 4
static const struct {
    double film, fourier, want;
} axis_row[AXIS_ROWS] = {
    {0.1, 1.0, 0.84299}, {1.0, 0.5, 0.54859}, {HUGE_VAL, 0.2, 0.50149}, {HUGE_VAL, 0.1, 0.84836}};

/* ---- D of the content -------------------------------------------------------------------------- */

#define EXPONENTIAL_ROWS 4
static const double exponential_fraction[4] = {0.25, 0.5, 0.75, 0.9};
static const struct {
    double ratio, start;
    double tau[4];
} exponential_row[EXPONENTIAL_ROWS] = {
    {10.0, 0.0, {0.002747, 0.012434, 0.033329, 0.057281}},
    {10.0, 1.0, {0.005282, 0.025815, 0.084741, 0.197418}},
    {100.0, 0.0, {0.000450, 0.002027, 0.005381, 0.009061}},
    {100.0, 1.0, {0.001560, 0.008984, 0.040620, 0.123960}},
};

/* barenblatt: u = t^-1/2 - r^2/(8 t) inside r = 8^1/2 t^1/4, total 4 pi. */
static inline double barenblatt(double r, double t)
{
    const double u = 1.0 / sqrt(t) - r * r / (8.0 * t);
    return u > 0.0 ? u : 0.0;
}

/* Exact average between squared radii a and b: u is linear in r^2. */
static inline double barenblatt_average(double a, double b, double t)
{
    const double front = 8.0 * sqrt(t), top = b < front ? b : front;
    if (a >= front)
        return 0.0;
    return 0.5 * (barenblatt(sqrt(a), t) + barenblatt(sqrt(top), t)) * (top - a) / (b - a);
}

/* At t = 2: u at r = 0, 1, 2, and the front. */
static const double barenblatt_want[3] = {0.70710678, 0.64460678, 0.45710678};
#define barenblatt_front 3.36358566

#endif
