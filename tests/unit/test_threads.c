/* Eight threads at once get the same bits as one alone: nothing in the library is shared in secret. */
#include "fit_tools.h"

#include <hairfibre/ensemble.h>
#include <hairfibre/quantity.h>
#include <hairfibre/treatment.h>
#include <hairfibre/uncertainty.h>

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

#define THREADS 8

/* The assertions of cmocka end the thread that calls them, so a worker only writes down what it got: numbers,
 * statuses among them, in the order of the work. What differs is told afterwards. */
typedef struct {
    double *numbers;
    size_t count, room;
    size_t failures;
} notes;

/* What all threads may share: "everything const". */
typedef struct {
    const hf_parameters *set;
    const hf_fibre *fibre;
} shared;

static void note(notes *n, double x)
{
    if (n->count == n->room) {
        const size_t room = n->room ? 2 * n->room : 4096;
        double *more = realloc(n->numbers, room * sizeof *more);
        if (!more) {
            n->failures++;
            return;
        }
        n->numbers = more;
        n->room = room;
    }
    n->numbers[n->count++] = x;
}

static void note_all(notes *n, const double *x, size_t count)
{
    for (size_t i = 0; i < count; i++)
        note(n, x[i]);
}

/* Arguments at their usual values, or in the middle of what evidence supports where there is none. */
static void usual_arguments(const hf_quantity *q, double *x)
{
    for (size_t k = 0; k < q->argument_count; k++) {
        const hf_argument *a = &q->arguments[k];
        const double high = isinf(a->valid_high) ? a->valid_low + 1 : a->valid_high;
        const double low = isinf(a->valid_low) ? high - 1 : a->valid_low;
        x[k] = !isnan(a->usual)            ? a->usual
               : a->kind == HF_KIND_CHOICE ? a->valid_low
                                           : 0.5 * (low + high);
    }
}

static void quantities(notes *n, const shared *s)
{
    for (size_t i = 0; i < hf_quantity_count(); i++) {
        const hf_quantity *q = hf_quantity_at(i);
        for (int own = 0; own < 2; own++) {
            double x[HF_ARGUMENTS_MAX], y = -7;
            hf_message message;
            usual_arguments(q, x);
            note(n, hf_quantity_evaluate(q, x, own ? s->set : NULL, HF_EXTRAPOLATE, &y, &message));
            note(n, y);
        }
    }
}

static void ranges(notes *n, const shared *s)
{
    for (size_t i = 0; i < hf_quantity_count(); i += 5) {
        const hf_quantity *q = hf_quantity_at(i);
        double x[HF_ARGUMENTS_MAX], y[3] = {-7, -7, -7};
        usual_arguments(q, x);
        note(n, hf_quantity_range(q, x, s->set, HF_EXTRAPOLATE, &y[0], &y[1], &y[2], NULL));
        note_all(n, y, 3);
    }
}

static void treatment(notes *n, const shared *s)
{
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    options.cells = 30;
    hf_step steps[] = {HF_STEP_INIT(HF_STEP_SOAK, 30), HF_STEP_INIT(HF_STEP_BLOT, 0),
                       HF_STEP_INIT(HF_STEP_PLATES, 0.5), HF_STEP_INIT(HF_STEP_REST, 60)};
    steps[0].temperature = 303.15;
    steps[2].temperature = 433.15;
    hf_simulation *simulation = NULL;
    const hf_status made = hf_simulation_new(&simulation, s->fibre, NULL, &options, NULL);
    note(n, made);
    if (hf_failed(made)) {
        n->failures++;
        return;
    }
    note(n, hf_simulation_run(simulation, steps, COUNT(steps)));
    for (size_t c = 0; c < HF_COLUMNS; c++)
        note_all(n, hf_simulation_column(simulation, (hf_column)c),
                 hf_simulation_samples(simulation));
    hf_event event;
    for (size_t i = 0; hf_simulation_event(simulation, i, &event) == HF_OK; i++)
        note(n, event.time);
    hf_simulation_free(simulation);
}

static void fits(notes *n, const shared *s)
{
    (void)s;
    const double *both[] = {wood_up, wood_down};
    for (size_t k = 0; k < 2; k++) {
        hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
        hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
        hf_fit *fit = NULL;
        note(n, hf_model_describe(hf_model_find("gab"), &d, p));
        d.points = COUNT(wood_a);
        d.x = wood_a;
        d.y = both[k];
        if (hf_failed(hf_fit_new(&fit, &d, NULL))) {
            n->failures++;
            return;
        }
        note(n, hf_fit_run(fit));
        for (size_t j = 0; j < 3; j++) {
            hf_fit_estimate e = {0};
            hf_interval interval = {0};
            note(n, hf_fit_get_estimate(fit, j, &e));
            note(n, e.value);
            note(n, e.standard_error);
            note(n, hf_fit_profile(fit, j, 0.95, &interval));
            note(n, interval.low);
            note(n, interval.high);
        }
        hf_fit_free(fit);
    }
}

static void propagated(notes *n, const shared *s)
{
    static const char *const asked[] = {"regain", "helix_rate_ironing", "diffusivity"};
    for (size_t i = 0; i < COUNT(asked); i++) {
        const hf_quantity *q = hf_quantity_find(asked[i]);
        hf_propagation_options options = HF_PROPAGATION_OPTIONS_INIT;
        hf_propagation out = {0};
        double x[HF_ARGUMENTS_MAX], values[256] = {0};
        if (!q) {
            n->failures++;
            return;
        }
        options.draws = COUNT(values);
        usual_arguments(q, x);
        note(n, hf_propagate(q, x, s->set, HF_EXTRAPOLATE, &options, values, &out, NULL));
        note(n, out.value);
        note_all(n, values, COUNT(values));
    }
}

/* Threads of its own inside each of the eight. */
static void ensembles(notes *n, const shared *s)
{
    hf_step steps[] = {HF_STEP_INIT(HF_STEP_SOAK, 30), HF_STEP_INIT(HF_STEP_PLATES, 0.5)};
    steps[0].temperature = 303.15;
    steps[1].temperature = 433.15;
    hf_ensemble_plan plan = HF_ENSEMBLE_PLAN_INIT;
    plan.steps = steps;
    plan.step_count = COUNT(steps);
    plan.strands = 6;
    plan.simulation.cells = 20;
    plan.simulation.lumped = 1;
    plan.population = hf_population_at(0);
    hf_ensemble *ensemble = NULL;
    if (hf_failed(hf_ensemble_new(&ensemble, &plan, s->set, NULL))) {
        n->failures++;
        return;
    }
    hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
    control.threads = 2;
    note(n, hf_ensemble_run(ensemble, &control));
    for (size_t c = 0; c < HF_STRAND_COLUMNS; c++)
        note_all(n, hf_ensemble_column(ensemble, (hf_strand_column)c), plan.strands);
    hf_ensemble_free(ensemble);
}

static void (*const work[])(notes *, const shared *) = {quantities, ranges,     treatment,
                                                        fits,       propagated, ensembles};
static const char *const names[] = {"quantities", "ranges",      "treatment",
                                    "fits",       "propagation", "ensemble"};
#define PIECES COUNT(work)

typedef struct {
    notes piece[PIECES];
    const shared *shared;
    size_t
        first; /* piece that this worker begins with, so that unlike pieces run side by side too */
    pthread_barrier_t *together;
} worker;

static void *run_worker(void *argument)
{
    worker *w = argument;
    if (w->together)
        (void)pthread_barrier_wait(w->together);
    for (size_t i = 0; i < PIECES; i++) {
        const size_t k = (w->first + i) % PIECES;
        work[k](&w->piece[k], w->shared);
    }
    return NULL;
}

static void forget(worker *w)
{
    for (size_t k = 0; k < PIECES; k++)
        free(w->piece[k].numbers);
}

static void test_eight_threads(void **unused)
{
    (void)unused;
    hf_parameters *set = NULL;
    hf_fibre *fibre = NULL;
    const hf_fibre_description usual = HF_FIBRE_DESCRIPTION_INIT;
    assert_int_equal(hf_parameters_new(&set, "bleached"), HF_OK);
    assert_int_equal(hf_fibre_new(&fibre, &usual, set, NULL), HF_OK);
    const shared s = {set, fibre};

    /* The threads come first: whatever is set up once is set up by eight at a time. */
    static worker eight[THREADS];
    pthread_t threads[THREADS];
    pthread_barrier_t together;
    assert_int_equal(pthread_barrier_init(&together, NULL, THREADS), 0);
    for (size_t i = 0; i < THREADS; i++) {
        eight[i].shared = &s;
        eight[i].first = i % PIECES;
        eight[i].together = &together;
        assert_int_equal(pthread_create(&threads[i], NULL, run_worker, &eight[i]), 0);
    }
    for (size_t i = 0; i < THREADS; i++)
        assert_int_equal(pthread_join(threads[i], NULL), 0);
    (void)pthread_barrier_destroy(&together);

    static worker alone;
    alone.shared = &s;
    (void)run_worker(&alone);

    for (size_t k = 0; k < PIECES; k++) {
        const notes *want = &alone.piece[k];
        assert_int_equal(want->failures, 0);
        assert_true(want->count > 10);
        for (size_t i = 0; i < THREADS; i++) {
            const notes *got = &eight[i].piece[k];
            if (got->failures || got->count != want->count)
                fail_msg("%s, thread %zu: %zu numbers, %zu alone", names[k], i, got->count,
                         want->count);
            for (size_t j = 0; j < want->count; j++)
                if (memcmp(&got->numbers[j], &want->numbers[j], sizeof(double)) != 0)
                    fail_msg("%s, thread %zu, number %zu: %.17g, alone %.17g", names[k], i, j,
                             got->numbers[j], want->numbers[j]);
        }
    }
    for (size_t i = 0; i < THREADS; i++)
        forget(&eight[i]);
    forget(&alone);
    hf_fibre_free(fibre);
    hf_parameters_free(set);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_eight_threads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
