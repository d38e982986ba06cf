/* Steps in a liquid: bath, bleach, reduce, neutralise, rinse, together with water and temperature.
 */
#include "check.h"

#include <hairfibre/chemistry.h>
#include <hairfibre/treatment.h>

#include <string.h>

static double K(double celsius)
{
    return celsius + 273.15;
}

/* Simulation of a fibre of this set; wet from the start when `regain` is given. */
static hf_simulation *simulation_of(const char *name, double regain)
{
    hf_fibre_description description = HF_FIBRE_DESCRIPTION_INIT;
    hf_parameters *set;
    hf_fibre *fibre;
    hf_simulation *s;
    assert_int_equal(hf_parameters_new(&set, name), HF_OK);
    description.regain = regain;
    assert_int_equal(hf_fibre_new(&fibre, &description, set, NULL), HF_OK);
    assert_int_equal(hf_simulation_new(&s, fibre, NULL, NULL, NULL), HF_OK);
    hf_fibre_free(fibre);
    hf_parameters_free(set);
    return s;
}

static hf_step liquid(hf_step_kind kind, double seconds, double celsius)
{
    hf_step step = HF_STEP_INIT(kind, seconds);
    step.temperature = K(celsius);
    if (kind == HF_STEP_REDUCE) {
        step.concentration = 1000;
        step.ph = 9.4;
    } else if (kind == HF_STEP_BLEACH) {
        step.peroxide = 0.06;
        step.ph = 9.5;
    }
    return step;
}

static void run(hf_simulation *s, const hf_step *steps, size_t n)
{
    if (hf_simulation_run(s, steps, n) != HF_OK)
        fail_msg("%s", hf_simulation_message(s));
}

static double last(const hf_simulation *s, hf_column column)
{
    return hf_simulation_column(s, column)[hf_simulation_samples(s) - 1];
}

/* A wet fibre at the temperature of the bath follows the laws of one place. */
static void test_laws_of_one_place(void **unused)
{
    (void)unused;
    hf_simulation *s = simulation_of("virgin", 0.315);
    const hf_step wet = liquid(HF_STEP_SOAK, 600, 23);
    const hf_step perm[] = {liquid(HF_STEP_REDUCE, 300, 23), liquid(HF_STEP_RINSE, 300, 23),
                            liquid(HF_STEP_NEUTRALISE, 900, 23)};
    run(s, &wet, 1);
    CHECK_CLOSE(last(s, HF_COLUMN_DISULFIDE), 1, 0, 0, "water opens nothing");
    run(s, &perm[0], 1);
    const double opened = 1 - last(s, HF_COLUMN_DISULFIDE);
    CHECK_CLOSE(opened, 0.8156, 0, 0.003, "5 min of 1 mol/l at pH 9.4 (wickett-ch5, p. 167)");
    CHECK_CLOSE(last(s, HF_COLUMN_THIOL), 1.43 * opened, 1e-12, 0, "what is opened is thiol");
    run(s, &perm[1], 1);
    CHECK_CLOSE(1 - last(s, HF_COLUMN_DISULFIDE), opened, 1e-15, 0, "rinsing opens nothing");
    run(s, &perm[2], 1);
    CHECK_CLOSE(1 - last(s, HF_COLUMN_THIOL) / (1.43 * opened), hf_disulfide_reoxidised(900, NULL),
                1e-3, 0, "the same law");
    hf_simulation_free(s);

    static const double peroxide = 0.06;
    for (int law = 0; law < 2; law++) {
        s = simulation_of("virgin", 0.315);
        hf_step bleach = liquid(HF_STEP_BLEACH, 3600, 32.2);
        bleach.law = law;
        run(s, &bleach, 1);
        CHECK_CLOSE(last(s, HF_COLUMN_CYSTEIC_ACID),
                    hf_cysteic_acid(3600, K(32.2), peroxide, (hf_bleach_law)law, NULL), 1e-3, 0,
                    "the same law; the first seconds are cooler");
        hf_simulation_free(s);
    }
}

/* Half-cystine is kept to round-off through any schedule, in the record and in the state. */
static void test_balance(void **unused)
{
    (void)unused;
    static const char *const names[] = {"virgin", "bleached"};
    for (int i = 0; i < 2; i++) {
        hf_simulation *s = simulation_of(names[i], (double)NAN);
        hf_step steps[] = {liquid(HF_STEP_NEUTRALISE, 60, 25), liquid(HF_STEP_REDUCE, 200, 25),
                           liquid(HF_STEP_BLEACH, 900, 32),    liquid(HF_STEP_RINSE, 60, 35),
                           HF_STEP_INIT(HF_STEP_BLOT, 0),      HF_STEP_INIT(HF_STEP_AIR, 300),
                           liquid(HF_STEP_REDUCE, 200, 25),    liquid(HF_STEP_BLEACH, 900, 32),
                           liquid(HF_STEP_NEUTRALISE, 600, 25)};
        steps[5].temperature = K(50);
        steps[6].law = steps[7].law = 1;
        run(s, steps, sizeof steps / sizeof *steps);
        hf_sulfur state;
        assert_int_equal(hf_simulation_sulfur(s, &state), HF_OK);
        CHECK_CLOSE(hf_sulfur_total(&state), 1.46, 1e-13, 0, "robbinskelly1969, rounding only");
        const double *disulfide = hf_simulation_column(s, HF_COLUMN_DISULFIDE);
        const double *thiol = hf_simulation_column(s, HF_COLUMN_THIOL);
        const double *cysteic = hf_simulation_column(s, HF_COLUMN_CYSTEIC_ACID);
        const double cystine = 1.46 - cysteic[0];
        for (size_t k = 0; k < hf_simulation_samples(s); k++)
            CHECK_CLOSE(disulfide[k] * cystine + thiol[k] + cysteic[k], 1.46, 1e-13, 0,
                        "every sample");
        CHECK_CLOSE(state.cysteic, last(s, HF_COLUMN_CYSTEIC_ACID), 0, 0, "the same state");
        assert_true(state.cysteic > cysteic[0] + 0.05);
        hf_simulation_statistics statistics;
        hf_simulation_get_statistics(s, &statistics);
        assert_true(statistics.water_error < 1e-6 && statistics.energy_error < 1e-4);
        hf_simulation_free(s);
    }
}

/* Neutralising before anything was reduced is allowed and told. */
static void test_out_of_order(void **unused)
{
    (void)unused;
    hf_simulation *s = simulation_of("virgin", (double)NAN);
    const hf_step steps[] = {liquid(HF_STEP_NEUTRALISE, 60, 25), liquid(HF_STEP_REDUCE, 60, 25)};
    run(s, steps, 2);
    int told = 0;
    for (size_t i = 0; i < hf_simulation_event_count(s); i++) {
        hf_event event;
        assert_int_equal(hf_simulation_event(s, i, &event), HF_OK);
        if (event.kind == HF_EVENT_IDLE) {
            told++;
            assert_int_equal(event.step, 1);
        }
    }
    assert_int_equal(told, 1);
    assert_string_equal(hf_event_word(HF_EVENT_IDLE), "nothing to do");
    assert_true(last(s, HF_COLUMN_THIOL) > 0);
    hf_simulation_free(s);
}

/* A dry fibre starts to react as water comes in, so it lags a wet one. */
static void test_water_first(void **unused)
{
    (void)unused;
    hf_simulation *dry = simulation_of("virgin", 0.02), *wet = simulation_of("virgin", 0.315);
    const hf_step step = liquid(HF_STEP_REDUCE, 60, 23);
    run(dry, &step, 1);
    run(wet, &step, 1);
    assert_true(last(dry, HF_COLUMN_THIOL) < last(wet, HF_COLUMN_THIOL));
    assert_true(last(dry, HF_COLUMN_THIOL) > 0.5 * last(wet, HF_COLUMN_THIOL));
    /* Ten degrees more: faster by 50 kJ/mol (assumed), so by 1.9 in the rate. */
    hf_simulation *warm = simulation_of("virgin", 0.315);
    const hf_step warmer = liquid(HF_STEP_REDUCE, 60, 33);
    run(warm, &warmer, 1);
    const double ratio = log(last(warm, HF_COLUMN_DISULFIDE)) / log(last(wet, HF_COLUMN_DISULFIDE));
    CHECK_CLOSE(ratio, exp(50e3 / 8.314462618 * (1 / K(23) - 1 / K(33))), 0.02, 0,
                "rates at the temperature of the fibre, which warms within a second");
    assert_true(hf_simulation_extrapolated(warm)); /* 33 degC is beyond the range of the law */
    hf_simulation_free(dry);
    hf_simulation_free(wet);
    hf_simulation_free(warm);
}

static void test_front(void **unused)
{
    (void)unused;
    hf_simulation *s = simulation_of("virgin", 0.315);
    hf_step step = liquid(HF_STEP_REDUCE, 120, 23);
    step.law = 1;
    run(s, &step, 1);
    const double diameter = last(s, HF_COLUMN_DIAMETER);
    const double share = hf_reduction_moving_boundary(K(23), 1000, diameter, 120, NULL);
    CHECK_CLOSE(1 - last(s, HF_COLUMN_DISULFIDE), share, 0.01, 0, "the same law, fibre swollen");
    const double *front = hf_simulation_column(s, HF_COLUMN_FRONT);
    const double *left = hf_simulation_column(s, HF_COLUMN_DISULFIDE);
    for (size_t i = 1; i < hf_simulation_samples(s); i++) {
        assert_true(front[i] >= front[i - 1] && front[i] <= 1);
        CHECK_CLOSE(left[i], (1 - front[i]) * (1 - front[i]), 1e-9, 0,
                    "what the front has not passed");
    }
    const hf_step rinse = liquid(HF_STEP_RINSE, 10, 23);
    run(s, &rinse, 1);
    CHECK_CLOSE(last(s, HF_COLUMN_FRONT), 0, 0, 0, "no front in a rinse");
    /* Reduced through: nothing negative, nothing lost. */
    step.duration = 3600;
    run(s, &step, 1);
    CHECK_CLOSE(last(s, HF_COLUMN_DISULFIDE), 0, 0, 1e-12, "all open");
    CHECK_CLOSE(last(s, HF_COLUMN_THIOL), 1.43, 1e-12, 0, "all thiol");
    hf_simulation_free(s);
}

static void test_ph_inside(void **unused)
{
    (void)unused;
    hf_simulation *s = simulation_of("virgin", 0.315);
    CHECK_CLOSE(hf_simulation_column(s, HF_COLUMN_INTERNAL_PH)[0], hf_isoionic_point(NULL), 0, 1e-9,
                "before any bath the fibre has no charge");
    hf_step bath = liquid(HF_STEP_BATH, 900, 25);
    bath.ph = 3;
    bath.ionic_strength = 100;
    run(s, &bath, 1);
    const double wanted = hf_internal_ph(3, 100, last(s, HF_COLUMN_REGAIN), NULL);
    CHECK_CLOSE(last(s, HF_COLUMN_INTERNAL_PH), wanted, 0, 0.06,
                "equilibrium after about 15 min (breuer1967): three time constants");
    const double acid = last(s, HF_COLUMN_INTERNAL_PH);
    hf_step air = HF_STEP_INIT(HF_STEP_AIR, 600);
    air.temperature = K(40);
    run(s, &air, 1);
    CHECK_CLOSE(last(s, HF_COLUMN_INTERNAL_PH), acid, 1e-12, 0, "drying leaves the charges");
    const hf_step rinse = liquid(HF_STEP_RINSE, 3600, 25);
    run(s, &rinse, 1);
    CHECK_CLOSE(last(s, HF_COLUMN_INTERNAL_PH), hf_isoionic_point(NULL), 0, 0.05,
                "clean water takes the acid out again");
    hf_simulation_free(s);
}

static void test_cycles(void **unused)
{
    (void)unused;
    hf_simulation *s = simulation_of("virgin", (double)NAN);
    hf_step steps[] = {liquid(HF_STEP_SOAK, 600, 25), HF_STEP_INIT(HF_STEP_BLOT, 0),
                       HF_STEP_INIT(HF_STEP_AIR, 1800)};
    steps[2].temperature = K(30);
    steps[2].humidity = 0.3;
    for (int i = 1; i <= 3; i++) {
        run(s, steps, 3);
        CHECK_CLOSE(last(s, HF_COLUMN_HYDROGEN_CYCLES), i, 0, 0, "wetted and dried once more");
    }
    /* From the driest state before to wet: 14 % from bone dry, less from 30 % humidity. */
    const double strain = last(s, HF_COLUMN_HYDROGEN_STRAIN);
    assert_true(strain > 0.06 && strain < 0.14);
    hf_simulation *copy;
    assert_int_equal(hf_simulation_copy(&copy, s), HF_OK);
    hf_simulation_free(s);
    run(copy, steps, 3);
    CHECK_CLOSE(last(copy, HF_COLUMN_HYDROGEN_CYCLES), 4, 0, 0, "a copy goes on");
    hf_simulation_free(copy);
}

static void refuse(hf_step step, hf_status wanted, const char *part)
{
    hf_message message;
    const hf_room room = HF_ROOM_INIT;
    assert_int_equal(hf_step_check(&step, &room, &message), wanted);
    if (!strstr(message.text, part))
        fail_msg("\"%s\" does not say \"%s\"", message.text, part);
    hf_simulation *s = simulation_of("virgin", (double)NAN);
    assert_int_equal(hf_simulation_run(s, &step, 1), wanted);
    assert_non_null(strstr(hf_simulation_message(s), part));
    assert_int_equal(hf_simulation_samples(s), 1);
    hf_simulation_free(s);
}

static void test_refusals(void **unused)
{
    (void)unused;
    hf_step step = liquid(HF_STEP_BATH, 60, 25);
    refuse(step, HF_EINVAL, "bath: ph is missing");
    step.ph = 15;
    refuse(step, HF_ERANGE, "bath: ph = 15 must lie between 0 and 14");
    step.ph = -1;
    refuse(step, HF_ERANGE, "bath: ph = -1 must lie between 0 and 14");
    step.ph = 13;
    refuse(step, HF_ENOMODEL, "no validated model at pH 13");
    step.ph = 5;
    step.ionic_strength = 6000;
    refuse(step, HF_ERANGE, "ionic_strength = 6000 mol/m3 must lie between 0 and 5000");
    step = liquid(HF_STEP_REDUCE, 60, 25);
    step.concentration = -10;
    refuse(step, HF_ERANGE, "reduce: concentration = -10 mol/m3 must lie between 0 and 3000");
    step.concentration = (double)NAN;
    refuse(step, HF_EINVAL, "concentration is missing");
    step.concentration = 500;
    step.law = 0.5;
    refuse(step, HF_EINVAL, "law = 0.5 must be 0 or 1");
    step = liquid(HF_STEP_BLEACH, 60, 25);
    step.peroxide = 0.9;
    refuse(step, HF_ERANGE, "bleach: peroxide = 0.9 must lie between 0 and 0.35");
    step = liquid(HF_STEP_BLEACH, 60, 90);
    refuse(step, HF_ERANGE, "bleach: temperature = 363.15 K");
    step = liquid(HF_STEP_RINSE, 60, 25);
    step.temperature = (double)NAN;
    refuse(step, HF_EINVAL, "rinse: temperature is missing");
    assert_int_equal(hf_simulation_sulfur(NULL, NULL), HF_EINVAL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_laws_of_one_place),
        cmocka_unit_test(test_balance),
        cmocka_unit_test(test_out_of_order),
        cmocka_unit_test(test_water_first),
        cmocka_unit_test(test_front),
        cmocka_unit_test(test_ph_inside),
        cmocka_unit_test(test_cycles),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
