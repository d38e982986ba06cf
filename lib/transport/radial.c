#include "radial.h"

#include <math.h>

double hfi_radial_temperature(const hfi_material *m, double w, double H, double *capacity,
                              double *carried)
{
    double heat, slope;
    const double sorbed = hfi_table_look(&m->sorbed, w, &heat, &slope);
    const double e = H + sorbed, b = m->c0 + w * m->cw;
    const double root = sqrt(b * b + 2 * m->c1 * e);
    const double x = 2 * e / (b + root);
    if (capacity)
        *capacity = root;
    if (carried)
        *carried = m->cw * x - heat;
    return HFI_ENTHALPY_ZERO + x;
}

static double surface_capacity(const hfi_material *m, double film)
{
    return HFI_SKIN * m->c0 + film * m->cw;
}

double hfi_radial_surface_temperature(const hfi_material *m, double film, double H)
{
    const double capacity = surface_capacity(m, film);
    return capacity > 0 ? HFI_ENTHALPY_ZERO + H / capacity : (double)NAN;
}

/* What the rates need of a cell. Regain is a place in two tables of one grid. */
static void look_at_cell(const hfi_material *m, double w, double H, hfi_cell *c)
{
    double heat, x;
    const int piece = hfi_table_piece(&m->sorbed, w, &x);
    const double e = H + hfi_table_value(&m->sorbed, piece, x, &heat), b = m->c0 + w * m->cw;
    const double root = sqrt(b * b + 2 * m->c1 * e);
    const double rise = 2 * e / (b + root);
    c->capacity = root;
    c->T = HFI_ENTHALPY_ZERO + rise;
    c->carried = m->cw * rise - heat;
    c->potential = hfi_table_value(&m->potential, piece, x, NULL);
    c->conductivity = m->k0 + m->k1 * w;
    c->regain_piece = piece;
    c->by_regain = x;
    c->kelvin_piece = hfi_table_piece(&m->mobility, c->T, &c->by_kelvin);
    c->mobility = hfi_table_value(&m->mobility, c->kelvin_piece, c->by_kelvin, NULL);
}

/* What only the derivatives need, of a cell already looked at. */
static void look_at_slopes(const hfi_material *m, hfi_cell *c)
{
    (void)hfi_table_value(&m->potential, c->regain_piece, c->by_regain, &c->diffusivity);
    c->carried_slope = -hfi_table_bend(&m->sorbed, c->regain_piece, c->by_regain);
    (void)hfi_table_value(&m->mobility, c->kelvin_piece, c->by_kelvin, &c->mobility_slope);
}

/* Surface flows from the outermost cell, which must have been looked at. */
static int look_at_surface(hfi_radial *r, double t, const double *y)
{
    const size_t n = r->mesh->cells;
    r->surface_capacity = surface_capacity(r->material, y[2 * n]);
    if (!(r->surface_capacity > 0))
        return 1;
    r->surface_temperature = HFI_ENTHALPY_ZERO + y[2 * n + 1] / r->surface_capacity;
    hfi_cell *last = &r->cell[n - 1];
    look_at_slopes(r->material, last);
    const hfi_surface_state state = {
        .half = r->water_scale / r->mesh->outer_half[n - 1],
        .potential = last->potential,
        .diffusivity = last->diffusivity,
        .regain = y[2 * n - 2],
        .mobility = last->mobility,
        .mobility_slope = last->mobility_slope,
        .temperature = r->surface_temperature,
        .guess = r->surface_guess,
        .area = r->area,
        .temperature_outside = r->around.temperature + t * r->around.temperature_rate,
        .vapour_outside = r->around.vapour_pressure + t * r->around.vapour_rate,
    };
    const int refused =
        hfi_surface_balance(r->material, r->mode, &r->around, &state, &r->surface);
    r->surface_guess = refused ? (double)NAN : r->surface.regain;
    return refused;
}

int hfi_radial_look(hfi_radial *r, double t, const double *y)
{
    for (size_t i = 0; i < r->mesh->cells; i++)
        look_at_cell(r->material, y[2 * i], y[2 * i + 1], &r->cell[i]);
    return look_at_surface(r, t, y);
}

/* Energy that a kg of water takes along when it leaves the surface node. */
static double leaving(const hfi_radial *r)
{
    const double liquid = r->material->cw * (r->surface_temperature - HFI_ENTHALPY_ZERO);
    return r->mode == HFI_SURFACE_BATH ? liquid : liquid + r->surface.latent;
}

static int rates(double t, const double *y, const double *q, double *dydt, double *dqdt, void *user)
{
    (void)q;
    hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    if (hfi_radial_look(r, t, y))
        return 1;
    const hfi_cell *last = &r->cell[n - 1];
    const double evaporation = r->surface.evaporation.value;
    const double heat = r->around.heat_transfer * r->area *
                        (r->around.temperature + t * r->around.temperature_rate -
                         r->surface_temperature);
    if (dqdt) {
        dqdt[HFI_WATER_OUT] = evaporation;
        dqdt[HFI_HEAT_IN] = heat;
        dqdt[HFI_ENERGY_IN] = heat - evaporation * leaving(r);
    }
    if (!dydt)
        return 0;
    double water_before = 0, energy_before = 0;
    for (size_t i = 0; i + 1 < n; i++) {
        const hfi_cell *a = &r->cell[i], *b = a + 1;
        const double g = r->mesh->conductance[i + 1];
        const double water = r->water_scale * g * 0.5 * (a->mobility + b->mobility) *
                             (a->potential - b->potential);
        const double energy =
            r->heat_scale * g * 0.5 * (a->conductivity + b->conductivity) * (a->T - b->T) +
            water * 0.5 * (a->carried + b->carried);
        const double inverse = 1 / r->mesh->cell_mass[i];
        dydt[2 * i] = (water_before - water) * inverse;
        dydt[2 * i + 1] = (energy_before - energy) * inverse;
        water_before = water;
        energy_before = energy;
    }
    const double water = r->surface.water.value;
    const double energy = r->heat_scale / r->mesh->outer_half[n - 1] * last->conductivity *
                              (last->T - r->surface_temperature) +
                          water * last->carried;
    const double inverse = 1 / r->mesh->cell_mass[n - 1];
    dydt[2 * n - 2] = (water_before - water) * inverse;
    dydt[2 * n - 1] = (energy_before - energy) * inverse;
    dydt[2 * n] = r->mode == HFI_SURFACE_FILM ? water - evaporation : 0;
    dydt[2 * n + 1] = energy + heat - evaporation * leaving(r);
    return 0;
}

/* Derivatives of a pair of flows (water, energy) by one cell's (w, H), from those by (w, T). */
typedef struct pair {
    double water_w, water_h, energy_w, energy_h;
} pair;

static pair by_state(const hfi_cell *c, double water_w, double water_t, double energy_w,
                     double energy_t)
{
    const double t_h = 1 / c->capacity, t_w = -c->carried * t_h;
    return (pair){water_w + water_t * t_w, water_t * t_h, energy_w + energy_t * t_w,
                  energy_t * t_h};
}

static void add(double *block, double factor, const pair *p)
{
    block[0] += factor * p->water_w;
    block[1] += factor * p->water_h;
    block[2] += factor * p->energy_w;
    block[3] += factor * p->energy_h;
}

static int jacobian(double t, const double *y, const double *q, hfi_bt *j, void *user)
{
    (void)t;
    (void)y;
    (void)q;
    hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    for (size_t i = 0; i + 1 < n; i++)
        look_at_slopes(r->material, &r->cell[i]);
    for (size_t i = 0; i + 1 < n; i++) {
        const hfi_cell *a = &r->cell[i], *b = a + 1;
        const double g = r->mesh->conductance[i + 1];
        const double k = r->water_scale * g, f = 0.5 * (a->mobility + b->mobility);
        const double drop = a->potential - b->potential, water = k * f * drop;
        const double h = 0.5 * (a->carried + b->carried);
        const double heat = r->heat_scale * g * 0.5 * (a->conductivity + b->conductivity);
        const double heat_w = r->heat_scale * g * 0.5 * r->material->k1 * (a->T - b->T);
        const double wa = k * f * a->diffusivity, wb = -k * f * b->diffusivity;
        const double ta = 0.5 * k * drop * a->mobility_slope;
        const double tb = 0.5 * k * drop * b->mobility_slope;
        const double carry = 0.5 * water * r->material->cw;
        const pair pa = by_state(a, wa, ta, heat_w + wa * h + 0.5 * water * a->carried_slope,
                                 heat + ta * h + carry);
        const pair pb = by_state(b, wb, tb, heat_w + wb * h + 0.5 * water * b->carried_slope,
                                 -heat + tb * h + carry);
        const double ma = 1 / r->mesh->cell_mass[i], mb = 1 / r->mesh->cell_mass[i + 1];
        add(&j->diagonal[4 * i], -ma, &pa);
        add(&j->upper[4 * i], -ma, &pb);
        add(&j->lower[4 * (i + 1)], mb, &pa);
        add(&j->diagonal[4 * (i + 1)], mb, &pb);
    }
    const hfi_cell *c = &r->cell[n - 1];
    const hfi_surface_flows *s = &r->surface;
    const double heat = r->heat_scale / r->mesh->outer_half[n - 1] * c->conductivity;
    const double heat_w = r->heat_scale / r->mesh->outer_half[n - 1] * r->material->k1 *
                          (c->T - r->surface_temperature);
    const double water = s->water.value, h = c->carried;
    /* By the outermost cell. */
    const pair cell = by_state(c, s->water.by_regain, s->water.by_cell,
                               heat_w + s->water.by_regain * h + water * c->carried_slope,
                               heat + s->water.by_cell * h + water * r->material->cw);
    const double m = 1 / r->mesh->cell_mass[n - 1];
    add(&j->diagonal[4 * (n - 1)], -m, &cell);
    const double out = leaving(r), evaporation = s->evaporation.value;
    const pair lost = by_state(c, s->evaporation.by_regain, s->evaporation.by_cell,
                               s->evaporation.by_regain * out, s->evaporation.by_cell * out);
    double *down = &j->lower[4 * n];
    const double film = r->mode == HFI_SURFACE_FILM ? 1 : 0;
    down[0] = film * (cell.water_w - lost.water_w);
    down[1] = film * (cell.water_h - lost.water_h);
    down[2] = cell.energy_w - lost.energy_w;
    down[3] = cell.energy_h - lost.energy_h;
    /* By the surface temperature, then by film and enthalpy of the node. */
    const double t_h = 1 / r->surface_capacity;
    const double t_m =
        -r->material->cw * (r->surface_temperature - HFI_ENTHALPY_ZERO) / r->surface_capacity;
    const double out_slope =
        r->material->cw + (r->mode == HFI_SURFACE_BATH ? 0 : s->latent_slope);
    const double cell_water = s->water.by_surface, cell_energy = -heat + cell_water * h;
    const double node_water = film * (s->water.by_surface - s->evaporation.by_surface);
    const double node_energy = cell_energy - r->around.heat_transfer * r->area -
                               s->evaporation.by_surface * out - evaporation * out_slope;
    double *up = &j->upper[4 * (n - 1)], *node = &j->diagonal[4 * n];
    up[0] += -m * cell_water * t_m;
    up[1] += -m * cell_water * t_h;
    up[2] += -m * cell_energy * t_m;
    up[3] += -m * cell_energy * t_h;
    node[0] += node_water * t_m;
    node[1] += node_water * t_h;
    node[2] += node_energy * t_m;
    node[3] += node_energy * t_h;
    r->frozen.surface = *s;
    r->frozen.cell_capacity = c->capacity;
    r->frozen.cell_carried = h;
    r->frozen.surface_rise = r->surface_temperature - HFI_ENTHALPY_ZERO;
    r->frozen.surface_capacity = r->surface_capacity;
    r->frozen.leaving = out;
    return 0;
}

static int time_derivative(double t, const double *y, const double *q, double *dydt, double *dqdt,
                           void *user)
{
    (void)t;
    (void)y;
    (void)q;
    const hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    const hfi_flow *water = &r->frozen.surface.water, *gone = &r->frozen.surface.evaporation;
    const double heat = r->around.heat_transfer * r->area * r->around.temperature_rate;
    const double m = 1 / r->mesh->cell_mass[n - 1], h = r->frozen.cell_carried;
    dydt[2 * n - 2] = -m * water->by_time;
    dydt[2 * n - 1] = -m * water->by_time * h;
    if (r->mode == HFI_SURFACE_FILM)
        dydt[2 * n] = water->by_time - gone->by_time;
    dydt[2 * n + 1] = water->by_time * h + heat - gone->by_time * r->frozen.leaving;
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
    const hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    const hfi_flow *gone = &r->frozen.surface.evaporation;
    const double cell_t =
        (v[2 * n - 1] - r->frozen.cell_carried * v[2 * n - 2]) / r->frozen.cell_capacity;
    const double surface_t =
        (v[2 * n + 1] - r->material->cw * r->frozen.surface_rise * v[2 * n]) /
        r->frozen.surface_capacity;
    const double evaporation = gone->by_regain * v[2 * n - 2] + gone->by_cell * cell_t +
                               gone->by_surface * surface_t;
    const double slope = r->material->cw +
                         (r->mode == HFI_SURFACE_BATH ? 0 : r->frozen.surface.latent_slope);
    out[HFI_WATER_OUT] = evaporation;
    out[HFI_HEAT_IN] = -r->around.heat_transfer * r->area * surface_t;
    out[HFI_ENERGY_IN] = out[HFI_HEAT_IN] - evaporation * r->frozen.leaving -
                         gone->value * slope * surface_t;
    return 0;
}

/* Water held plus water out, and energy in less energy held, do not change. */
static void closes(const double *v, double *out, double *size, void *user)
{
    const hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    const double *mass = r->mesh->cell_mass;
    double water = v[2 * n], energy = v[2 * n + 1];
    for (size_t i = 0; i < n; i++) {
        water += mass[i] * v[2 * i];
        energy += mass[i] * v[2 * i + 1];
    }
    out[HFI_WATER_OUT] = water;
    out[HFI_ENERGY_IN] = -energy;
    if (!size)
        return;
    water = fabs(v[2 * n]);
    energy = fabs(v[2 * n + 1]);
    for (size_t i = 0; i < n; i++) {
        water += mass[i] * fabs(v[2 * i]);
        energy += mass[i] * fabs(v[2 * i + 1]);
    }
    size[HFI_WATER_OUT] = water;
    size[HFI_ENERGY_IN] = energy;
}

int hfi_radial_dry_out(const hfi_radial *r, const double *regain, size_t stride)
{
    double mean = 0, least = 0;
    for (size_t i = 0; i < r->mesh->cells; i++) {
        const double w = regain[stride * i];
        mean += r->mesh->cell_mass[i] * w;
        least = w < least ? w : least;
    }
    return !(least >= r->least_regain && mean >= -HFI_NO_WATER);
}

static int valid(double t, const double *y, const double *q, void *user)
{
    (void)t;
    (void)q;
    return hfi_radial_dry_out(user, y, 2);
}

static int events(double t, const double *y, const double *q, double *value, void *user)
{
    (void)q;
    hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    value[HFI_EVENT_FILM_GONE] = r->mode == HFI_SURFACE_FILM ? y[2 * n] : 1;
    value[HFI_EVENT_FILM_FORMS] = -1;
    if (r->mode == HFI_SURFACE_BARE) {
        look_at_cell(r->material, y[2 * n - 2], y[2 * n - 1], &r->cell[n - 1]);
        if (look_at_surface(r, t, y))
            return 1;
        value[HFI_EVENT_FILM_FORMS] = r->surface.regain - r->surface.wet_regain;
    }
    return 0;
}

void hfi_radial_problem(hfi_radial *radial, hfi_ode_problem *problem)
{
    *problem = (hfi_ode_problem){
        .blocks = radial->mesh->cells + 1,
        .block_size = 2,
        .quadratures = HFI_BOUNDARY_COUNTS,
        .events = HFI_RADIAL_EVENTS,
        .user = radial,
        .rates = rates,
        .jacobian = jacobian,
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
