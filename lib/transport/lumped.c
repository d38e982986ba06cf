#include "lumped.h"

#include <math.h>

size_t hfi_lumped_film_at(const hfi_lumped *l)
{
    return l->shared->mesh->cells + (l->shared->mode == HFI_SURFACE_FILM ? 0 : 1);
}

size_t hfi_lumped_enthalpy_at(const hfi_lumped *l)
{
    return l->shared->mesh->cells + (l->shared->mode == HFI_SURFACE_FILM ? 1 : 0);
}

/* Temperature from sums over the cells: see material.h. */
static double temperature(const hfi_material *m, double water, double sorbed, double H,
                          double *capacity)
{
    const double b = m->c0 + water * m->cw, e = H + sorbed;
    const double root = sqrt(b * b + 2 * m->c1 * e);
    if (capacity)
        *capacity = root;
    return HFI_ENTHALPY_ZERO + 2 * e / (b + root);
}

double hfi_lumped_temperature(const hfi_lumped *l, const double *y, double *capacity)
{
    const hfi_radial *r = l->shared;
    double water = y[hfi_lumped_film_at(l)], sorbed = 0, heat;
    for (size_t i = 0; i < r->mesh->cells; i++) {
        water += r->mesh->cell_mass[i] * y[i];
        sorbed += r->mesh->cell_mass[i] * hfi_table_look(&r->material->sorbed, y[i], &heat, NULL);
    }
    return temperature(r->material, water, sorbed, y[hfi_lumped_enthalpy_at(l)], capacity);
}

/* Potential of every cell; water and bound heat of all together. Two cells at once where the tables hold
 * both. */
static void look_at_cells(const hfi_radial *r, const double *y, double *water, double *sorbed)
{
    const hfi_material *m = r->material;
    const size_t n = r->mesh->cells;
    const double *mass = r->mesh->cell_mass;
    double *potential = r->cell.potential;
    hfi_lanes waters = {0, 0}, heats = {0, 0};
    size_t i = 0;
    for (; i + 1 < n; i += 2) {
        const hfi_lanes w = {y[i], y[i + 1]}, share = {mass[i], mass[i + 1]};
        int piece[2];
        hfi_lanes x, held;
        if (hfi_table_places(w * m->sorbed.inverse_step, m->sorbed.pieces, piece, &x)) {
            held = hfi_table_values(&m->sorbed, piece, x);
            hfi_put_lanes(potential + i, hfi_table_values(&m->potential, piece, x));
        } else {
            held = (hfi_lanes){hfi_table_look(&m->sorbed, w[0], NULL, NULL),
                               hfi_table_look(&m->sorbed, w[1], NULL, NULL)};
            potential[i] = hfi_table_look(&m->potential, w[0], NULL, NULL);
            potential[i + 1] = hfi_table_look(&m->potential, w[1], NULL, NULL);
        }
        waters += share * w;
        heats += share * held;
    }
    if (i < n) {
        waters[0] += mass[i] * y[i];
        heats[0] += mass[i] * hfi_table_look(&m->sorbed, y[i], NULL, NULL);
        potential[i] = hfi_table_look(&m->potential, y[i], NULL, NULL);
    }
    *water = waters[0] + waters[1];
    *sorbed = heats[0] + heats[1];
}

int hfi_lumped_look(hfi_lumped *l, double t, const double *y)
{
    hfi_radial *r = l->shared;
    const hfi_material *m = r->material;
    const size_t n = r->mesh->cells;
    double water, sorbed;
    look_at_cells(r, y, &water, &sorbed);
    water += y[hfi_lumped_film_at(l)];
    l->T = temperature(m, water, sorbed, y[hfi_lumped_enthalpy_at(l)], &l->capacity);
    l->rise = l->T - HFI_ENTHALPY_ZERO;
    const hfi_cells *c = &r->cell;
    (void)hfi_table_look(&m->potential, y[n - 1], &c->diffusivity[n - 1], NULL);
    c->mobility[n - 1] = hfi_table_look(&m->mobility, l->T, &c->mobility_slope[n - 1], NULL);
    r->surface_temperature = l->T;
    const hfi_surface_state state = {
        .half = r->water_scale / r->mesh->outer_half[n - 1],
        .potential = c->potential[n - 1],
        .diffusivity = c->diffusivity[n - 1],
        .regain = y[n - 1],
        .mobility = c->mobility[n - 1],
        .mobility_slope = c->mobility_slope[n - 1],
        .temperature = l->T,
        .guess = r->surface_guess,
        .area = r->area,
        .temperature_outside = r->around.temperature + t * r->around.temperature_rate,
        .vapour_outside = r->around.vapour_pressure + t * r->around.vapour_rate,
    };
    const int refused = hfi_surface_balance(m, r->mode, &r->around, &state, &r->surface);
    r->surface_guess = refused ? (double)NAN : r->surface.regain;
    return refused;
}

static double leaving(const hfi_lumped *l)
{
    const hfi_radial *r = l->shared;
    const double liquid = r->material->cw * l->rise;
    return r->mode == HFI_SURFACE_BATH ? liquid : liquid + r->surface.latent;
}

static int rates(double t, const double *y, const double *q, double *dydt, double *dqdt, void *user)
{
    (void)q;
    hfi_lumped *l = user;
    if (hfi_lumped_look(l, t, y))
        return 1;
    const hfi_radial *r = l->shared;
    const size_t n = r->mesh->cells;
    const double evaporation = r->surface.evaporation.value;
    const double heat = r->around.heat_transfer * r->area *
                        (r->around.temperature + t * r->around.temperature_rate - l->T);
    if (dqdt) {
        dqdt[HFI_WATER_OUT] = evaporation;
        dqdt[HFI_HEAT_IN] = heat;
        dqdt[HFI_ENERGY_IN] = heat - evaporation * leaving(l);
    }
    if (!dydt)
        return 0;
    const hfi_cells *c = &r->cell;
    const double twice = 2 * c->mobility[n - 1];
    double before = 0;
    for (size_t i = 0; i + 1 < n; i++) {
        const double water = twice * c->water_face[i] * (c->potential[i] - c->potential[i + 1]);
        dydt[i] = (before - water) * c->inverse_mass[i];
        before = water;
    }
    dydt[n - 1] = (before - r->surface.water.value) * c->inverse_mass[n - 1];
    before = r->surface.water.value;
    dydt[hfi_lumped_film_at(l)] = r->mode == HFI_SURFACE_FILM ? before - evaporation : 0;
    dydt[hfi_lumped_enthalpy_at(l)] = heat - evaporation * leaving(l);
    return 0;
}

static int jacobian(double t, const double *y, const double *q, hfi_bt *j, void *user)
{
    (void)t;
    (void)q;
    hfi_lumped *l = user;
    hfi_radial *r = l->shared;
    const size_t n = r->mesh->cells;
    const hfi_cells *c = &r->cell;
    for (size_t i = 0; i < n; i++) {
        double heat;
        (void)hfi_table_look(&r->material->sorbed, y[i], &heat, NULL);
        (void)hfi_table_look(&r->material->potential, y[i], &c->diffusivity[i], NULL);
        c->carried[i] = r->material->cw * l->rise - heat;
    }
    const double twice = 2 * c->mobility[n - 1];
    for (size_t i = 0; i + 1 < n; i++) {
        const double k = twice * c->water_face[i];
        const double a = k * c->diffusivity[i], b = k * c->diffusivity[i + 1];
        j->diagonal[i] -= a * c->inverse_mass[i];
        j->upper[i] = b * c->inverse_mass[i];
        j->lower[i + 1] = a * c->inverse_mass[i + 1];
        j->diagonal[i + 1] -= b * c->inverse_mass[i + 1];
    }
    const hfi_surface_flows *s = &r->surface;
    j->diagonal[n - 1] -= s->water.by_regain * c->inverse_mass[n - 1];
    j->lower[n] = r->mode == HFI_SURFACE_FILM ? s->water.by_regain - s->evaporation.by_regain
                                              : -s->evaporation.by_regain * leaving(l);
    r->frozen.surface = *s;
    r->frozen.leaving = leaving(l);
    l->surface_by_T = s->evaporation.by_cell + s->evaporation.by_surface;
    l->water_by_T = s->water.by_cell + s->water.by_surface;
    for (size_t i = 0; i < n; i++)
        l->temperature_by[i] = -r->mesh->cell_mass[i] * c->carried[i] / l->capacity;
    l->temperature_by[hfi_lumped_film_at(l)] = -r->material->cw * l->rise / l->capacity;
    l->temperature_by[hfi_lumped_enthalpy_at(l)] = 1 / l->capacity;
    return 0;
}

/* Rank-one term: dT/dy acting on everything that depends on T. */
static int coupling(double t, const double *y, const double *q, double *u, double *v, void *user)
{
    (void)t;
    (void)y;
    (void)q;
    const hfi_lumped *l = user;
    const hfi_radial *r = l->shared;
    const size_t n = r->mesh->cells;
    const double slope = r->water_scale * r->cell.mobility_slope[n - 1];
    double before = 0;
    for (size_t i = 0; i < n; i++) {
        const double water = i + 1 < n ? slope * r->mesh->conductance[i + 1] *
                                             (r->cell.potential[i] - r->cell.potential[i + 1])
                                       : l->water_by_T;
        u[i] = (before - water) / r->mesh->cell_mass[i];
        before = water;
    }
    const double out_slope =
        r->material->cw + (r->mode == HFI_SURFACE_BATH ? 0 : r->frozen.surface.latent_slope);
    u[hfi_lumped_film_at(l)] = r->mode == HFI_SURFACE_FILM ? l->water_by_T - l->surface_by_T : 0;
    u[hfi_lumped_enthalpy_at(l)] = -r->around.heat_transfer * r->area -
                                   l->surface_by_T * r->frozen.leaving -
                                   r->frozen.surface.evaporation.value * out_slope;
    for (size_t i = 0; i < n + 2; i++)
        v[i] = l->temperature_by[i];
    return 0;
}

static int time_derivative(double t, const double *y, const double *q, double *dydt, double *dqdt,
                           void *user)
{
    (void)t;
    (void)y;
    (void)q;
    const hfi_lumped *l = user;
    const hfi_radial *r = l->shared;
    const size_t n = r->mesh->cells;
    const hfi_flow *water = &r->frozen.surface.water, *gone = &r->frozen.surface.evaporation;
    const double heat = r->around.heat_transfer * r->area * r->around.temperature_rate;
    dydt[n - 1] = -water->by_time / r->mesh->cell_mass[n - 1];
    if (r->mode == HFI_SURFACE_FILM)
        dydt[hfi_lumped_film_at(l)] = water->by_time - gone->by_time;
    dydt[hfi_lumped_enthalpy_at(l)] = heat - gone->by_time * r->frozen.leaving;
    dqdt[HFI_WATER_OUT] = gone->by_time;
    dqdt[HFI_HEAT_IN] = heat;
    dqdt[HFI_ENERGY_IN] = heat - gone->by_time * r->frozen.leaving;
    return 0;
}

static int gradient(double t, const double *y, const double *q, const double *v, double *out,
                    void *user)
{
    (void)t;
    (void)y;
    (void)q;
    const hfi_lumped *l = user;
    const hfi_radial *r = l->shared;
    const size_t n = r->mesh->cells;
    double by_T = 0;
    for (size_t i = 0; i < n + 2; i++)
        by_T += l->temperature_by[i] * v[i];
    const double evaporation =
        r->frozen.surface.evaporation.by_regain * v[n - 1] + l->surface_by_T * by_T;
    const double slope =
        r->material->cw + (r->mode == HFI_SURFACE_BATH ? 0 : r->frozen.surface.latent_slope);
    out[HFI_WATER_OUT] = evaporation;
    out[HFI_HEAT_IN] = -r->around.heat_transfer * r->area * by_T;
    out[HFI_ENERGY_IN] = out[HFI_HEAT_IN] - evaporation * r->frozen.leaving -
                         r->frozen.surface.evaporation.value * slope * by_T;
    return 0;
}

/* As in radial.c. */
static void closes(const double *v, double *out, double *size, void *user)
{
    const hfi_lumped *l = user;
    const double *mass = l->shared->mesh->cell_mass;
    double water = v[hfi_lumped_film_at(l)];
    for (size_t i = 0; i < l->shared->mesh->cells; i++)
        water += mass[i] * v[i];
    out[HFI_WATER_OUT] = water;
    out[HFI_ENERGY_IN] = -v[hfi_lumped_enthalpy_at(l)];
    if (!size)
        return;
    water = fabs(v[hfi_lumped_film_at(l)]);
    for (size_t i = 0; i < l->shared->mesh->cells; i++)
        water += mass[i] * fabs(v[i]);
    size[HFI_WATER_OUT] = water;
    size[HFI_ENERGY_IN] = fabs(v[hfi_lumped_enthalpy_at(l)]);
}

static int valid(double t, const double *y, const double *q, void *user)
{
    (void)t;
    (void)q;
    const hfi_lumped *l = user;
    return hfi_radial_dry_out(l->shared, y, 1);
}

static int events(double t, const double *y, const double *q, double *value, void *user)
{
    (void)q;
    hfi_lumped *l = user;
    value[HFI_EVENT_FILM_GONE] = l->shared->mode == HFI_SURFACE_FILM ? y[hfi_lumped_film_at(l)] : 1;
    value[HFI_EVENT_FILM_FORMS] = -1;
    if (l->shared->mode == HFI_SURFACE_BARE) {
        if (hfi_lumped_look(l, t, y))
            return 1;
        value[HFI_EVENT_FILM_FORMS] = l->shared->surface.regain - l->shared->surface.wet_regain;
    }
    return 0;
}

void hfi_lumped_problem(hfi_lumped *lumped, hfi_ode_problem *problem)
{
    *problem = (hfi_ode_problem){
        .blocks = lumped->shared->mesh->cells + 2,
        .block_size = 1,
        .quadratures = HFI_BOUNDARY_COUNTS,
        .events = HFI_RADIAL_EVENTS,
        .user = lumped,
        .rates = rates,
        .jacobian = jacobian,
        .coupling = coupling,
        .time_derivative = time_derivative,
        .quadrature_gradient = gradient,
        .balanced = HFI_BALANCED,
        .quadrature_balance = closes,
        .valid = valid,
        .event_values = events,
    };
    problem->event[HFI_EVENT_FILM_GONE].direction = -1;
    problem->event[HFI_EVENT_FILM_GONE].terminal = true;
    problem->event[HFI_EVENT_FILM_FORMS].direction = 1;
    problem->event[HFI_EVENT_FILM_FORMS].terminal = true;
}
