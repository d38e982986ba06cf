/* Ensembles: the same bits on any number of threads, in parts, after a stop; populations as published. */
#include "check.h"

#include <hairfibre/ensemble.h>
#include <hairfibre/strength.h>

#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

static hf_step steps[] = {HF_STEP_INIT(HF_STEP_SOAK, 60), HF_STEP_INIT(HF_STEP_BLOT, 0),
                          HF_STEP_INIT(HF_STEP_PLATES, 0.5), HF_STEP_INIT(HF_STEP_REST, 10)};

static hf_ensemble_plan plan_of(size_t strands)
{
    steps[0].temperature = 293.15;
    steps[2].temperature = 428.15;
    hf_ensemble_plan plan = HF_ENSEMBLE_PLAN_INIT;
    plan.steps = steps;
    plan.step_count = 4;
    plan.strands = strands;
    plan.population = hf_population_find("caucasian");
    plan.simulation.cells = 20;
    plan.simulation.lumped = 1;
    plan.seed = 42;
    return plan;
}

static hf_ensemble *make(const hf_ensemble_plan *plan)
{
    hf_ensemble *e = NULL;
    hf_message why = {""};
    if (hf_ensemble_new(&e, plan, NULL, &why) != HF_OK)
        fail_msg("%s", why.text);
    return e;
}

static hf_ensemble *run(const hf_ensemble_plan *plan, int threads)
{
    hf_ensemble *e = make(plan);
    hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
    control.threads = threads;
    assert_int_equal(hf_ensemble_run(e, &control), HF_OK);
    assert_int_equal(hf_ensemble_done(e), hf_ensemble_count(e));
    return e;
}

static void same(const hf_ensemble *a, const hf_ensemble *b)
{
    assert_int_equal(hf_ensemble_count(a), hf_ensemble_count(b));
    for (int c = 0; c < HF_STRAND_COLUMNS; c++)
        assert_memory_equal(hf_ensemble_column(a, (hf_strand_column)c),
                            hf_ensemble_column(b, (hf_strand_column)c),
                            hf_ensemble_count(a) * sizeof(double));
}

static void test_threads(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(60);
    for (int draws = 0; draws < 2; draws++) {
        plan.draw_parameters = draws;
        hf_ensemble *one = run(&plan, 1);
        static const int threads[] = {2, 3, 7, 0};
        for (size_t i = 0; i < 4; i++) {
            hf_ensemble *many = run(&plan, threads[i]);
            same(one, many);
            hf_ensemble_free(many);
        }
        hf_ensemble_free(one);
    }
}

/* A strand of an ensemble is what a simulation of its own gives. */
static void test_against_simulation(void **unused)
{
    (void)unused;
    for (int lumped = 0; lumped < 2; lumped++) {
        hf_ensemble_plan plan = plan_of(7);
        plan.simulation.lumped = lumped;
        plan.simulation.cells = 40;
        hf_ensemble *e = run(&plan, 1);
        for (size_t i = 0; i < 7; i++) {
            hf_fibre_description d = plan.fibre;
            d.diameter = hf_ensemble_column(e, HF_STRAND_DIAMETER)[i];
            d.ellipticity = hf_ensemble_column(e, HF_STRAND_ELLIPTICITY)[i];
            d.medulla = hf_ensemble_column(e, HF_STRAND_MEDULLA)[i];
            hf_fibre *fibre;
            hf_simulation *s;
            assert_int_equal(hf_fibre_new(&fibre, &d, NULL, NULL), HF_OK);
            assert_int_equal(hf_simulation_new(&s, fibre, &plan.room, &plan.simulation, NULL),
                             HF_OK);
            assert_int_equal(hf_simulation_run(s, steps, 4), HF_OK);
            const size_t last = hf_simulation_samples(s) - 1;
            static const struct {
                hf_strand_column kept;
                hf_column column;
            } pair[] = {{HF_STRAND_REGAIN_END, HF_COLUMN_REGAIN},
                        {HF_STRAND_DIAMETER_END, HF_COLUMN_DIAMETER},
                        {HF_STRAND_WATER_LOST, HF_COLUMN_WATER_LOST},
                        {HF_STRAND_GROWTH, HF_COLUMN_VOID_GROWTH},
                        {HF_STRAND_RADIUS, HF_COLUMN_VOID_RADIUS},
                        {HF_STRAND_CYCLES, HF_COLUMN_SWELLING_CYCLES},
                        {HF_STRAND_DISULFIDE, HF_COLUMN_DISULFIDE},
                        {HF_STRAND_CYSTEIC_ACID, HF_COLUMN_CYSTEIC_ACID},
                        {HF_STRAND_HYDROGEN_CYCLES, HF_COLUMN_HYDROGEN_CYCLES}};
            for (size_t k = 0; k < sizeof pair / sizeof pair[0]; k++)
                CHECK_CLOSE(hf_ensemble_column(e, pair[k].kept)[i],
                            hf_simulation_column(s, pair[k].column)[last], 0, 0,
                            "started over or new: the same bits");
            for (int c = 0; c < HF_CHANNELS; c++)
                CHECK_CLOSE(hf_ensemble_column(e, (hf_strand_column)(HF_STRAND_CHANNELS + c))[i],
                            hf_simulation_column(s, (hf_column)(HF_COLUMN_CHANNELS + c))[last], 0,
                            0, "started over or new: the same bits");
            double peak = 0, event_time = (double)NAN;
            for (size_t k = 0; k <= last; k++)
                peak = fmax(peak, hf_simulation_column(s, HF_COLUMN_VOID_DRIVE)[k]);
            assert_true(hf_ensemble_column(e, HF_STRAND_DRIVE)[i] >= peak * (1 - 1e-12));
            hf_event event;
            for (size_t k = 0; hf_simulation_event(s, k, &event) == HF_OK; k++)
                if (event.kind == HF_EVENT_VOIDS && isnan(event_time))
                    event_time = event.time;
            if (isnan(event_time))
                assert_true(isnan(hf_ensemble_column(e, HF_STRAND_VOIDS_AT)[i]));
            else
                CHECK_CLOSE(hf_ensemble_column(e, HF_STRAND_VOIDS_AT)[i], event_time, 0, 0,
                            "its event");
            hf_simulation_free(s);
            hf_fibre_free(fibre);
        }
        hf_ensemble_free(e);
    }
}

static void test_parts(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(23);
    hf_ensemble *whole = run(&plan, 2), *joined = make(&plan);
    size_t next = 0;
    for (size_t part = 1; part <= 4; part++) {
        plan.part = part;
        plan.parts = 4;
        hf_ensemble *e = run(&plan, 1);
        assert_int_equal(hf_ensemble_first(e), next);
        next += hf_ensemble_count(e);
        assert_int_equal(hf_ensemble_merge(joined, e), HF_OK);
        assert_int_equal(hf_ensemble_done(joined), next);
        hf_ensemble_free(e);
    }
    assert_int_equal(next, 23);
    same(whole, joined);
    /* Of other ensembles nothing is taken. */
    plan.part = plan.parts = 1;
    for (int what = 0; what < 3; what++) {
        hf_ensemble_plan other = plan;
        hf_step moved[4];
        memcpy(moved, steps, sizeof moved);
        other.seed += what == 0;
        other.strands += what == 1;
        moved[2].temperature += what == 2;
        other.steps = moved;
        hf_ensemble *e = make(&other);
        static const char *const word[] = {"seeds", "numbers of strands", "treatments"};
        assert_int_equal(hf_ensemble_merge(joined, e), HF_EDATA);
        assert_non_null(strstr(hf_ensemble_message(joined), word[what]));
        hf_ensemble_free(e);
    }
    hf_parameters *set;
    assert_int_equal(hf_parameters_new(&set, "bleached"), HF_OK);
    hf_ensemble *bleached;
    assert_int_equal(hf_ensemble_new(&bleached, &plan, set, NULL), HF_OK);
    assert_int_equal(hf_ensemble_merge(joined, bleached), HF_EDATA);
    assert_non_null(strstr(hf_ensemble_message(joined), "parameters"));
    hf_ensemble_free(bleached);
    hf_parameters_free(set);
    hf_ensemble_free(joined);
    hf_ensemble_free(whole);
}

static void test_put(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(10);
    hf_ensemble *whole = run(&plan, 1);
    hf_ensemble *later = make(&plan);
    double row[HF_STRAND_COLUMNS];
    for (size_t i = 0; i < 10; i += 3) {
        for (int c = 0; c < HF_STRAND_COLUMNS; c++)
            row[c] = hf_ensemble_column(whole, (hf_strand_column)c)[i];
        assert_int_equal(hf_ensemble_put(later, row), HF_OK);
        assert_true(hf_ensemble_is_done(later, i));
    }
    assert_int_equal(hf_ensemble_done(later), 4);
    assert_false(hf_ensemble_is_done(later, 1));
    assert_int_equal(hf_ensemble_run(later, NULL), HF_OK);
    same(whole, later);
    row[HF_STRAND_NUMBER] = 11;
    assert_int_equal(hf_ensemble_put(later, row), HF_EINVAL);
    row[HF_STRAND_NUMBER] = 1.5;
    assert_int_equal(hf_ensemble_put(later, row), HF_EINVAL);
    plan.part = 2;
    plan.parts = 2;
    hf_ensemble *half = make(&plan);
    row[HF_STRAND_NUMBER] = 5;
    assert_int_equal(hf_ensemble_put(half, row), HF_ERANGE);
    hf_ensemble_free(half);
    hf_ensemble_free(later);
    hf_ensemble_free(whole);
}

typedef struct watching {
    volatile sig_atomic_t stop;
    size_t calls, most;
    hf_progress last;
} watching;

static void watch(const hf_progress *progress, void *user)
{
    watching *w = user;
    w->calls++;
    w->last = *progress;
    if (progress->done >= w->most)
        __atomic_store_n(&w->stop, 1, __ATOMIC_RELAXED); /* other threads read it meanwhile */
}

/* On one thread the progress is told after every strand, and the third stops the run: nothing hangs on the
 * clock. */
static void test_stop_and_go_on(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(20);
    hf_ensemble *whole = run(&plan, 2);
    hf_ensemble *e = make(&plan);
    watching w = {0, 0, 3, {0}};
    hf_ensemble_control control = {1, 0, &w.stop, watch, &w, 0};
    assert_int_equal(hf_ensemble_run(e, &control), HF_ESTOPPED);
    assert_int_equal(hf_ensemble_done(e), 3);
    assert_int_equal(w.calls, 4); /* and once at the end */
    assert_int_equal(w.last.count, 20);
    assert_int_equal(w.last.done, 3);
    assert_true(w.last.rate > 0 && w.last.remaining > 0 && w.last.seconds > 0);
    /* Already stopped: nothing more. */
    assert_int_equal(hf_ensemble_run(e, &control), HF_ESTOPPED);
    assert_int_equal(hf_ensemble_done(e), 3);
    w = (watching){0, 0, 1000, {0}};
    control.seconds = 1e-9; /* out of time at once */
    control.threads = 2;
    assert_int_equal(hf_ensemble_run(e, &control), HF_ESTOPPED);
    control.seconds = 0;
    assert_int_equal(hf_ensemble_run(e, &control), HF_OK);
    assert_int_equal(w.last.done, 20);
    CHECK_CLOSE(w.last.remaining, 0, 0, 0, "nothing is left");
    same(whole, e);
    control.interval = -1;
    assert_int_equal(hf_ensemble_run(e, &control), HF_EINVAL);
    hf_ensemble_free(e);
    hf_ensemble_free(whole);
}

/* Two threads, one of which asks to stop: far too many strands to be done before it is heard. */
static void test_stop_on_two_threads(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(20);
    hf_ensemble *whole = run(&plan, 2);
    plan.strands = 100000;
    hf_ensemble *e = make(&plan);
    watching w = {0, 0, 3, {0}};
    const hf_ensemble_control control = {2, 0, &w.stop, watch, &w, 0};
    assert_int_equal(hf_ensemble_run(e, &control), HF_ESTOPPED);
    size_t done = 0;
    for (size_t i = 0; i < plan.strands; i++) {
        done += hf_ensemble_is_done(e, i) != 0;
        for (int c = 0; i < 20 && hf_ensemble_is_done(e, i) && c < HF_STRAND_COLUMNS; c++)
            assert_memory_equal(&hf_ensemble_column(e, (hf_strand_column)c)[i],
                                &hf_ensemble_column(whole, (hf_strand_column)c)[i], sizeof(double));
    }
    assert_true(done >= 3 && done < plan.strands);
    assert_int_equal(hf_ensemble_done(e), done);
    hf_ensemble_free(e);
    hf_ensemble_free(whole);
}

/* Without steps a strand costs next to nothing: the sections are those of the source. */
static void test_populations(void **unused)
{
    (void)unused;
    const hf_population *p;
    enum { STRANDS = 2000 };
    const double n = STRANDS;
    for (size_t i = 0; (p = hf_population_at(i)) != NULL; i++) {
        assert_ptr_equal(hf_population_find(p->name), p);
        assert_non_null(hf_source_find(p->source));
        hf_ensemble_plan plan = plan_of(STRANDS);
        plan.population = p;
        plan.step_count = 0;
        plan.seed = 5;
        hf_ensemble *e = run(&plan, 0);
        double sum = 0, square = 0, shape = 0, shape_square = 0, medulla = 0;
        for (size_t k = 0; k < STRANDS; k++) {
            const double d = hf_ensemble_column(e, HF_STRAND_DIAMETER)[k];
            const double x = hf_ensemble_column(e, HF_STRAND_ELLIPTICITY)[k];
            const double area = 0.25 * PI * d * d;
            sum += area;
            square += area * area;
            shape += x;
            shape_square += x * x;
            medulla += hf_ensemble_column(e, HF_STRAND_MEDULLA)[k];
            assert_true(x >= 1 && x <= 3);
        }
        const double mean = sum / n, deviation = sqrt(square / n - mean * mean);
        CHECK_CLOSE(mean, p->area, 0, 4 * p->area_spread / sqrt(n), "textbook-ch6, p. 204");
        /* The deviation of a lognormal with such a spread is known to some 2.5 %. */
        CHECK_CLOSE(deviation, p->area_spread, 0.1, 0,
                    "from its 95 % limits and numbers of fibres");
        /* Cut off at 1, the mean moves by less than a tenth of the spread. */
        CHECK_CLOSE(shape / n, p->ellipticity, 0,
                    0.1 * p->ellipticity_spread + 4 * p->ellipticity_spread / sqrt(n),
                    "textbook-ch6, p. 204");
        CHECK_CLOSE(sqrt(shape_square / n - shape * shape / (n * n)), p->ellipticity_spread, 0.15,
                    0, "from its 95 % limits");
        CHECK_CLOSE(medulla / n, 0.5 * (p->medulla_low + p->medulla_high), 0, 4 * 0.0174 / sqrt(n),
                    "uniform");
        hf_percentiles q;
        assert_int_equal(hf_ensemble_percentiles(e, HF_STRAND_DIAMETER, &q), HF_OK);
        /* Equal-area diameters of the same table: 80.3, 72.1, 73.2 um at the mean area; the median is smaller by
         * exp(-s^2/4). */
        const double s2 = log1p(p->area_spread * p->area_spread / (p->area * p->area));
        CHECK_CLOSE(q.value[HF_P50], sqrt(4 * p->area / PI) * exp(-s2 / 4), 0, 5 * q.error[HF_P50],
                    "lognormal");
        hf_ensemble_free(e);
    }
    assert_null(hf_population_find("nobody"));
    assert_null(hf_population_find(NULL));
    /* On one head: the coefficient of variation of the diameter as given. */
    hf_ensemble_plan plan = plan_of(STRANDS);
    plan.step_count = 0;
    plan.within_head = 0.15;
    hf_ensemble *e = run(&plan, 0);
    double sum = 0, square = 0;
    for (size_t k = 0; k < STRANDS; k++) {
        const double d = hf_ensemble_column(e, HF_STRAND_DIAMETER)[k];
        sum += d;
        square += d * d;
    }
    const double mean = sum / n;
    CHECK_CLOSE(sqrt(square / n - mean * mean) / mean, 0.15, 0.08, 0,
                "2000 strands know it to 2 %");
    hf_ensemble_free(e);
}

/* Geometry of a strand does not depend on whether its parameters are drawn. */
static void test_drawn_parameters(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(40);
    hf_ensemble *plain = run(&plan, 0);
    plan.draw_parameters = 1;
    hf_ensemble *drawn = run(&plan, 0);
    assert_memory_equal(hf_ensemble_column(plain, HF_STRAND_DIAMETER),
                        hf_ensemble_column(drawn, HF_STRAND_DIAMETER), 40 * sizeof(double));
    hf_percentiles a, b;
    assert_int_equal(hf_ensemble_percentiles(plain, HF_STRAND_REGAIN_HIGH, &a), HF_OK);
    assert_int_equal(hf_ensemble_percentiles(drawn, HF_STRAND_REGAIN_HIGH, &b), HF_OK);
    /* How much a soaked strand takes up is a matter of its parameters, not of its section. */
    assert_true(b.deviation > 3 * a.deviation);
    char x[17], y[17];
    hf_ensemble_digest(plain, x);
    hf_ensemble_digest(drawn, y);
    assert_string_not_equal(x, y);
    hf_ensemble_free(plain);
    hf_ensemble_free(drawn);
}

static void test_failing_strands(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(12);
    plan.simulation.max_steps = 10;
    hf_ensemble *e = run(&plan, 2);
    for (size_t i = 0; i < 12; i++) {
        CHECK_CLOSE(hf_ensemble_column(e, HF_STRAND_STATUS)[i], HF_ECONVERGE, 0, 0,
                    "too few steps allowed");
        assert_true(isnan(hf_ensemble_column(e, HF_STRAND_REGAIN_END)[i]));
        assert_true(hf_ensemble_column(e, HF_STRAND_DIAMETER)[i] > 0);
    }
    assert_non_null(strstr(hf_ensemble_message(e), "more integrator steps than allowed"));
    hf_percentiles p;
    hf_share_interval share;
    assert_int_equal(hf_ensemble_percentiles(e, HF_STRAND_REGAIN_END, &p), HF_EDATA);
    assert_int_equal(hf_ensemble_share(e, HF_STRAND_VOIDS, &share), HF_EINVAL);
    hf_ensemble_free(e);
}

/* Without steps and on one section, a strand breaks as often as the room strength says, and the force at its break has
 * the mean of the law. */
static void test_pull(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(4000);
    plan.population = NULL;
    plan.step_count = 0;
    plan.fibre.diameter = 70e-6;
    plan.room.humidity = 0.65;
    const double area = 0.25 * PI * 70e-6 * 70e-6, n = 4000;
    double stress, expected, variation;
    assert_int_equal(hf_break_stress_e(0.65, NULL, 0, &stress), HF_OK);
    plan.pull = 0.95 * stress * area;
    assert_int_equal(hf_break_probability_e(0.95 * stress, 0.65, NULL, 0, &expected), HF_OK);
    assert_true(expected > 0.1 && expected < 0.4);
    hf_ensemble *e = run(&plan, 0);
    hf_share_interval s;
    hf_percentiles p;
    assert_int_equal(hf_ensemble_share(e, HF_STRAND_BREAKS, &s), HF_OK);
    CHECK_CLOSE(s.share, expected, 0, 4 * sqrt(expected * (1 - expected) / n),
                "break_probability, four deviations");
    assert_int_equal(hf_ensemble_percentiles(e, HF_STRAND_BREAK_FORCE, &p), HF_OK);
    CHECK_CLOSE(p.mean, stress * area, 0, 4 * p.mean_error, "mean break stress times section");
    assert_int_equal(hf_weibull_variation_e(18, 0, &variation), HF_OK);
    CHECK_CLOSE(p.deviation / p.mean, variation, 0.05, 0,
                "strength.scatter.modulus 18; 4000 strands know it to 1.1 %");
    hf_ensemble_free(e);
    /* Nothing was asked for. */
    plan.pull = (double)NAN;
    e = run(&plan, 0);
    assert_int_equal(hf_ensemble_share(e, HF_STRAND_BREAKS, &s), HF_EINVAL);
    assert_true(isnan(hf_ensemble_column(e, HF_STRAND_BREAKS)[0]));
    hf_ensemble_free(e);
    /* In water-laden air strands are weaker. */
    plan.room.humidity = 0.95;
    e = run(&plan, 0);
    double damp;
    assert_int_equal(hf_break_stress_e(0.95, NULL, 0, &damp), HF_OK);
    assert_int_equal(hf_ensemble_percentiles(e, HF_STRAND_BREAK_FORCE, &p), HF_OK);
    CHECK_CLOSE(p.mean, damp * area, 0, 4 * p.mean_error, "mean break stress times section");
    hf_ensemble_free(e);
}

/* The force at the break is a product of area and strength: with c the coefficients of variation, area alone decides
 * cA^2/((1 + cA^2)(1 + cW^2) - 1), and (1 + cW^2) times that with what both do together. */
static void test_what_decides(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(1);
    plan.step_count = 0;
    hf_factor factor[HF_INPUTS_MAX];
    hf_index index[HF_INPUTS_MAX];
    hf_effect effect[HF_INPUTS_MAX];
    hf_sensitivity summary;
    hf_message why;
    size_t n;
    assert_int_equal(hf_strand_factors(&plan, NULL, HF_STRAND_BREAK_FORCE, factor, &n, &why),
                     HF_OK);
    assert_int_equal(n, 4);
    assert_string_equal(factor[0].name, "area");
    assert_string_equal(factor[3].name, "strength of the strand");
    const hf_sensitivity_options o = {4096, 3, HF_DRAW_SOBOL, 200, 0.99, NULL};
    assert_int_equal(hf_strand_sobol_indices(&plan, NULL, HF_STRAND_BREAK_FORCE, &o, NULL, index,
                                             &summary, &why),
                     HF_OK);
    double variation;
    assert_int_equal(hf_weibull_variation_e(18, 0, &variation), HF_OK);
    const double a = plan.population->area_spread / plan.population->area, ca = a * a,
                 cw = variation * variation;
    const double all = (1 + ca) * (1 + cw) - 1;
    const double first[] = {ca / all, 0, 0, cw / all},
                 total[] = {ca / all * (1 + cw), 0, 0, cw / all * (1 + ca)};
    for (int i = 0; i < 4; i++) {
        assert_true(index[i].first_low <= first[i] + 1e-12 &&
                    first[i] - 1e-12 <= index[i].first_high);
        assert_true(index[i].total_low <= total[i] + 1e-12 &&
                    total[i] - 1e-12 <= index[i].total_high);
    }
    CHECK_CLOSE(index[0].first, first[0], 0.02, 0, "4096 rows of a net");
    assert_int_equal(hf_strand_morris_effects(&plan, NULL, HF_STRAND_BREAK_FORCE, NULL, NULL,
                                              effect, &summary, &why),
                     HF_OK);
    assert_true(effect[0].size > effect[3].size && effect[3].size > 0 && !(effect[1].size > 0));
    /* Rows of the catalogue: voids grow as the viscosity and the contact with the plates let them; how fast tryptophan
     * is lost has nothing to do with it. */
    plan = plan_of(1);
    plan.draw_parameters = 1;
    const hf_screening_options few = {4, 4, 2};
    assert_int_equal(hf_strand_factors(&plan, NULL, HF_STRAND_VOIDS_AT, factor, &n, &why), HF_OK);
    assert_true(n > 60 && strcmp(factor[2].name, "medulla") == 0 && strstr(factor[3].name, "."));
    assert_int_equal(
        hf_strand_morris_effects(&plan, NULL, HF_STRAND_GROWTH, &few, NULL, effect, &summary, &why),
        HF_OK);
    int seen = 0;
    for (size_t i = 0; i < n; i++) {
        const int strong = strcmp(factor[i].name, "void.viscosity.reference") == 0 ||
                           strcmp(factor[i].name, "treatment.plates.contact") == 0;
        const int idle = strcmp(factor[i].name, "rate.tryptophan.rate") == 0;
        seen += strong || idle;
        assert_true(!strong || effect[i].size > 0.05);
        assert_true(!idle || !(effect[i].size > 0));
    }
    assert_int_equal(seen, 3);
    /* Refusals, and an end on request. */
    const volatile sig_atomic_t stop = 1;
    assert_int_equal(hf_strand_morris_effects(&plan, NULL, HF_STRAND_GROWTH, &few, &stop, effect,
                                              &summary, &why),
                     HF_ESTOPPED);
    assert_int_equal(hf_strand_factors(&plan, NULL, HF_STRAND_STATUS, factor, &n, &why), HF_EINVAL);
    assert_int_equal(hf_strand_factors(&plan, NULL, HF_STRAND_COLUMNS, factor, &n, &why),
                     HF_EINVAL);
    plan.draw_parameters = 0;
    plan.population = NULL;
    assert_int_equal(
        hf_strand_sobol_indices(&plan, NULL, HF_STRAND_GROWTH, NULL, NULL, index, &summary, &why),
        HF_EDATA);
    assert_non_null(strstr(why.text, "no input"));
}

static void test_share(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(60);
    hf_ensemble *e = run(&plan, 0);
    double events = 0;
    hf_share_interval s;
    for (size_t i = 0; i < 60; i++)
        events += hf_ensemble_column(e, HF_STRAND_VOIDS)[i];
    assert_int_equal(hf_ensemble_share(e, HF_STRAND_VOIDS, &s), HF_OK);
    CHECK_CLOSE(s.share, events / 60, 1e-15, 0, "counted");
    assert_true(s.low <= s.share && s.share <= s.high && s.high - s.low < 0.3);
    hf_ensemble_free(e);
}

/* Memory beyond the kept columns does not grow with the number of strands. */
static void test_memory(void **unused)
{
    (void)unused;
    hf_ensemble_plan plan = plan_of(1000);
    hf_ensemble *a = make(&plan);
    plan.strands = 3000;
    hf_ensemble *b = make(&plan);
    assert_int_equal(hf_ensemble_bytes(b) - hf_ensemble_bytes(a),
                     2000 * (HF_STRAND_COLUMNS * sizeof(double) + 1));
    hf_ensemble_free(a);
    hf_ensemble_free(b);
}

static void test_columns(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < HF_STRAND_COLUMNS; i++) {
        const hf_column_info *info = hf_strand_column_at(i);
        assert_non_null(info);
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(info->name, hf_strand_column_at(k)->name);
    }
    assert_null(hf_strand_column_at(HF_STRAND_COLUMNS));
    assert_null(hf_ensemble_column(NULL, HF_STRAND_NUMBER));
}

static void refused(hf_ensemble_plan plan, hf_status status, const char *part)
{
    hf_ensemble *e = NULL;
    hf_message why = {""};
    assert_int_equal(hf_ensemble_new(&e, &plan, NULL, &why), status);
    assert_null(e);
    if (!strstr(why.text, part))
        fail_msg("\"%s\" lacks \"%s\"", why.text, part);
}

static void test_refusals(void **unused)
{
    (void)unused;
    const hf_ensemble_plan good = plan_of(10);
    hf_ensemble_plan plan = good;
    plan.strands = 0;
    refused(plan, HF_ERANGE, "strands = 0 must lie between 1 and");
    plan = good;
    plan.part = 3;
    plan.parts = 2;
    refused(plan, HF_ERANGE, "part = 3");
    plan = good;
    plan.parts = 11;
    refused(plan, HF_ERANGE, "parts = 11");
    plan = good;
    plan.within_head = 0.7;
    refused(plan, HF_ERANGE, "within_head");
    plan.within_head = 0.1;
    plan.population = NULL;
    refused(plan, HF_EINVAL, "needs a population");
    plan = good;
    plan.simulation.cells = 3;
    refused(plan, HF_ERANGE, "cells");
    plan = good;
    plan.pull = -1;
    refused(plan, HF_ERANGE, "pull = -1");
    plan = good;
    plan.fibre.humidity = 2;
    refused(plan, HF_ERANGE, "humidity");
    plan = good;
    hf_step bad[2] = {HF_STEP_INIT(HF_STEP_REST, 5), HF_STEP_INIT(HF_STEP_REST, -1)};
    plan.steps = bad;
    plan.step_count = 2;
    refused(plan, HF_ERANGE, "step 2, ");
    plan = good;
    hf_population odd = *good.population;
    plan.population = &odd;
    odd.ellipticity = 0.5;
    refused(plan, HF_ERANGE, "ellipticity = 0.5");
    odd = *good.population;
    odd.area = (double)NAN;
    refused(plan, HF_EINVAL, "area");
    plan = good;
    plan.steps = NULL;
    refused(plan, HF_EINVAL, "");
    assert_int_equal(hf_ensemble_run(NULL, NULL), HF_EINVAL);
    hf_ensemble_free(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_threads),         cmocka_unit_test(test_against_simulation),
        cmocka_unit_test(test_parts),           cmocka_unit_test(test_put),
        cmocka_unit_test(test_stop_and_go_on),  cmocka_unit_test(test_stop_on_two_threads),
        cmocka_unit_test(test_populations),     cmocka_unit_test(test_drawn_parameters),
        cmocka_unit_test(test_failing_strands), cmocka_unit_test(test_pull),
        cmocka_unit_test(test_what_decides),    cmocka_unit_test(test_share),
        cmocka_unit_test(test_memory),          cmocka_unit_test(test_columns),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
