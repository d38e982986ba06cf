/*
 * Cycles of breaking and re-forming hydrogen bonds along a treatment.
 *
 *   soft    once T > Tg(w) + m, set again once T < Tg(w) - m
 *   strain  of a cycle: ratio(wettest) / ratio(driest) - 1
 *
 *   Tg(w)   glass transition of lib/keratin/transition.c, K; m margin, 5 K (assumed)
 *   ratio   diameter or length over dry (lib/keratin/swelling.c): at the wettest regain while the
 *           fibre was soft, and at the driest since the cycle before
 *
 * A fibre that starts soft completes a cycle when it sets, with no earlier state to compare with
 * than its own. Softening by heat alone counts too. A number of cycles is no damage: no law of
 * weakening by them is known (quantity hygral_fatigue).
 */
#include <hairfibre/bonds.h>

#include "cycles.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../keratin/properties.h"

int hfi_bond_cycles_update(hfi_bond_cycles *c, const double *values, double w, double T)
{
    const double above = T - hfi_glass_transition(values, w);
    const double margin = values[HFI_BOND_HYDROGEN_MARGIN];
    const size_t index = c->samples++;
    if (!c->begun) {
        c->begun = 1;
        c->soft = above > 0;
        c->driest = c->wettest = w;
    }
    c->driest = fmin(c->driest, w);
    if (!c->soft && above > margin) {
        c->soft = 1;
        c->wettest = w;
        c->softened = index;
    }
    if (c->soft)
        c->wettest = fmax(c->wettest, w);
    if (!c->soft || above >= -margin)
        return 0;
    c->soft = 0;
    c->count++;
    c->diameter_strain =
        hfi_diameter_ratio(values, c->wettest, NULL) / hfi_diameter_ratio(values, c->driest, NULL) -
        1;
    c->length_strain =
        hfi_length_ratio(values, c->wettest, NULL) / hfi_length_ratio(values, c->driest, NULL) - 1;
    c->driest = w;
    return 1;
}

hf_status hf_bond_cycles_e(size_t n, const double *regain, const double *temperature,
                           const hf_parameters *set, unsigned flags, hf_bond_cycle *cycles,
                           size_t room, size_t *count, size_t *bad)
{
    static const hfi_range regain_range = {HFI_SOFTENING_REGAIN};
    static const hfi_range temperature_range = {HFI_SOFTENING_TEMPERATURE};
    if (!count || (n && (!regain || !temperature)) || (room && !cycles))
        return HF_EINVAL;
    const double *values = hfi_values(set);
    hf_status worst = HF_OK;
    for (size_t i = 0; i < n; i++) {
        hf_status status = hfi_check(regain[i], &regain_range, flags);
        status = hfi_worse(status, hfi_check(temperature[i], &temperature_range, flags));
        worst = hfi_worse(worst, status);
        if (hf_failed(status)) {
            if (bad)
                *bad = i;
            return status;
        }
    }
    hfi_bond_cycles c = {0};
    for (size_t i = 0; i < n; i++)
        if (hfi_bond_cycles_update(&c, values, regain[i], temperature[i]) && c.count <= room)
            cycles[c.count - 1] =
                (hf_bond_cycle){c.softened, i, c.diameter_strain, c.length_strain};
    *count = c.count;
    return worst;
}
