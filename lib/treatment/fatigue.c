/*
 * Pulled again and again: the share of the characteristic life that is used.
 *
 *   dD/dt = r / a(s, h)                      linear damage sum (palmgren-miner)
 *
 *   D share used   r pulls per second   s stress, Pa   h humidity   a characteristic life, fatigue_life of the
 *   room strength (evans-fatigue)
 *
 * Lives were measured on fibres in balance with air. h is the humidity that the fibre's mean regain is in
 * balance with at its mean temperature, so that a wet fibre ages as in damp air until it has dried: an
 * assumption of this project (own-judgement). By Simpson's rule between samples. D adds up blind to the order,
 * which was never tested on hair. Nothing else in the treatment depends on it.
 */
#include "simulation_internal.h"

#include "../keratin/isotherm.h"
#include "../strength/fatigue.h"

#include <math.h>

/* A loss of disulfide bonds that a life of virgin hair does not know of. */
#define LOSS 0.01

void hfi_pulls_begin(hf_simulation *s, const hf_step *step)
{
    s->fatigue.rate = step->cycles / step->duration;
    s->fatigue.stress = step->stress;
    if (s->liquid.sulfur.cystine < (1 - LOSS) * s->liquid.cystine_start)
        s->extrapolated |= HF_BEYOND_VIRGIN;
}

void hfi_pulls_end(hf_simulation *s)
{
    s->fatigue.rate = 0;
}

/* Humidity that the fibre is in balance with at a time within the step. */
static hf_status humidity_at(hf_simulation *s, double t, double *humidity)
{
    hfi_view view;
    if (hfi_system_at(s->system, t, s->scratch) != HFI_ODE_OK)
        return HF_EINTERNAL;
    hfi_system_peek(s->system, s->scratch, &view);
    double temperature = 0;
    for (size_t i = 0; i < s->mesh->cells; i++)
        temperature += s->mesh->cell_mass[i] * view.temperature[i];
    hfi_isotherm isotherm;
    hfi_isotherm_at(&isotherm, s->values, s->material.branch, temperature);
    const double a = hfi_isotherm_activity(&isotherm, view.water - view.film, NULL, NULL);
    *humidity = fmin(fmax(a, 0), 1);
    return HF_OK;
}

hf_status hfi_pulls_follow(hf_simulation *s, double from, double to)
{
    hfi_pulls *f = &s->fatigue;
    if (!(f->rate > 0) || !(to > from))
        return HF_OK;
    static const double weight[3] = {1.0 / 6, 4.0 / 6, 1.0 / 6};
    double sum = 0;
    for (int i = 0; i < 3; i++) {
        double h;
        const hf_status status = humidity_at(s, from + 0.5 * i * (to - from), &h);
        if (status != HF_OK)
            return status;
        if (!hfi_fatigue_measured(f->stress, h))
            s->extrapolated |= HF_BEYOND_LIFE;
        sum += weight[i] / hfi_fatigue_life(s->values, f->stress, h);
    }
    f->used += f->rate * (to - from) * sum;
    return HF_OK;
}
