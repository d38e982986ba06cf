/* How time grows with size: cells of a fibre, strands of an ensemble, points of a fit, points of a list, threads. Rows
 * name,value,unit,target with the exponents of straight lines through the logarithms. With a file as argument also
 * every point, as curve,size,seconds. */
#include <hairfibre.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define SIZES_MAX 8

static double clock_of(clockid_t id)
{
    struct timespec t;
    clock_gettime(id, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void die(const char *what)
{
    fprintf(stderr, "bench_growth: %s\n", what);
    exit(1);
}

/* One run of a size; what it computes must not be dropped by the compiler. */
typedef void (*job)(size_t size);

static void treat(size_t cells)
{
    const hf_fibre_description description = HF_FIBRE_DESCRIPTION_INIT;
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    hf_step step[] = {HF_STEP_INIT(HF_STEP_SOAK, 600), HF_STEP_INIT(HF_STEP_BLOT, 0),
                      HF_STEP_INIT(HF_STEP_PLATES, 1), HF_STEP_INIT(HF_STEP_REST, 600)};
    step[0].temperature = 298.15;
    step[2].temperature = 473.15;
    options.cells = cells;
    hf_fibre *fibre;
    hf_simulation *s;
    if (hf_fibre_new(&fibre, &description, NULL, NULL) != HF_OK ||
        hf_simulation_new(&s, fibre, NULL, &options, NULL) != HF_OK ||
        hf_simulation_run(s, step, 4) != HF_OK)
        die("a treatment failed");
    hf_simulation_free(s);
    hf_fibre_free(fibre);
}

static void ensemble(size_t strands, int threads)
{
    hf_step step[] = {HF_STEP_INIT(HF_STEP_SOAK, 600), HF_STEP_INIT(HF_STEP_BLOT, 0),
                      HF_STEP_INIT(HF_STEP_PLATES, 1), HF_STEP_INIT(HF_STEP_REST, 600)};
    step[0].temperature = 293.15;
    step[2].temperature = 473.15;
    hf_ensemble_plan plan = HF_ENSEMBLE_PLAN_INIT;
    hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
    plan.steps = step;
    plan.step_count = 4;
    plan.strands = strands;
    plan.population = hf_population_find("caucasian");
    control.threads = threads;
    hf_ensemble *e;
    if (hf_ensemble_new(&e, &plan, NULL, NULL) != HF_OK || hf_ensemble_run(e, &control) != HF_OK)
        die("an ensemble failed");
    hf_ensemble_free(e);
}

static void strands_of(size_t size)
{
    ensemble(size, 1);
}

static void threads_of(size_t size)
{
    ensemble(200, (int)size);
}

static void fit(size_t points)
{
    double *a = malloc(2 * points * sizeof *a), *w = a + points;
    if (!a)
        die("out of memory");
    for (size_t i = 0; i < points; i++) {
        a[i] = 0.04 + 0.9 * (double)i / (double)points;
        w[i] = 0.7128 * a[i] / ((1 - 0.72 * a[i]) * (1 + 7.2 * a[i])) +
               0.001 * ((double)(i * 7 % 5) - 2);
    }
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    hf_fit *f;
    if (hf_model_describe(hf_model_find("gab"), &d, p) != HF_OK)
        die("no model");
    d.points = points;
    d.x = a;
    d.y = w;
    if (hf_fit_new(&f, &d, NULL) != HF_OK || hf_fit_run(f) != HF_OK)
        die("a fit failed");
    hf_fit_free(f);
    free(a);
}

static void list(size_t points)
{
    double *a = malloc(2 * points * sizeof *a);
    if (!a)
        die("out of memory");
    for (size_t i = 0; i < points; i++)
        a[i] = 280 + 200 * (double)i / (double)points;
    if (hf_saturation_pressure_v(points, a, HF_STRICT, a + points, NULL) != HF_OK)
        die("a list failed");
    free(a);
}

/* Best of several runs. */
static double time_of(job run, size_t size, int wall, double budget)
{
    const clockid_t id = wall ? CLOCK_MONOTONIC : CLOCK_PROCESS_CPUTIME_ID;
    double best = HUGE_VAL, used = 0;
    for (int i = 0; i < 1000 && (i < 3 || used < budget); i++) {
        const double start = clock_of(id);
        run(size);
        const double took = clock_of(id) - start;
        best = fmin(best, took);
        used += took;
    }
    return best;
}

typedef struct curve {
    const char *word, *row, *target;
    job run;
    size_t count, size[SIZES_MAX];
    int wall;
} curve;

static void follow(const curve *c, FILE *out)
{
    double sx = 0, sy = 0, sxx = 0, sxy = 0;
    const double n = (double)c->count;
    for (size_t i = 0; i < c->count; i++) {
        const double took = time_of(c->run, c->size[i], c->wall, 0.3);
        const double x = log((double)c->size[i]), y = log(took);
        if (out)
            fprintf(out, "%s,%zu,%.6g\n", c->word, c->size[i], took);
        sx += x;
        sy += y;
        sxx += x * x;
        sxy += x * y;
    }
    if (c->count > 1)
        printf("growth: exponent of %s,%.2f,1,%s\n", c->row,
               (n * sxy - sx * sy) / (n * sxx - sx * sx), c->target);
}

int main(int argc, char **argv)
{
    curve curves[] = {
        {"cells",
         "a treatment over cells; 30 to 480",
         "<= 1.15",
         treat,
         5,
         {30, 60, 120, 240, 480},
         0},
        {"strands",
         "an ensemble over strands; 50 to 800",
         "<= 1.1",
         strands_of,
         5,
         {50, 100, 200, 400, 800},
         0},
        {"fit",
         "a fit over points; 100 to 25 600",
         "<= 1.2",
         fit,
         5,
         {100, 400, 1600, 6400, 25600},
         0},
        {"list",
         "a list over points; 1000 to 256 000",
         "<= 1.1",
         list,
         5,
         {1000, 4000, 16000, 64000, 256000},
         0},
        {"threads", "an ensemble over threads", "<= -0.8", threads_of, 0, {0}, 1},
    };
    const size_t count = sizeof curves / sizeof *curves;
    const char *processors = getenv("BENCH_THREADS");
    const int threads = processors ? atoi(processors) : 2;
    for (size_t k = 1; k <= (size_t)threads && curves[count - 1].count < SIZES_MAX; k *= 2)
        curves[count - 1].size[curves[count - 1].count++] = k;
    FILE *out = argc > 1 ? fopen(argv[1], "w") : NULL;
    if (argc > 1 && !out)
        die("cannot write the points");
    if (out)
        fprintf(out, "curve,size,seconds\n");
    for (size_t i = 0; i < count; i++)
        follow(&curves[i], out);
    if (out && fclose(out) != 0)
        die("cannot write the points");
    return 0;
}
