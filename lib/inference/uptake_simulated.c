/*
 * Water entering or leaving a fibre, computed with the balances of lib/transport: diffusivity exponential in regain,
 *
 *   D = Dlow exp(slope (w - 0.03)),   w regain, kg/kg;  Dlow, m2/s, at the temperature of the measurement
 *
 * swelling, heat of sorption, an air film that carries heat (`air_film`) and, by the Lewis relation, vapour. The fibre
 * starts at an even regain in balance with its surroundings; then the air takes the humidity at which the isotherm
 * (shipped set) gives the final regain. Rising: absorption branch, else desorption. The radius is that at the start.
 * Every law but D, and every number but the parameters of the fit, is that of the shipped set.
 *
 * Left out: history, hysteresis within a step, the slow second stage of sorption. Source: the laws of lib/transport
 * and lib/keratin; an exponential diffusivity is common practice.
 */
#include "models.h"

#include "../base/catalogue.h"
#include "../keratin/constants.h"
#include "../keratin/isotherm.h"
#include "../keratin/properties.h"
#include "../transport/system.h"

#include <hairfibre/water.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CELLS      20
#define TOLERANCE  1e-7
#define MAX_STEPS  4000
#define VAPOUR_GAS 461.52281 /* J/(kg K) */

/* Parameters in this order. */
enum { LOW, SLOPE, FILM, START, FINAL, RADIUS, TEMPERATURE };

typedef struct curve {
    double values[HFI_PARAMETERS];
    hfi_material material;
    hfi_mesh *mesh;
    hfi_system *system;
    double *state, *scratch;
    /* Of the points: order of the times, and which of them is next. */
    size_t n, next, *order;
    const double *x;
    double *y;
} curve;

static void release(curve *c)
{
    hfi_system_free(c->system);
    hfi_mesh_free(c->mesh);
    free(c->state);
    free(c->scratch);
    free(c->order);
    free(c);
}

static hf_status answered(int status)
{
    return status == HFI_ODE_OK          ? HF_OK
           : status == HFI_ODE_NO_MEMORY ? HF_ENOMEM
           : status == HFI_ODE_STOPPED   ? HF_ESTOPPED
                                         : HF_ERANGE;
}

/* Mean regain at every time that the step just made has passed. */
static int follow(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    curve *c = user;
    double from, to;
    (void)hit;
    if (hfi_ode_dense_range(ode, &from, &to) != HFI_ODE_OK)
        return 0;
    for (; c->next < c->n && c->x[c->order[c->next]] <= to; c->next++) {
        hfi_view view;
        if (hfi_system_at(c->system, c->x[c->order[c->next]], c->scratch) != HFI_ODE_OK)
            return 1;
        hfi_system_peek(c->system, c->scratch, &view);
        c->y[c->order[c->next]] = view.water;
    }
    return 0;
}

/* Insertion: the times of a curve are nearly always in order. */
static void put_in_order(curve *c)
{
    for (size_t i = 0; i < c->n; i++) {
        size_t at = i;
        while (at > 0 && c->x[c->order[at - 1]] > c->x[i]) {
            c->order[at] = c->order[at - 1];
            at--;
        }
        c->order[at] = i;
    }
}

/* Laws at these parameters; the surroundings that end at the final regain. */
static hf_status prepare(curve *c, const double *b, hfi_surroundings *around, double *dry_radius)
{
    const hf_branch branch = b[FINAL] >= b[START] ? HF_ABSORPTION : HF_DESORPTION;
    const double T = b[TEMPERATURE];
    memcpy(c->values, hfi_values(NULL), sizeof c->values);
    const double arrhenius = exp(-c->values[HFI_DIFFUSION_ENERGY] / HFI_GAS_CONSTANT *
                                 (1 / T - 1 / HFI_REFERENCE_TEMPERATURE));
    c->values[HFI_DIFFUSION_EXPONENTIAL_LOW] = b[LOW] / arrhenius;
    c->values[HFI_DIFFUSION_EXPONENTIAL_SLOPE] = b[SLOPE];
    hfi_material_prepare(&c->material, c->values, branch, HFI_LAW_EXPONENTIAL);
    hfi_isotherm isotherm;
    hfi_isotherm_at(&isotherm, c->values, branch, T);
    const double activity = hfi_isotherm_activity(&isotherm, b[FINAL], NULL, NULL);
    const double saturated = hf_saturation_pressure(T), pressure = 101325;
    double transfer;
    if (!(activity >= 0 && activity < 0.999) || !(saturated < 0.9 * pressure))
        return HF_ERANGE;
    const hf_status status =
        hf_mass_transfer_coefficient_e(b[FILM], T, pressure, HF_EXTRAPOLATE, &transfer);
    if (hf_failed(status))
        return HF_ERANGE;
    *around = (hfi_surroundings){.heat_transfer = b[FILM],
                                 .vapour_conductance = transfer * pressure / (VAPOUR_GAS * T),
                                 .ambient_pressure = pressure,
                                 .temperature = T,
                                 .vapour_pressure = activity * saturated};
    *dry_radius = b[RADIUS] / hfi_diameter_ratio(c->values, b[START], NULL);
    return HF_OK;
}

static hf_status build(curve *c, const double *b, double dry_radius)
{
    int status = hfi_mesh_create(CELLS, HFI_MESH_GRADING, dry_radius, &c->mesh);
    if (status != HFI_MESH_OK)
        return status == HFI_MESH_NO_MEMORY ? HF_ENOMEM : HF_ERANGE;
    status = hfi_system_create(&c->material, c->mesh, 0, TOLERANCE, MAX_STEPS, NULL, &c->system);
    if (status != HFI_ODE_OK)
        return answered(status);
    const size_t size = hfi_system_size(c->system);
    c->state = calloc(size, sizeof *c->state);
    c->scratch = calloc(size, sizeof *c->scratch);
    if (!c->state || !c->scratch)
        return HF_ENOMEM;
    double regain[CELLS], temperature[CELLS];
    for (size_t i = 0; i < CELLS; i++) {
        regain[i] = b[START];
        temperature[i] = b[TEMPERATURE];
    }
    hfi_system_fill(c->system, regain, temperature, 0, c->state);
    return HF_OK;
}

static hf_status solve(curve *c, const double *b)
{
    hfi_surroundings around;
    double dry_radius;
    hf_status status = prepare(c, b, &around, &dry_radius);
    if (status == HF_OK)
        status = build(c, b, dry_radius);
    if (status != HF_OK)
        return status;
    put_in_order(c);
    while (c->next < c->n && c->x[c->order[c->next]] == 0)
        c->y[c->order[c->next++]] = b[START];
    if (c->next == c->n)
        return HF_OK;
    const double end = c->x[c->order[c->n - 1]];
    const double area = 2 * b[RADIUS] / (c->material.dry_density * dry_radius * dry_radius);
    int done = hfi_system_begin(c->system, &around, area, end, c->state);
    if (done == HFI_ODE_OK)
        done = hfi_system_advance(c->system, end, follow, c, c->state);
    if (done != HFI_ODE_OK || c->next < c->n)
        return done == HFI_ODE_OK || done == HFI_ODE_EVENT ? HF_ERANGE : answered(done);
    return HF_OK;
}

HFI_VALUES(hfi_exponential_values)
{
    (void)user;
    if (!(b[LOW] > 0 && b[FILM] > 0 && b[RADIUS] > 0 && b[START] >= 0 && b[FINAL] >= 0 &&
          fabs(b[SLOPE]) < 200 && b[TEMPERATURE] > 274 && b[TEMPERATURE] < 370))
        return HF_ERANGE;
    for (size_t i = 0; i < n; i++)
        if (!(x[i] >= 0))
            return HF_ERANGE;
    curve *c = calloc(1, sizeof *c);
    if (!c)
        return HF_ENOMEM;
    c->n = n;
    c->x = x;
    c->y = y;
    c->order = malloc(n * sizeof *c->order);
    const hf_status status = c->order ? solve(c, b) : HF_ENOMEM;
    release(c);
    return status;
}

/* From the constant diffusivity at the middle regain and the usual slope. */
HFI_STARTER(hfi_exponential_starter)
{
    double plain[4] = {(double)NAN, b[START], b[FINAL], b[RADIUS]};
    const hf_status status = hfi_uptake_starter(n, x, y, user, plain);
    b[SLOPE] = isfinite(b[SLOPE]) ? b[SLOPE] : 10;
    b[START] = plain[1];
    b[FINAL] = plain[2];
    const double middle = 0.5 * (plain[1] + plain[2]);
    b[LOW] = isfinite(b[LOW]) ? b[LOW] : plain[0] * exp(-b[SLOPE] * (middle - 0.03));
    return status;
}
