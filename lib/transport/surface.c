#include "surface.h"

#include "../keratin/isotherm.h"
#include "../water/water.h"

#include <math.h>

/* Beyond this share of the ambient pressure the logarithm goes on as a straight line, so that trial
 * states of the integrator stay defined; accepted states lie far below it. */
#define STEEPEST 0.999999

/* Liquid water only (with room for rounding), and within the table of latent heat, K. */
#define COLDEST 273.15
#define HOTTEST 573.0

/* ln((p - pv) / (p - ps)) with derivatives by ps and pv. */
static double stefan(double p, double pv, double ps, double *by_ps, double *by_pv)
{
    *by_pv = -1 / (p - pv);
    const double limit = STEEPEST * p;
    if (ps <= limit) {
        *by_ps = 1 / (p - ps);
        return log((p - pv) / (p - ps));
    }
    *by_ps = 1 / (p - limit);
    return log((p - pv) / (p - limit)) + (ps - limit) * *by_ps;
}

/* Water activity, never above 1, with derivatives. */
static double activity(const hfi_isotherm *isotherm, double w, double *by_w, double *by_t)
{
    const double a = hfi_isotherm_activity(isotherm, w, by_w, by_t);
    if (a < 1)
        return a;
    *by_w = 0;
    *by_t = 0;
    return 1;
}

typedef struct vapour {
    double saturation, slope; /* Pa, Pa/K */
    hfi_isotherm isotherm;
} vapour;

/* Where liquid water lies on it, the surface holds what the fibre retains, or what the isotherm gives
 * at an activity of 1 where that is more (in the cold); *by_t its slope with temperature. */
static double wet_regain(const hfi_material *m, const hfi_isotherm *isotherm, double *by_t)
{
    const double saturation = hfi_isotherm_regain(isotherm, 1, NULL);
    *by_t = 0;
    if (saturation <= m->liquid_retention)
        return m->liquid_retention;
    double a_by_w, a_by_t;
    (void)hfi_isotherm_activity(isotherm, saturation, &a_by_w, &a_by_t);
    *by_t = -a_by_t / a_by_w;
    return saturation;
}

/* Vapour above liquid water; where that boils, it stands under the pressure of the surroundings. */
static double over_liquid(const hfi_surroundings *around, const vapour *v)
{
    return fmin(v->saturation, STEEPEST * around->ambient_pressure);
}

/* Evaporation from a fully wet surface (film). */
static void evaporate_film(const hfi_surroundings *around, const hfi_surface_state *s,
                           const vapour *v, hfi_surface_flows *flows)
{
    double by_ps, by_pv;
    const double b = around->vapour_conductance * s->area;
    flows->vapour_pressure = over_liquid(around, v);
    flows->evaporation.value =
        b * stefan(around->ambient_pressure, s->vapour_outside, v->saturation, &by_ps, &by_pv);
    flows->evaporation.by_surface = b * by_ps * v->slope;
    flows->evaporation.by_time = b * by_pv * around->vapour_rate;
}

/* Uptake by the outermost cell from liquid water. */
static void wet(const hfi_material *m, const hfi_surface_state *s, const vapour *v,
                hfi_surface_flows *flows)
{
    double diffusivity, by_t;
    flows->regain = flows->wet_regain = wet_regain(m, &v->isotherm, &by_t);
    const double potential = hfi_table_look(&m->potential, flows->regain, &diffusivity, NULL);
    const double conductance = s->half * s->mobility;
    flows->water.value = conductance * (s->potential - potential);
    flows->water.by_regain = conductance * s->diffusivity;
    flows->water.by_cell = s->half * s->mobility_slope * (s->potential - potential);
    flows->water.by_surface = -conductance * diffusivity * by_t;
}

/* The residual p_s(w) - p + (p - p_v) exp(-F(w)/B), rising with w, and its parts. */
typedef struct residual {
    double value, by_w;
    double flow, potential, diffusivity;
    double ps, ps_by_w, ps_by_t;
    double excess; /* (p - p_v) exp(-F/B) */
} residual;

static void work_out(const hfi_material *m, const hfi_surroundings *around,
                     const hfi_surface_state *s, const vapour *v, double b, double w, residual *r)
{
    double a_by_w, a_by_t;
    const double a = activity(&v->isotherm, w, &a_by_w, &a_by_t);
    r->ps = a * v->saturation;
    r->ps_by_w = a_by_w * v->saturation;
    r->ps_by_t = a_by_t * v->saturation + a * v->slope;
    r->potential = hfi_table_look(&m->potential, w, &r->diffusivity, NULL);
    r->flow = s->half * s->mobility * (s->potential - r->potential);
    /* Far outside the root the exponential would overflow; the bracket brings the search back. */
    const double away = around->ambient_pressure - s->vapour_outside;
    const double grown = expm1(fmin(-r->flow / b, 600));
    r->excess = away + away * grown;
    /* Written so that nothing cancels near balance. */
    r->value = r->ps - s->vapour_outside + away * grown;
    r->by_w = r->ps_by_w + r->excess * s->half * s->mobility * r->diffusivity / b;
}

/* Newton's step. Where vapour comes in, the exponential would make it crawl: there the logarithm of
 * both sides is taken, ln((p - p_v)/(p - p_s)) = F/B. */
static double newton_step(const hfi_surroundings *around, const hfi_surface_state *s, double b,
                          const residual *r)
{
    const double below = around->ambient_pressure - r->ps;
    if (r->flow >= 0 || below <= 0)
        return r->value / r->by_w;
    return (log1p((r->ps - s->vapour_outside) / below) - r->flow / b) /
           (r->ps_by_w / below + s->half * s->mobility * r->diffusivity / b);
}

static int evaporate_bare(const hfi_material *m, const hfi_surroundings *around,
                          const hfi_surface_state *s, const vapour *v, hfi_surface_flows *flows)
{
    const double b = around->vapour_conductance * s->area;
    residual r;
    /* Dry is below the root, because neither the cell nor the air holds less than no water. */
    const double least = fmin(s->regain, 0);
    double w = isnan(s->guess) ? s->regain : fmax(s->guess, least);
    work_out(m, around, s, v, b, w, &r);
    double low = r.value > 0 ? least : w, high = r.value > 0 ? w : 2;
    double move = HUGE_VAL;
    for (int i = 0; r.value != 0; i++) {
        const double step = newton_step(around, s, b, &r);
        if (fabs(step) <= 1e-20 + 1e-13 * fabs(w))
            break;
        double next = w - step;
        /* Halve the bracket instead where the step leaves it or does not get shorter fast enough. */
        const int halve = !(next > low && next < high) || (i > 3 && fabs(next - w) > 0.5 * move);
        if (halve)
            next = 0.5 * (low + high);
        move = fabs(next - w);
        w = next;
        work_out(m, around, s, v, b, w, &r);
        if (r.value > 0)
            high = w;
        else
            low = w;
        /* The error after a step of Newton's goes with its square. */
        if (move <= 1e-20 + (halve ? 1e-14 : 1e-9) * fabs(w))
            break;
        if (i == 100 || !isfinite(r.value))
            return 1;
    }
    flows->regain = w;
    flows->vapour_pressure = r.ps;
    const double k = s->half * s->mobility;
    flows->water.value = r.flow;
    /* Implicit derivatives: R(w_s; w_N, T_N, T_s, t) = 0. */
    const double from_flow = -r.excess / b;
    const double f_by_regain = k * s->diffusivity;
    const double f_by_cell = s->half * s->mobility_slope * (s->potential - r.potential);
    const double f_by_ws = -k * r.diffusivity;
    const double r_by_time =
        -around->vapour_rate * r.excess / (around->ambient_pressure - s->vapour_outside);
    flows->regain_by_regain = -from_flow * f_by_regain / r.by_w;
    flows->regain_by_cell = -from_flow * f_by_cell / r.by_w;
    flows->regain_by_surface = -r.ps_by_t / r.by_w;
    flows->water.by_regain = f_by_regain + f_by_ws * flows->regain_by_regain;
    flows->water.by_cell = f_by_cell + f_by_ws * flows->regain_by_cell;
    flows->water.by_surface = f_by_ws * flows->regain_by_surface;
    flows->water.by_time = -f_by_ws * r_by_time / r.by_w;
    flows->evaporation = flows->water;
    return 0;
}

int hfi_surface_balance(const hfi_material *m, hfi_surface_mode mode,
                        const hfi_surroundings *around, const hfi_surface_state *s,
                        hfi_surface_flows *flows)
{
    *flows = (hfi_surface_flows){0};
    if (!(s->temperature >= COLDEST && s->temperature <= HOTTEST))
        return 1;
    vapour v;
    v.slope = hfi_saturation_pressure_slope(s->temperature, &v.saturation);
    flows->latent = hfi_table_look(&m->latent, s->temperature, &flows->latent_slope, NULL);
    hfi_isotherm_at(&v.isotherm, m->values, m->branch, s->temperature);
    switch (mode) {
    case HFI_SURFACE_BATH:
        wet(m, s, &v, flows);
        flows->vapour_pressure = over_liquid(around, &v);
        flows->evaporation = flows->water;
        return 0;
    case HFI_SURFACE_FILM:
        wet(m, s, &v, flows);
        evaporate_film(around, s, &v, flows);
        return 0;
    case HFI_SURFACE_BARE:
        break;
    }
    double unused;
    flows->wet_regain = wet_regain(m, &v.isotherm, &unused);
    return evaporate_bare(m, around, s, &v, flows);
}
