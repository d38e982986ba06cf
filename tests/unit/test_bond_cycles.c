/* Softening, water set, cycles of hydrogen bonds; from where the damage channels count. */
#include "check.h"

#include <hairfibre/bonds.h>
#include <hairfibre/keratin.h>
#include <hairfibre/treatment.h>

#include <string.h>

static double K(double celsius)
{
    return celsius + 273.15;
}

static void test_mobile(void **unused)
{
    (void)unused;
    const double all = hf_hydrogen_bonds_accessible(NULL);
    for (double w = 0.05; w < 0.31; w += 0.05)
        CHECK_CLOSE(hf_hydrogen_bonds_mobile(w, hf_glass_transition(w, NULL), NULL), all / 2, 1e-14,
                    0, "half at the glass transition");
    /* Wet hair is soft at room temperature, conditioned hair is not (harper2011: below 0 degC wet,
     * 50 to 100 degC as it dries). */
    assert_true(hf_hydrogen_bonds_mobile(0.315, K(25), NULL) > 0.8 * all);
    assert_true(hf_hydrogen_bonds_mobile(0.13, K(25), NULL) < 0.1 * all);
    double y = -1;
    assert_int_equal(hf_hydrogen_bonds_mobile_e(0.5, K(25), NULL, 0, &y), HF_ERANGE);
    assert_int_equal(hf_hydrogen_bonds_mobile_e(0.1, 200, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_hydrogen_bonds_mobile_e(0.1, (double)NAN, NULL, 1, &y), HF_EINVAL);
    assert_int_equal(hf_hydrogen_bonds_mobile_e(0.1, K(25), NULL, 1, NULL), HF_EINVAL);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
    assert_int_equal(hf_hydrogen_bonds_mobile_e(0.5, K(25), NULL, 1, &y), HF_EXTRAPOLATED);
}

static void test_water_set(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_water_set(1800, NULL), 0.58, 0, 0.005, "bending set (wickett-ch5, p. 162)");
    CHECK_CLOSE(hf_water_set(28800, NULL), 0.52, 0, 0.005, "bending set (wickett-ch5, p. 162)");
    double y;
    assert_int_equal(hf_water_set_e(60, NULL, 0, &y), HF_ERANGE);
    assert_int_equal(hf_water_set_e(60, NULL, 1, &y), HF_EXTRAPOLATED);
    assert_int_equal(hf_water_set_e(-1, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_water_set_e(60, NULL, 1, NULL), HF_EINVAL);
}

static void test_cycles(void **unused)
{
    (void)unused;
    /* Conditioned, soaked, dried, damp but not soft, soaked, dried, heated dry, cooled. */
    const double w[] = {0.10, 0.315, 0.05, 0.14, 0.04, 0.30, 0.02, 0.01, 0.01};
    const double T[] = {K(20), K(25), K(40), K(20), K(20), K(25), K(60), K(190), K(20)};
    hf_bond_cycle list[4];
    size_t count = 99;
    assert_int_equal(hf_bond_cycles_e(9, w, T, NULL, HF_EXTRAPOLATE, list, 4, &count, NULL),
                     HF_EXTRAPOLATED); /* 190 degC */
    assert_int_equal(count, 3);
    static const size_t softened[] = {1, 5, 7}, set[] = {2, 6, 8};
    /* From the driest since the cycle before to the wettest while soft. */
    static const double dry[] = {0.05, 0.02, 0.01}, wet[] = {0.315, 0.30, 0.01};
    for (int i = 0; i < 3; i++) {
        assert_int_equal(list[i].softened, softened[i]);
        assert_int_equal(list[i].set, set[i]);
        const double diameter = hf_diameter_swelling(wet[i], 0, NULL);
        const double driest = hf_diameter_swelling(dry[i], 0, NULL);
        CHECK_CLOSE(list[i].diameter_strain, (1 + diameter) / (1 + driest) - 1, 1e-12, 1e-15,
                    "swelling law");
        CHECK_CLOSE(list[i].length_strain,
                    (1 + hf_length_swelling(wet[i], 0, NULL)) /
                            (1 + hf_length_swelling(dry[i], 0, NULL)) -
                        1,
                    1e-12, 1e-15, "swelling law");
    }
    /* A cycle from bone dry to wet is the full swelling, about 14 % (evans-textbook, p. 353). */
    const double full[] = {0, 0.315, 0}, warm[] = {K(25), K(25), K(25)};
    assert_int_equal(hf_bond_cycles_e(3, full, warm, NULL, 0, list, 1, &count, NULL), HF_OK);
    assert_int_equal(count, 1);
    CHECK_CLOSE(list[0].diameter_strain, 0.14, 0, 0.01, "14 to 15 % are printed");
    /* Near the transition nothing flickers. */
    double edge[100], still[100];
    for (int i = 0; i < 100; i++) {
        edge[i] = 0.15;
        still[i] = hf_glass_transition(0.15, NULL) + (i % 2 ? 4 : -4);
    }
    assert_int_equal(hf_bond_cycles_e(100, edge, still, NULL, 0, NULL, 0, &count, NULL), HF_OK);
    assert_int_equal(count, 0);
    /* More cycles than room: all are counted. */
    double many[40], room[40];
    for (int i = 0; i < 40; i++) {
        many[i] = i % 2 ? 0.3 : 0.05;
        room[i] = K(25);
    }
    assert_int_equal(hf_bond_cycles_e(40, many, room, NULL, 0, list, 2, &count, NULL), HF_OK);
    assert_int_equal(count, 19);
    size_t bad = 99;
    room[5] = (double)NAN;
    assert_int_equal(hf_bond_cycles_e(40, many, room, NULL, 1, list, 2, &count, &bad), HF_EINVAL);
    assert_int_equal(bad, 5);
    assert_int_equal(count, 19);
    assert_int_equal(hf_bond_cycles_e(0, NULL, NULL, NULL, 0, NULL, 0, &count, NULL), HF_OK);
    assert_int_equal(count, 0);
    assert_int_equal(hf_bond_cycles_e(1, NULL, warm, NULL, 0, NULL, 0, &count, NULL), HF_EINVAL);
    assert_int_equal(hf_bond_cycles_e(1, full, warm, NULL, 0, NULL, 3, &count, NULL), HF_EINVAL);
    assert_int_equal(hf_bond_cycles_e(1, full, warm, NULL, 0, NULL, 0, NULL, NULL), HF_EINVAL);
}

/* A day in a room changes nothing, neither along a history nor in a simulation: the tryptophan law
 * (mcmullen1998, irons at 130 to 164 degC) is not counted below 110 degC. */
static void test_a_day_in_a_room(void **unused)
{
    (void)unused;
    const double time[] = {0, 86400}, T[] = {K(20), K(30)}, w[] = {0.14, 0.13};
    const hf_history day = {.n = 2, .time = time, .temperature = T, .regain = w, .passes = 365};
    hf_damage damage;
    assert_false(hf_failed(hf_damage_along_history_e(&day, NULL, &damage, NULL, NULL, NULL)));
    CHECK_CLOSE(damage.remaining[HF_CHANNEL_TRYPTOPHAN], 1, 0, 0, "not counted");
    for (size_t c = 0; c < HF_CHANNELS; c++)
        CHECK_CLOSE(damage.remaining[c], 1, 0, 1e-4, "a year: no assay sees a hundredth of 1 %");
    /* The law itself would have emptied the fibre in a day or two. */
    double rate;
    assert_int_equal(hf_tryptophan_rate_e(K(25), NULL, 1, &rate), HF_EXTRAPOLATED);
    assert_true(86400 * rate > 2);

    const hf_fibre_description description = HF_FIBRE_DESCRIPTION_INIT;
    const hf_step rest = HF_STEP_INIT(HF_STEP_REST, 86400);
    hf_simulation *s;
    hf_fibre *fibre;
    assert_int_equal(hf_fibre_new(&fibre, &description, NULL, NULL), HF_OK);
    assert_int_equal(hf_simulation_new(&s, fibre, NULL, NULL, NULL), HF_OK);
    assert_int_equal(hf_simulation_run(s, &rest, 1), HF_OK);
    const size_t last = hf_simulation_samples(s) - 1;
    for (int c = 0; c < HF_CHANNELS; c++)
        CHECK_CLOSE(hf_simulation_column(s, (hf_column)(HF_COLUMN_CHANNELS + c))[last], 1, 0, 1e-9,
                    "a day");
    hf_simulation_free(s);
    hf_fibre_free(fibre);
}

/* A ramp through 110 degC counts from there on. */
static void test_counted_from(void **unused)
{
    (void)unused;
    const double from = hf_channel_at(HF_CHANNEL_TRYPTOPHAN)->counted_from;
    CHECK_CLOSE(from, K(110), 1e-15, 0, "20 K below the coldest iron of mcmullen1998");
    for (int c = 0; c < HF_CHANNEL_TRYPTOPHAN; c++)
        CHECK_CLOSE(hf_channel_at((size_t)c)->counted_from, 0, 0, 0, "helix laws always count");
    const double slow[] = {0, 100}, ramp[] = {from - 50, from + 50}, w[] = {0.1, 0.1};
    const double fast[] = {0, 50}, above[] = {from, from + 50};
    hf_history whole = {.n = 2, .time = slow, .temperature = ramp, .regain = w, .passes = 1};
    hf_history upper = {.n = 2, .time = fast, .temperature = above, .regain = w, .passes = 1};
    hf_damage a, b;
    assert_false(hf_failed(hf_damage_along_history_e(&whole, NULL, &a, NULL, NULL, NULL)));
    assert_false(hf_failed(hf_damage_along_history_e(&upper, NULL, &b, NULL, NULL, NULL)));
    CHECK_CLOSE(a.exposure[HF_CHANNEL_TRYPTOPHAN], b.exposure[HF_CHANNEL_TRYPTOPHAN], 1e-12, 0,
                "the upper half of the ramp");
    assert_true(b.exposure[HF_CHANNEL_TRYPTOPHAN] > 0);
}

/* Lines of an Arrhenius plot: the same numbers as the single laws, slope -E/R. */
static void test_channel_rates(void **unused)
{
    (void)unused;
    const double T = K(150), R = 8.314462618;
    CHECK_CLOSE(hf_channel_rate(HF_CHANNEL_HELIX_WET, T, 0.3, NULL), hf_helix_rate_wet(T, NULL), 0,
                0, "one law");
    CHECK_CLOSE(hf_channel_rate(HF_CHANNEL_HELIX, T, 0.3, NULL), hf_helix_rate(T, 0.3, NULL), 0, 0,
                "one law");
    CHECK_CLOSE(hf_channel_rate(HF_CHANNEL_TRYPTOPHAN, T, 0.3, NULL), hf_tryptophan_rate(T, NULL),
                0, 0, "one law");
    static const double energy[HF_CHANNELS] = {
        [HF_CHANNEL_HELIX_WET] = 263e3,     /* wortmann2012 */
        [HF_CHANNEL_HELIX_DRY] = 416e3,     /* wortmann2012 */
        [HF_CHANNEL_TRYPTOPHAN] = 27614,    /* 6.6 kcal/mol, mcmullen1998 */
        [HF_CHANNEL_HELIX_IRONING] = 150e3, /* assumed */
    };
    for (int c = HF_CHANNEL_HELIX + 1; c < HF_CHANNELS; c++) {
        double hot, cold;
        assert_false(hf_failed(hf_channel_rate_e((hf_channel)c, 450, 0.1, NULL, 1, &hot)));
        assert_false(hf_failed(hf_channel_rate_e((hf_channel)c, 400, 0.1, NULL, 1, &cold)));
        CHECK_CLOSE(-log(hot / cold) / (1 / 450.0 - 1 / 400.0), energy[c] / R, 1e-9, 0,
                    "slope of the line");
    }
    double y = -1;
    assert_int_equal(hf_channel_rate_e(HF_CHANNELS, T, 0.1, NULL, 1, &y), HF_EINVAL);
    assert_int_equal(hf_channel_rate_e(HF_CHANNEL_TRYPTOPHAN, T, 0.1, NULL, 1, NULL), HF_EINVAL);
    assert_int_equal(hf_channel_rate_e(HF_CHANNEL_TRYPTOPHAN, 100, 0.1, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_channel_rate_e(HF_CHANNEL_TRYPTOPHAN, K(25), 0.1, NULL, 0, &y), HF_ERANGE);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
    assert_int_equal(hf_channel_rate_e(HF_CHANNEL_TRYPTOPHAN, K(25), 0.1, NULL, 1, &y),
                     HF_EXTRAPOLATED);
    CHECK_CLOSE(y, 0, 0, 0, "not counted");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_mobile),       cmocka_unit_test(test_water_set),
        cmocka_unit_test(test_cycles),       cmocka_unit_test(test_a_day_in_a_room),
        cmocka_unit_test(test_counted_from), cmocka_unit_test(test_channel_rates),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
