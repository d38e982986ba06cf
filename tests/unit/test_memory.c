/*
 * The C library under an allocator that fails: every task runs with the k-th request for memory and
 * all after it refused, k = 1, 2, ... until it succeeds. The status must be HF_ENOMEM (a result that
 * needs no memory after all may also be HF_OK), nothing may crash, and every block must be given back.
 * The linker sends the requests of the library and of GSL here (--wrap, see the Makefile).
 */
#include "../../lua/core/import_table.h"
#include "fit_tools.h"

#include <hairfibre.h>

#include <gsl/gsl_multifit_nlinear.h>

#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define UNLIMITED (-1L)

static atomic_long left = UNLIMITED; /* requests still granted */
static atomic_long refused;
static atomic_long blocks; /* not yet given back */

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void __real_free(void *block);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);
void __wrap_free(void *block);

static int granted(void)
{
    long now = atomic_load(&left);
    if (now == UNLIMITED)
        return 1;
    do {
        if (now == 0) {
            atomic_fetch_add(&refused, 1);
            return 0;
        }
    } while (!atomic_compare_exchange_weak(&left, &now, now - 1));
    return 1;
}

void *__wrap_malloc(size_t size)
{
    void *block = granted() ? __real_malloc(size) : NULL;
    atomic_fetch_add(&blocks, block != NULL);
    return block;
}

void *__wrap_calloc(size_t count, size_t size)
{
    void *block = granted() ? __real_calloc(count, size) : NULL;
    atomic_fetch_add(&blocks, block != NULL);
    return block;
}

void *__wrap_realloc(void *block, size_t size)
{
    if (!granted())
        return NULL;
    void *moved = __real_realloc(block, size);
    atomic_fetch_add(&blocks, !block && moved);
    return moved;
}

void __wrap_free(void *block)
{
    atomic_fetch_sub(&blocks, block != NULL);
    __real_free(block);
}

/* GSL 2.7 does not give back the parts of a solver that it could only half make: a solver is refused as a
 * whole. */
gsl_multifit_nlinear_workspace *
__real_gsl_multifit_nlinear_alloc(const gsl_multifit_nlinear_type *type,
                                  const gsl_multifit_nlinear_parameters *parameters, size_t n,
                                  size_t p);
gsl_multifit_nlinear_workspace *
__wrap_gsl_multifit_nlinear_alloc(const gsl_multifit_nlinear_type *type,
                                  const gsl_multifit_nlinear_parameters *parameters, size_t n,
                                  size_t p);

gsl_multifit_nlinear_workspace *
__wrap_gsl_multifit_nlinear_alloc(const gsl_multifit_nlinear_type *type,
                                  const gsl_multifit_nlinear_parameters *parameters, size_t n,
                                  size_t p)
{
    if (!granted())
        return NULL;
    const long before = atomic_exchange(&left, UNLIMITED);
    gsl_multifit_nlinear_workspace *w = __real_gsl_multifit_nlinear_alloc(type, parameters, n, p);
    atomic_store(&left, before);
    return w;
}

/* ---- tasks: each frees what it made and returns its first failure ------------------------------- */

static hf_status make_parameters(void)
{
    hf_parameters *set = NULL, *copy = NULL;
    hf_status status = hf_parameters_new(&set, "bleached");
    if (status == HF_OK)
        status = hf_parameters_set(set, "sorption.absorption.k", 0.7);
    if (status == HF_OK)
        status = hf_parameters_set_fitted(set, 1, &(const char *const){"sorption.scale"},
                                          &(const double){1.1}, &(const double){0.01}, "a fit");
    if (status == HF_OK)
        status = hf_parameters_copy(&copy, set);
    if (status != HF_OK)
        assert_null(copy);
    hf_parameters_free(copy);
    hf_parameters_free(set);
    return status;
}

static hf_status make_fibre(void)
{
    const hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    hf_message message;
    hf_fibre *fibre = NULL;
    const hf_status status = hf_fibre_new(&fibre, &d, NULL, &message);
    assert_true((fibre != NULL) == (status == HF_OK));
    hf_fibre_free(fibre);
    return status;
}

/* Everything that happens to a fibre, on few cells. */
static hf_status schedule(hf_simulation *s)
{
    hf_step steps[] = {
        HF_STEP_INIT(HF_STEP_SOAK, 5),   HF_STEP_INIT(HF_STEP_BLOT, 0),
        HF_STEP_INIT(HF_STEP_AIR, 20),   HF_STEP_INIT(HF_STEP_PLATES, 2),
        HF_STEP_INIT(HF_STEP_REDUCE, 5), HF_STEP_INIT(HF_STEP_NEUTRALISE, 5),
        HF_STEP_INIT(HF_STEP_RINSE, 5),  HF_STEP_INIT(HF_STEP_BLEACH, 5),
        HF_STEP_INIT(HF_STEP_REST, 10),
    };
    steps[0].temperature = 308.15;
    steps[1].film = 0.3;
    steps[2].temperature = 333.15;
    steps[2].speed = 5;
    steps[3].temperature = 453.15;
    steps[4].temperature = steps[5].temperature = steps[6].temperature = steps[7].temperature =
        298.15;
    steps[4].ph = 9;
    steps[4].concentration = 600;
    steps[7].ph = 10;
    steps[7].peroxide = 0.06;
    return hf_simulation_run(s, steps, COUNT(steps));
}

static hf_status simulate(void)
{
    const hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    hf_simulation_options o = HF_SIMULATION_OPTIONS_INIT;
    hf_message message;
    hf_fibre *fibre = NULL;
    hf_simulation *s = NULL, *branch = NULL;
    o.cells = 20;
    o.tolerance = 1e-3;
    o.samples = 80; /* the record has to grow more than once */
    hf_status status = hf_fibre_new(&fibre, &d, NULL, &message);
    if (status == HF_OK)
        status = hf_simulation_new(&s, fibre, NULL, &o, &message);
    if (status == HF_OK)
        status = schedule(s);
    if (status == HF_ENOMEM && s) {
        /* What was computed can still be read, and the object used on. */
        assert_true(hf_simulation_samples(s) > 0);
        assert_true(
            isfinite(hf_simulation_column(s, HF_COLUMN_REGAIN)[hf_simulation_samples(s) - 1]));
        assert_non_null(strstr(hf_simulation_message(s), "memory"));
    }
    if (status == HF_OK)
        status = hf_simulation_copy(&branch, s);
    if (status == HF_OK)
        status = hf_simulation_reset(s, fibre, &message);
    hf_simulation_free(branch);
    hf_simulation_free(s);
    hf_fibre_free(fibre);
    return status;
}

static hf_status run_ensemble(void)
{
    hf_ensemble_plan plan = HF_ENSEMBLE_PLAN_INIT;
    hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
    hf_step steps[] = {HF_STEP_INIT(HF_STEP_SOAK, 2), HF_STEP_INIT(HF_STEP_PLATES, 1)};
    hf_message message;
    hf_ensemble *e = NULL, *other = NULL;
    hf_percentiles percentiles;
    steps[0].temperature = 308.15;
    steps[1].temperature = 453.15;
    plan.steps = steps;
    plan.step_count = COUNT(steps);
    plan.strands = 10;
    plan.population = hf_population_at(0);
    plan.draw_parameters = 1;
    plan.simulation.cells = 20;
    plan.simulation.tolerance = 1e-3;
    control.threads = 2;
    hf_status status = hf_ensemble_new(&e, &plan, NULL, &message);
    if (status == HF_OK)
        status = hf_ensemble_run(e, &control);
    if (status == HF_OK) {
        for (size_t i = 0; i < plan.strands; i++)
            if (hf_ensemble_column(e, HF_STRAND_STATUS)[i] == HF_ENOMEM)
                status = HF_ENOMEM;
    }
    if (status == HF_OK)
        status = hf_ensemble_percentiles(e, HF_STRAND_REGAIN_END, &percentiles);
    if (status == HF_OK)
        status = hf_ensemble_new(&other, &plan, NULL, &message);
    if (status == HF_OK)
        status = hf_ensemble_merge(other, e);
    hf_ensemble_free(other);
    hf_ensemble_free(e);
    return status;
}

static hf_status screen_treatment(void)
{
    hf_ensemble_plan plan = HF_ENSEMBLE_PLAN_INIT;
    hf_step step = HF_STEP_INIT(HF_STEP_REST, 1);
    hf_effect effect[HF_INPUTS_MAX];
    hf_factor factor[HF_INPUTS_MAX];
    const hf_screening_options options = {2, 4, 1};
    hf_sensitivity_options sobol = HF_SENSITIVITY_OPTIONS_INIT;
    hf_index index[HF_INPUTS_MAX];
    size_t n;
    plan.steps = &step;
    plan.step_count = 1;
    plan.strands = 1;
    plan.population = hf_population_at(0);
    plan.simulation.cells = 20;
    plan.simulation.lumped = 1;
    hf_status status = hf_strand_factors(&plan, NULL, HF_STRAND_BREAK_FORCE, factor, &n, NULL);
    if (status == HF_OK)
        status = hf_strand_morris_effects(&plan, NULL, HF_STRAND_BREAK_FORCE, &options, NULL,
                                          effect, NULL, NULL);
    sobol.samples = 32;
    sobol.bootstrap = 50;
    if (status == HF_OK)
        status = hf_strand_sobol_indices(&plan, NULL, HF_STRAND_BREAK_FORCE, &sobol, NULL, index,
                                         NULL, NULL);
    return status;
}

/* One fit with everything that can be asked of it. */
static hf_status fit_model(const char *name, size_t n, const double *x, const double *y,
                           hf_loss loss)
{
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = model_on(name, n, x, y, p);
    hf_message message;
    hf_fit *fit = NULL;
    hf_bootstrap *bootstrap = NULL;
    hf_interval interval;
    double value[2], half[2], wide[2], first[8], second[8], error;
    size_t open;
    d.loss = loss;
    d.starts = 4;
    hf_status status = hf_fit_new(&fit, &d, &message);
    if (status == HF_OK)
        status = hf_fit_run(fit);
    if (status == HF_OK && loss == HF_LOSS_SQUARES)
        status = hf_fit_profile(fit, 0, 0.95, &interval);
    if (status == HF_OK && loss == HF_LOSS_SQUARES)
        status = hf_fit_region(fit, 0, 1, 0.95, 8, first, second, &open);
    if (status == HF_OK && loss == HF_LOSS_SQUARES)
        status = hf_fit_bands(fit, 2, x, NULL, NULL, 0.95, value, half, wide);
    if (status == HF_OK)
        status = hf_bootstrap_new(&bootstrap, fit, HF_BOOTSTRAP_CASES, 12, 7);
    if (status == HF_OK)
        status = hf_bootstrap_interval(bootstrap, 0, 0.9, &interval, &error);
    hf_bootstrap_free(bootstrap);
    hf_fit_free(fit);
    return status;
}

static hf_status fit_isotherm(void)
{
    return fit_model("gab", COUNT(wood_a), wood_a, wood_up, HF_LOSS_SQUARES);
}

static hf_status fit_robust(void)
{
    return fit_model("gab", COUNT(wood_a), wood_a, wood_up, HF_LOSS_HUBER);
}

/* The starters of all models: they have scratch memory of their own. */
static hf_status start_models(void)
{
    static const double x[] = {0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.1, 0.2, 0.3, 0.4};
    static const double y[] = {0.03, 0.05, 0.06, 0.08, 0.1, 0.12, 0.15, 0.2};
    hf_status worst = HF_OK;
    for (size_t i = 0; i < hf_model_count(); i++) {
        const hf_model *model = hf_model_at(i);
        double b[HF_FIT_PARAMETERS_MAX];
        for (size_t j = 0; j < HF_FIT_PARAMETERS_MAX; j++)
            b[j] = 1;
        if (!model->starter || model->columns != 1)
            continue;
        const hf_status status = model->starter(8, x, y, NULL, b);
        if (status == HF_ENOMEM)
            worst = status;
    }
    return worst;
}

static hf_status fit_lives(void)
{
    static const double life[] = {120, 340, 560, 800, 1000, 1000, 90, 400};
    static const double stress[] = {9e7, 9e7, 9e7, 8e7, 8e7, 8e7, 1e8, 1e8};
    static const int broke[] = {1, 1, 1, 1, 0, 0, 1, 1};
    hf_life out;
    hf_message message;
    hf_status status = hf_life_fit(COUNT(life), life, broke, NAN, 0.95, &out, &message);
    if (status == HF_OK)
        status = hf_life_line_fit(COUNT(life), stress, life, broke, 9e7, 0.95, &out, &message);
    return status;
}

static hf_status count_strands(void)
{
    static const hf_table tables[] = {{8, 12, 2, 18}, {5, 10, 3, 12}};
    hf_share share;
    hf_tails tails;
    hf_fisher fisher;
    hf_mcnemar mcnemar;
    hf_stratified strata;
    hf_strands strands;
    double power;
    hf_status s = hf_binomial_interval_e(3, 20, HF_CLOPPER_PEARSON, 0.95, &share);
    if (s == HF_OK)
        s = hf_binomial_interval_e(3, 20, HF_MID_P, 0.95, &share);
    if (s == HF_OK)
        s = hf_binomial_test_e(3, 20, 0.3, &tails);
    if (s == HF_OK)
        s = hf_fisher_exact_e(&tables[0], 0.95, &fisher);
    if (s == HF_OK)
        s = hf_mcnemar_e(8, 2, &mcnemar);
    if (s == HF_OK)
        s = hf_mantel_haenszel_e(2, tables, 0.95, &strata);
    if (s == HF_OK)
        s = hf_share_power_e(0.5, 0.2, 20, 0.05, &power);
    if (s == HF_OK)
        s = hf_share_strands_e(0.5, 0.2, 0.05, 0.8, &strands);
    if (s == HF_OK)
        s = hf_two_share_power_e(0.6, 0.2, 15, 15, 0.05, &power);
    if (s == HF_OK)
        s = hf_two_share_strands_e(0.9, 0.1, 0.05, 0.8, &strands);
    if (s == HF_OK)
        s = hf_paired_share_power_e(0.4, 0.05, 20, 0.05, &power);
    if (s == HF_OK)
        s = hf_paired_share_strands_e(0.6, 0.05, 0.05, 0.8, &strands);
    return s;
}

static hf_status rank_strands(void)
{
    static const double a[] = {1.2, 0.4, -0.3, 2.2, 0.4, 1.1, 0, 0.9};
    static const double b[] = {0.2, 0.1, 0.5, -0.2, 0.4, 0.3};
    static const int first[] = {0, 1, 2, 1, 3, 0}, second[] = {0, 1, 1, 1, 3, 1};
    hf_message message;
    hf_ranks ranks;
    hf_t_test t;
    hf_kappa kappa;
    hf_percentiles percentiles;
    hf_strands strands;
    long critical;
    double adjusted[8], p, many[1000];
    for (size_t i = 0; i < COUNT(many); i++)
        many[i] = (double)((i * 7919) % 1000);
    hf_status s = hf_signed_rank_e(8, a, &ranks, &message);
    if (s == HF_OK)
        s = hf_rank_sum_e(8, a, 6, b, &ranks, &message);
    if (s == HF_OK)
        s = hf_strata_rank_sum_e(2, (const size_t[]){2, 1}, (const size_t[]){2, 3}, a, &ranks,
                                 &message);
    if (s == HF_OK)
        s = hf_signed_rank_critical_e(20, 0.05, 2, &critical);
    if (s == HF_OK)
        s = hf_rank_sum_critical_e(10, 10, 0.05, 2, &critical);
    if (s == HF_OK)
        s = hf_paired_t_e(8, NULL, a, 0.95, &t, &message);
    if (s == HF_OK)
        s = hf_welch_t_e(8, a, 6, b, 0.95, &t, &message);
    if (s == HF_OK)
        s = hf_noncentral_t_e(2, 10, 1.5, &p);
    if (s == HF_OK)
        s = hf_mean_power_e(1, 1, 12, 2, 0.05, &p);
    if (s == HF_OK)
        s = hf_mean_strands_e(1, 1, 2, 0.05, 0.8, &strands);
    if (s == HF_OK)
        s = hf_weighted_kappa_e(6, first, second, 4, HF_KAPPA_LINEAR, 0.95, &kappa, &message);
    if (s == HF_OK)
        s = hf_holm_e(4, (const double[]){0.01, 0.2, 0.03, 0.5}, adjusted);
    if (s == HF_OK)
        s = hf_percentiles_of(COUNT(many), many, 8, &percentiles);
    return s;
}

static hf_status sum_of(const double *x, void *user, double *y)
{
    (void)user;
    *y = x[0] + 2 * x[1];
    return HF_OK;
}

static hf_status spread_answers(void)
{
    static const hf_variate inputs[] = {{"a", HF_NORMAL, 0, 1, -INFINITY, INFINITY},
                                        {"b", HF_UNIFORM, 0, 1, -INFINITY, INFINITY}};
    const hf_quantity *q = hf_quantity_find("regain");
    double arguments[HF_ARGUMENTS_MAX], values[128];
    hf_propagation_options options = HF_PROPAGATION_OPTIONS_INIT;
    hf_sensitivity_options sobol = HF_SENSITIVITY_OPTIONS_INIT;
    hf_screening_options morris = HF_SCREENING_OPTIONS_INIT;
    hf_propagation out;
    hf_sensitivity summary;
    hf_message message;
    hf_index indices[HF_INPUTS_MAX];
    hf_effect effects[HF_INPUTS_MAX];
    hf_factor factors[HF_INPUTS_MAX];
    size_t count;
    double value, low, high;
    for (size_t i = 0; i < HF_ARGUMENTS_MAX; i++)
        arguments[i] = NAN;
    arguments[0] = 0.65;
    options.draws = COUNT(values);
    sobol.samples = 32;
    sobol.bootstrap = 50;
    morris.tours = 4;
    hf_status s = hf_quantity_range(q, arguments, NULL, HF_STRICT, &value, &low, &high, &message);
    if (s == HF_OK)
        s = hf_propagate(q, arguments, NULL, HF_STRICT, &options, values, &out, &message);
    if (s == HF_OK)
        s = hf_sobol_indices(2, inputs, sum_of, NULL, &sobol, indices, &summary, &message);
    if (s == HF_OK)
        s = hf_morris_effects(2, inputs, sum_of, NULL, &morris, effects, &summary, &message);
    if (s == HF_OK)
        s = hf_quantity_factors(q, arguments, NULL, NULL, 0, factors, &count, &message);
    if (s == HF_OK)
        s = hf_quantity_sobol_indices(q, arguments, NULL, NULL, 0, &sobol, indices, &summary,
                                      &message);
    if (s == HF_OK)
        s = hf_quantity_morris_effects(q, arguments, NULL, NULL, 0, &morris, effects, &summary,
                                       &message);
    for (size_t i = 0; s == HF_OK; i++) {
        const hf_rival *rival = hf_rival_at(q, i);
        if (!rival)
            break;
        s = hf_rival_evaluate(rival, q, arguments, NULL, HF_EXTRAPOLATE, &value, &message);
        s = s == HF_ENOMEM ? s : HF_OK;
    }
    return s;
}

/* Rows enough for columns that grow, words, quoted cells, rows that are left out. */
static hf_status import_file(void)
{
    static char text[65536];
    static size_t size;
    if (!size)
        for (int i = 0; i < 1500; i++)
            size += (size_t)snprintf(text + size, sizeof text - size, "%d;%d,5;%s\n", i, i % 50,
                                     i % 40 == 0 ? "\"open"
                                     : i % 3     ? "\"up\""
                                                 : "down");
    FILE *file = tmpfile();
    if (!file || fwrite(text, 1, size, file) != size || fflush(file) != 0)
        fail_msg("no file to read");
    const int fd = dup(fileno(file));
    fclose(file);
    lseek(fd, 0, SEEK_SET);
    hfi_table t;
    memset(&t, 0, sizeof t);
    t.cells = 3;
    t.most = t.most_shown = 100000;
    hfi_stop stop = hfi_text_open_fd(&t.text, fd) == 0 ? HFI_STOP_NONE : HFI_STOP_MEMORY;
    t.columns = stop == HFI_STOP_NONE ? calloc(3, sizeof *t.columns) : NULL;
    if (!t.columns)
        stop = HFI_STOP_MEMORY;
    if (stop == HFI_STOP_NONE) {
        t.column_count = 3;
        for (size_t i = 0; i < 3; i++)
            t.columns[i] =
                (hfi_column){.at = i, .words = i == 2, .factor = 1, .low = -1e9, .high = 1e9};
        hfi_text_decode(&t.text, HFI_UTF8);
        t.reading = 1;
        stop = hfi_rows_open(&t.rows, &t.text, ';') ? hfi_table_read(&t) : HFI_STOP_MEMORY;
    }
    if (stop == HFI_STOP_NONE) {
        assert_int_equal(t.used, 1462);
        assert_int_equal(t.excluded_count, 38);
        assert_int_equal(t.word_count, 2);
    }
    hfi_table_clear(&t);
    hfi_text_close(&t.text);
    return stop == HFI_STOP_NONE ? HF_OK : stop == HFI_STOP_MEMORY ? HF_ENOMEM : HF_EINTERNAL;
}

/* ---- the loop ----------------------------------------------------------------------------------- */

static void starve(hf_status (*task)(void), long fewest)
{
    hf_status status;
    long k = 0;
    atomic_store(&left, UNLIMITED);
    status = task(); /* the C library's own first allocations are made here */
    assert_int_equal(status, HF_OK);
    const long before = atomic_load(&blocks);
    for (;; k++) {
        atomic_store(&refused, 0);
        atomic_store(&left, k);
        status = task();
        atomic_store(&left, UNLIMITED);
        if (atomic_load(&blocks) != before)
            fail_msg("with %ld requests %ld blocks are not given back", k,
                     atomic_load(&blocks) - before);
        if (atomic_load(&refused) == 0)
            break;
        if (status != HF_ENOMEM)
            fail_msg("with %ld requests the status is \"%s\"", k, hf_status_text(status));
        assert_true(k < 100000);
    }
    assert_int_equal(status, HF_OK);
    if (k < fewest)
        fail_msg("%ld requests were seen, %ld or more are expected: is the allocator wrapped?", k,
                 fewest);
}

#define STARVED(name, fewest)                                                                      \
    static void test_##name(void **state)                                                          \
    {                                                                                              \
        (void)state;                                                                               \
        starve(name, fewest);                                                                      \
    }

STARVED(make_parameters, 2)
STARVED(make_fibre, 2)
STARVED(simulate, 8)
STARVED(run_ensemble, 8)
STARVED(screen_treatment, 8)
STARVED(fit_isotherm, 10)
STARVED(fit_robust, 10)
STARVED(start_models, 3)
STARVED(fit_lives, 4)
STARVED(count_strands, 4)
STARVED(rank_strands, 5)
STARVED(spread_answers, 5)
STARVED(import_file, 8)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_make_parameters),  cmocka_unit_test(test_make_fibre),
        cmocka_unit_test(test_simulate),         cmocka_unit_test(test_run_ensemble),
        cmocka_unit_test(test_screen_treatment), cmocka_unit_test(test_fit_isotherm),
        cmocka_unit_test(test_fit_robust),       cmocka_unit_test(test_start_models),
        cmocka_unit_test(test_fit_lives),        cmocka_unit_test(test_count_strands),
        cmocka_unit_test(test_rank_strands),     cmocka_unit_test(test_spread_answers),
        cmocka_unit_test(test_import_file),
    };
    return cmocka_run_group_tests_name("memory", tests, NULL, NULL);
}
