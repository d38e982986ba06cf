/*
 * Surroundings of a step.
 *
 *   air, steam   heat transfer by the correlations of room water for the speed given, at the surface
 *                temperature when the step begins; vapour by the Lewis relation at film temperature
 *   rest         the same in the still air of the room
 *   plates       contact coefficient over the whole surface, halved when one side is heated; vapour
 *                leaves into the air of the room by the Lewis relation for that coefficient (assumed:
 *                the gap that conducts heat is the gap the vapour leaves by)
 *   liquids      heat transfer coefficient of the catalogue; no evaporation
 *
 * Vapour pressure outside: of the air itself where its humidity is given (below 100 degC); else of the
 * room's air, which warming does not change; steam: ambient pressure less its share of air. Radiation is
 * left out (10-20 W/(m2 K) against several hundred).
 */
#include "surroundings.h"

#include <hairfibre/water.h>

#include "../base/catalogue.h"

#include <math.h>

#define VAPOUR_GAS 461.52281 /* J/(kg K): gas constant over the molar mass of water */

/* Steps in the air of the room, which say nothing of their surroundings. */
static int in_room(const hf_step *step)
{
    return step->kind == HF_STEP_REST || step->kind == HF_STEP_PULL;
}

static double end_of(double start, double end)
{
    return isnan(end) ? start : end;
}

static double room_vapour(const hf_room *room)
{
    return room->humidity * hf_saturation_pressure(room->temperature);
}

static hf_status in_air(const hf_step *step, const hf_room *room, double diameter, double surface,
                        double temperature, double *heat_transfer)
{
    if (!isnan(step->heat_transfer)) {
        *heat_transfer = step->heat_transfer;
        return HF_OK;
    }
    double still, moving = 0;
    hf_status status = hf_heat_transfer_still_air_e(diameter, surface, temperature, room->pressure,
                                                    HF_EXTRAPOLATE, &still);
    if (!hf_failed(status) && !in_room(step) && step->speed > 0)
        status = hf_heat_transfer_moving_air_e(diameter, step->speed, surface, temperature,
                                               room->pressure, HF_EXTRAPOLATE, &moving);
    /* A slow stream never cools less than still air does. */
    *heat_transfer = fmax(still, moving);
    return hf_failed(status) ? status : HF_OK;
}

hf_status hfi_surroundings_of(const hf_step *step, const hf_room *room, const double *values,
                              double diameter, double surface, hfi_surroundings *out)
{
    const int rest = in_room(step);
    const double start = rest ? room->temperature : step->temperature;
    const double end = rest ? start : end_of(start, step->temperature_end);
    double vapour = room_vapour(room), vapour_end = vapour;
    *out = (hfi_surroundings){.ambient_pressure = room->pressure,
                              .temperature = start,
                              .temperature_rate = (end - start) / step->duration};
    hf_status status = HF_OK;
    switch (step->kind) {
    case HF_STEP_SOAK:
    case HF_STEP_BATH:
    case HF_STEP_BLEACH:
    case HF_STEP_REDUCE:
    case HF_STEP_NEUTRALISE:
    case HF_STEP_RINSE:
        out->heat_transfer = isnan(step->heat_transfer) ? values[HFI_TREATMENT_WATER_HEAT_TRANSFER]
                                                        : step->heat_transfer;
        return HF_OK;
    case HF_STEP_PLATES:
        out->heat_transfer = (isnan(step->heat_transfer) ? values[HFI_TREATMENT_PLATES_CONTACT]
                                                         : step->heat_transfer) *
                             step->sides / 2;
        break;
    case HF_STEP_STEAM:
        vapour = vapour_end = (1 - step->air_share) * room->pressure;
        /* Saturated at most: what is colder than its dew point is mist. */
        vapour = fmin(vapour, hf_saturation_pressure(start));
        vapour_end = fmin(vapour_end, hf_saturation_pressure(end));
        status = in_air(step, room, diameter, surface, 0.5 * (start + end), &out->heat_transfer);
        break;
    default:
        if (!isnan(step->humidity)) {
            vapour = step->humidity * hf_saturation_pressure(start);
            vapour_end = end_of(step->humidity, step->humidity_end) * hf_saturation_pressure(end);
        }
        status = in_air(step, room, diameter, surface, 0.5 * (start + end), &out->heat_transfer);
    }
    if (hf_failed(status))
        return status;
    const double most = 0.998 * room->pressure;
    out->vapour_pressure = fmin(vapour, most);
    out->vapour_rate = (fmin(vapour_end, most) - out->vapour_pressure) / step->duration;
    const double film = 0.5 * (0.5 * (start + end) + surface);
    double transfer;
    status = hf_mass_transfer_coefficient_e(out->heat_transfer, film, room->pressure,
                                            HF_EXTRAPOLATE, &transfer);
    if (hf_failed(status))
        return status;
    out->vapour_conductance = transfer * room->pressure / (VAPOUR_GAS * film);
    return HF_OK;
}
