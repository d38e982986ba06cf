/*
 * Treatments of any fibre through any steps: a bad one is refused with a sentence, a good one ends with finite
 * numbers, closed balances and shares between 0 and 1, whatever the order of the steps.
 */
#include "treat_kit.h"

#include <string.h>

static void check_record(const hf_simulation *s, hf_status run)
{
    const size_t n = hf_simulation_samples(s), cells = hf_simulation_cells(s);
    if (hf_simulation_get_options(s)->cells != cells)
        fz_fail("%zu cells, not those of the options", cells);
    hf_simulation_statistics t;
    hf_event event;
    hf_sulfur sulfur;
    double radius[64], regain[64], temperature[64];
    if (n == 0 || cells > 64)
        fz_fail("%zu samples, %zu cells", n, cells);
    for (size_t c = 0; c < HF_COLUMNS; c++) {
        const double *column = hf_simulation_column(s, (hf_column)c);
        const hf_column_info *info = hf_column_at(c);
        for (size_t i = 0; i < n; i++) {
            const int share = c >= HF_COLUMN_CHANNELS || c == HF_COLUMN_DISULFIDE;
            if (!isfinite(column[i]) || (share && (column[i] < -1e-9 || column[i] > 1 + 1e-9)))
                fz_fail("%s is %g at sample %zu", info->name, column[i], i);
        }
        if (c == HF_COLUMN_TIME)
            for (size_t i = 1; i < n; i++)
                if (column[i] < column[i - 1])
                    fz_fail("time goes from %g to %g", column[i - 1], column[i]);
    }
    if (hf_simulation_column(s, HF_COLUMNS) || hf_column_at(HF_COLUMNS))
        fz_fail("a column past the end");
    for (size_t i = 0; i < hf_simulation_event_count(s); i++)
        if (hf_simulation_event(s, i, &event) != HF_OK || !hf_event_word(event.kind) ||
            !isfinite(event.time))
            fz_fail("event %zu cannot be read", i);
    const hf_status profile = hf_simulation_profile(s, n - 1, radius, regain, temperature);
    for (size_t i = 0; profile == HF_OK && i < cells; i++)
        if (!isfinite(radius[i]) || !isfinite(regain[i]) || !isfinite(temperature[i]) ||
            regain[i] < -1e-6)
            fz_fail("cell %zu: radius %g, regain %g, temperature %g", i, radius[i], regain[i],
                    temperature[i]);
    for (size_t z = 0; z < hf_simulation_zones(s); z++) {
        if (!isfinite(hf_simulation_zone_radius(s, z)) ||
            !isfinite(hf_simulation_zone_growth(s, z)))
            fz_fail("zone %zu is not finite", z);
        for (int c = 0; c < HF_CHANNELS; c++)
            if (!isfinite(hf_simulation_zone_channel(s, z, (hf_channel)c)))
                fz_fail("zone %zu, channel %d is not finite", z, c);
    }
    if (hf_simulation_sulfur(s, &sulfur) != HF_OK || !isfinite(hf_sulfur_total(&sulfur)))
        fz_fail("no sulfur");
    hf_simulation_get_statistics(s, &t);
    /* The integrator keeps what it conserves to rounding; the bound is of the tolerance, which is 1e-2 at most. */
    if (run == HF_OK && (!(t.water_error < 0.05) || !(t.energy_error < 0.05)))
        fz_fail("balances open: water %g, energy %g", t.water_error, t.energy_error);
    (void)hf_simulation_extrapolated(s);
    if (hf_simulation_get_options(s)->cells != cells)
        fz_fail("%zu cells of %zu", cells, hf_simulation_get_options(s)->cells);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    const hf_parameters *set = fz_set(&r);
    const hf_fibre_description d = fz_fibre(&r);
    const hf_room room = fz_room(&r);
    const hf_simulation_options o = fz_options(&r);
    hf_step steps[FZ_STEPS_MAX];
    size_t n = 0;
    hf_message message = {""};
    hf_fibre *fibre = NULL;
    hf_simulation *s = NULL, *branch = NULL;
    while (n < FZ_STEPS_MAX && fz_more(&r))
        steps[n++] = fz_step(&r);
    hf_status status = hf_fibre_new(&fibre, &d, set, &message);
    fz_check_status("fibre", status);
    if (status == HF_OK) {
        status = hf_simulation_new(&s, fibre, &room, &o, &message);
        fz_check_status("simulation", status);
    }
    if (hf_failed(status) && !message.text[0])
        fz_fail("refused (%s) without a sentence", hf_status_text(status));
    if (status == HF_OK) {
        hf_status worst = HF_OK;
        for (size_t i = 0; i < n; i++) {
            const hf_status checked = hf_step_check(&steps[i], &room, &message);
            fz_check_status("step", checked);
            if (hf_failed(checked) && !message.text[0])
                fz_fail("step %zu refused (%s) without a sentence", i, hf_status_text(checked));
            if (hf_failed(checked))
                worst = checked;
        }
        const hf_status run = hf_simulation_run(s, steps, n);
        fz_check_status("run", run);
        if (hf_failed(worst) && !hf_failed(run))
            fz_fail("a step is refused (%s), the run is not", hf_status_text(worst));
        if (hf_failed(run) && !hf_simulation_message(s)[0])
            fz_fail("the run failed (%s) without a sentence", hf_status_text(run));
        check_record(s, run);
        if (hf_simulation_copy(&branch, s) != HF_OK ||
            hf_simulation_samples(branch) != hf_simulation_samples(s))
            fz_fail("no copy");
        const size_t bytes_of = hf_simulation_samples(s) * sizeof(double);
        /* The same again from the start gives the same numbers. */
        if (run == HF_OK && hf_simulation_reset(s, fibre, &message) == HF_OK &&
            hf_simulation_run(s, steps, n) == HF_OK)
            for (size_t c = 0; c < HF_COLUMNS; c++)
                if (memcmp(hf_simulation_column(s, (hf_column)c),
                           hf_simulation_column(branch, (hf_column)c), bytes_of))
                    fz_fail("%s differs the second time", hf_column_at(c)->name);
    }
    hf_simulation_free(branch);
    hf_simulation_free(s);
    hf_fibre_free(fibre);
    return 0;
}
