/*
 * Pulled until it breaks: the force that a treated strand bears once it has come to rest in the room's air.
 *
 *   F = X(h) c(f) A (-ln(1 - u))^(1/m) / Gamma(1 + 1/m)
 *
 * X mean break stress at the humidity h of the room, c share of it left after the loss f of disulfide bonds (dry), A
 * section as measured, m Weibull modulus of the scatter between strands, u the strand's own uniform number. The
 * quantities are break_stress, break_stress_left and break_probability of the room strength, with their sources.
 * Left out: what hot tools, voids and fatigue cost in strength. No law for that was found.
 */
#include "ensemble.h"

#include <hairfibre/strength.h>

#include "../base/catalogue.h"

#include <math.h>

hf_status hfi_pull(double luck, double area, double disulfide, double humidity,
                   const hf_parameters *set, double *force)
{
    double stress, left;
    hf_status status = hf_break_stress_e(humidity, set, HF_EXTRAPOLATE, &stress);
    if (hf_failed(status))
        return status;
    const hf_status law =
        hf_break_stress_left_e(fmax(1 - disulfide, 0), HF_DRY, set, HF_EXTRAPOLATE, &left);
    if (hf_failed(law))
        return law;
    const double m = hfi_values(set)[HFI_STRENGTH_SCATTER_MODULUS];
    *force = stress * left * area * pow(-log1p(-luck), 1 / m) / tgamma(1 + 1 / m);
    return status == HF_OK ? law : status;
}
