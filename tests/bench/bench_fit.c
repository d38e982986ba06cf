/* Fitting: the slowest of the certified sets (nist-strd, both starts, derivatives by differences), a GAB fit with
 * its profile intervals, 1000 bootstrap replicates of GAB on 20 points, and a fit through the simulation. Best of five
 * rounds, of two for the last. */
#include "../reference/strd.h"
#include "peak.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

#define ROUNDS 5

static double clock_of(clockid_t id)
{
    struct timespec t;
    clock_gettime(id, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

/* Of the processor for what runs in one thread, so that other work on the machine does not count; of the wall for
 * the bootstrap, which takes all threads. */
static double now(void)
{
    return clock_of(CLOCK_PROCESS_CPUTIME_ID);
}

static double wall(void)
{
    return clock_of(CLOCK_MONOTONIC);
}

static double fit_time(const hf_fit_description *d)
{
    double best = HUGE_VAL;
    for (int i = 0; i < ROUNDS; i++) {
        hf_fit *fit;
        const double start = now();
        if (hf_fit_new(&fit, d, NULL) != HF_OK || hf_fit_run(fit) != HF_OK)
            return (double)NAN;
        best = fmin(best, now() - start);
        hf_fit_free(fit);
    }
    return best;
}

static hf_fit_description certified(const strd_set *set, int start, hf_fit_parameter *p)
{
    for (size_t j = 0; j < set->p; j++) {
        const hf_fit_parameter usual = HF_FIT_PARAMETER_INIT;
        p[j] = usual;
        p[j].start = set->start[start][j];
    }
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    d.points = set->n;
    d.columns = 1;
    d.x = set->x;
    d.y = set->y;
    d.parameter_count = set->p;
    d.parameters = p;
    d.value = set->value;
    return d;
}

/* 12 digits: what the other programs must reach to have solved the same. */
static void print_rss(const char *name, const hf_fit_description *d)
{
    hf_fit *fit;
    hf_fit_summary summary;
    if (hf_fit_new(&fit, d, NULL) != HF_OK)
        return;
    if (hf_fit_run(fit) == HF_OK && hf_fit_get_summary(fit, &summary) == HF_OK)
        printf("%s,%.12g,1,\n", name, summary.rss);
    hf_fit_free(fit);
}

/* Certified digits of the parameters, the fewest. */
static double digits_of(const strd_set *set, const hf_fit_description *d)
{
    double fewest = 11;
    hf_fit *fit;
    if (hf_fit_new(&fit, d, NULL) != HF_OK || hf_fit_run(fit) != HF_OK)
        return (double)NAN;
    for (size_t j = 0; j < set->p; j++) {
        hf_fit_estimate e;
        if (hf_fit_get_estimate(fit, j, &e) != HF_OK)
            return (double)NAN;
        fewest = fmin(fewest, -log10(fabs(e.value / set->b[j] - 1)));
    }
    hf_fit_free(fit);
    return fewest;
}

/* Sets that the scripts for SciPy and R fit too, from the second start. */
static void certified_rows(void)
{
    static const char *const names[] = {"Hahn1", "Thurber", "MGH09"};
    for (size_t k = 0; k < sizeof names / sizeof *names; k++)
        for (size_t i = 0; i < sizeof strd_sets / sizeof strd_sets[0]; i++) {
            const strd_set *set = &strd_sets[i];
            if (strcmp(set->name, names[k]) != 0)
                continue;
            hf_fit_parameter p[7];
            const hf_fit_description d = certified(set, 1, p);
            printf("fit: certified set %s,%.4g,ms,<= 5\n", set->name, fit_time(&d));
            printf("fit: certified set %s: digits,%.1f,digits,>= 9\n", set->name,
                   digits_of(set, &d));
        }
}

/* Weibull scale and shape of 200 lives, the largest quarter survivors. */
static void life_rows(void)
{
    enum { LIVES = 200, TIMES = 20 };
    double life[LIVES], best = HUGE_VAL;
    int observed[LIVES];
    hf_life out;
    for (int i = 0; i < LIVES; i++) {
        const double u = (i + 0.5) / LIVES;
        observed[i] = u < 0.75;
        life[i] = 1000 * pow(-log1p(-fmin(u, 0.75)), 1 / 1.5);
    }
    for (int i = 0; i < ROUNDS; i++) {
        const double start = now();
        for (int k = 0; k < TIMES; k++)
            if (hf_life_fit(LIVES, life, observed, (double)NAN, 0.95, &out, NULL) != HF_OK)
                return;
        best = fmin(best, (now() - start) / TIMES);
    }
    printf("fit: Weibull lives (200) with profile intervals,%.4g,ms,\n", best);
    printf("fit: Weibull lives (200): log-likelihood,%.12g,1,\n", out.log_likelihood);
}

static void gab_times(void)
{
    double a[20], w[20], profiles = HUGE_VAL, replicates = HUGE_VAL;
    for (int i = 0; i < 20; i++) {
        a[i] = 0.04 + 0.045 * i;
        w[i] = 0.7128 * a[i] / ((1 - 0.72 * a[i]) * (1 + 7.2 * a[i])) + 0.001 * (i * 7 % 5 - 2);
    }
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    if (hf_model_describe(hf_model_find("gab"), &d, p) != HF_OK)
        return;
    d.points = 20;
    d.x = a;
    d.y = w;
    printf("fit: GAB on 20 points,%.4g,ms,\n", fit_time(&d));
    print_rss("fit: GAB on 20 points: RSS", &d);
    for (int i = 0; i < ROUNDS; i++) {
        hf_fit *fit;
        if (hf_fit_new(&fit, &d, NULL) != HF_OK || hf_fit_run(fit) != HF_OK)
            return;
        double start = now();
        for (size_t j = 0; j < 3; j++) {
            hf_interval interval;
            if (hf_fit_profile(fit, j, 0.95, &interval) != HF_OK)
                return;
        }
        profiles = fmin(profiles, now() - start);
        start = wall();
        hf_bootstrap *b;
        if (hf_bootstrap_new(&b, fit, HF_BOOTSTRAP_PARAMETRIC, 1000, 1) != HF_OK)
            return;
        replicates = fmin(replicates, wall() - start);
        hf_bootstrap_free(b);
        hf_fit_free(fit);
    }
    printf("fit: three profile intervals of it,%.4g,ms,\n", profiles);
    printf("fit: 1000 bootstrap replicates of it,%.4g,ms,<= 1000\n", replicates);
}

/* Two steps of humidity that share diffusivity and slope: eight parameters through the simulation. */
static void simulation_time(void)
{
    enum { EACH = 30 };
    const hf_model *model = hf_model_find("radial_uptake_exponential");
    const double truth[2][7] = {{3e-13, 18, 150, 0.06, 0.15, 35e-6, 298.15},
                                {3e-13, 18, 150, 0.12, 0.2, 35e-6, 298.15}};
    static const size_t map[14] = {0, 1, 2, 3, 4, 5, 6, 0, 1, 7, 8, 9, 5, 6};
    double x[2 * EACH], y[2 * EACH], best = HUGE_VAL;
    size_t group[2 * EACH];
    for (size_t g = 0; g < 2; g++) {
        for (size_t i = 0; i < EACH; i++) {
            x[g * EACH + i] = 5 * pow((double)(i + 1) / 3, 2.2);
            group[g * EACH + i] = g;
        }
        if (model->values(EACH, x + g * EACH, truth[g], NULL, y + g * EACH) != HF_OK)
            return;
    }
    for (size_t i = 0; i < 2 * EACH; i++)
        y[i] += 2e-4 * ((double)(i * 7 % 5) - 2);
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX], all[10];
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    if (hf_model_describe(model, &d, p) != HF_OK)
        return;
    for (size_t k = 0; k < 14; k++)
        all[map[k]] = p[k % 7];
    all[2].fixed = all[7].fixed = 0; /* the film of either step */
    all[5].start = 35e-6;
    d.points = 2 * EACH;
    d.x = x;
    d.y = y;
    d.parameters = all;
    d.parameter_count = 10;
    d.model_parameters = 7;
    d.groups = 2;
    d.group = group;
    d.map = map;
    for (int i = 0; i < 2; i++) {
        hf_fit *fit;
        hf_fit_summary summary;
        const double start = now();
        if (hf_fit_new(&fit, &d, NULL) != HF_OK || hf_fit_run(fit) != HF_OK ||
            hf_fit_get_summary(fit, &summary) != HF_OK || summary.free != 8)
            return;
        best = fmin(best, now() - start);
        hf_fit_free(fit);
    }
    printf("fit: eight parameters through the simulation,%.4g,ms,<= 5000\n", best);
}

int main(void)
{
    double slowest = 0;
    for (size_t i = 0; i < sizeof strd_sets / sizeof strd_sets[0]; i++)
        for (int start = 0; start < 2; start++) {
            hf_fit_parameter p[7];
            const hf_fit_description d = certified(&strd_sets[i], start, p);
            slowest = fmax(slowest, fit_time(&d));
        }
    printf("fit: slowest certified set and start,%.4g,ms,<= 5\n", slowest);
    certified_rows();
    life_rows();
    gab_times();
    simulation_time();
    printf("fit: peak memory of the program that does these,%.1f,MB,\n", peak_memory());
    return 0;
}
