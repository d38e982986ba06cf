#include "explain.h"
#include "heat_transfer.h"
#include "ranges.h"
#include "water.h"

#include <math.h>
#include <stdio.h>

void hfi_explain_boiling_at_activity(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    snprintf(
        message->text, sizeof message->text,
        "pressure / humidity = %.6g Pa lies above the critical pressure %.6g Pa: water of this "
        "activity never reaches the ambient pressure",
        x[1] / x[0], HFI_CRITICAL_PRESSURE);
}

void hfi_explain_humidity_ratio(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    const double saturation = hfi_saturation_pressure(x[0]);
    if (x[1] * saturation >= x[2])
        snprintf(message->text, sizeof message->text,
                 "the vapour pressure %.6g Pa would pass the ambient pressure %.6g Pa: at this "
                 "temperature the relative humidity of open air stays below %.4g %%",
                 x[1] * saturation, x[2], 100 * x[2] / saturation);
}

void hfi_explain_dew_point(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    snprintf(message->text, sizeof message->text,
             "the vapour pressure %.4g Pa lies below the triple point of water (%.6g Pa): frost "
             "forms there, not dew",
             x[1] * hfi_saturation_pressure(x[0]), HFI_SATURATION_PRESSURE_LOW);
}

void hfi_explain_wet_bulb(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_explain_humidity_ratio(x, set, message);
    if (!message->text[0])
        snprintf(message->text, sizeof message->text,
                 "the wet bulb of this air lies below %.6g K (0.01 degC): it would freeze",
                 HFI_TRIPLE_TEMPERATURE);
}

void hfi_explain_cross_flow(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    snprintf(message->text, sizeof message->text,
             "reynolds * prandtl = %.4g must be %g or more for this law", x[0] * x[1],
             HFI_CROSS_FLOW_PECLET);
}

void hfi_explain_moving_air(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    const hfi_film film = hfi_film_at(x[0], 1, x[2], x[3], x[4]);
    const double least = fmax(HFI_STREAM_REYNOLDS, cbrt(film.grashof));
    snprintf(message->text, sizeof message->text,
             "speed = %.4g m/s must be %.4g m/s or more here: in slower air free convection joins "
             "in (Reynolds number %.4g, at least %.4g is needed)",
             x[1], least / film.reynolds, x[1] * film.reynolds, least);
}

void hfi_explain_still_air(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    const hfi_film film = hfi_film_at(x[0], 0, x[1], x[2], x[3]);
    snprintf(message->text, sizeof message->text,
             "surface and air differ too little for this law: Rayleigh number %.4g must be %g or "
             "more",
             film.grashof * film.prandtl, HFI_STILL_RAYLEIGH);
}
