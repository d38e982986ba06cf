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

/* Surface flows from the outermost cell, which must have been looked at. */
static int look_at_surface(hfi_radial *r, double t, const double *y)
{
    const size_t n = r->mesh->cells;
    r->surface_capacity = surface_capacity(r->material, y[2 * n]);
    if (!(r->surface_capacity > 0))
        return 1;
    r->surface_temperature = HFI_ENTHALPY_ZERO + y[2 * n + 1] / r->surface_capacity;
    const hfi_cells *c = &r->cell;
    hfi_cells_slope(r->material, y[2 * n - 2], n - 1, c);
    /* Where it should be by its derivatives since last time. */
    double guess = r->surface_guess;
    if (r->mode == HFI_SURFACE_BARE && !isnan(guess)) {
        const double moved =
            r->surface.regain_by_regain * (y[2 * n - 2] - r->seen_regain) +
            r->surface.regain_by_cell * (c->T[n - 1] - r->seen_cell) +
            r->surface.regain_by_surface * (r->surface_temperature - r->seen_surface);
        guess += fmax(moved, -0.8 * guess);
    }
    const hfi_surface_state state = {
        .half = r->water_scale / r->mesh->outer_half[n - 1],
        .potential = c->potential[n - 1],
        .diffusivity = c->diffusivity[n - 1],
        .regain = y[2 * n - 2],
        .mobility = c->mobility[n - 1],
        .mobility_slope = c->mobility_slope[n - 1],
        .temperature = r->surface_temperature,
        .guess = guess,
        .area = r->area,
        .temperature_outside = r->around.temperature + t * r->around.temperature_rate,
        .vapour_outside = r->around.vapour_pressure + t * r->around.vapour_rate,
    };
    const int refused = hfi_surface_balance(r->material, r->mode, &r->around, &state, &r->surface);
    r->surface_guess = refused ? (double)NAN : r->surface.regain;
    r->seen_regain = y[2 * n - 2];
    r->seen_cell = c->T[n - 1];
    r->seen_surface = r->surface_temperature;
    return refused;
}

int hfi_radial_look(hfi_radial *r, double t, const double *y)
{
    hfi_cells_look(r->material, y, r->mesh->cells, &r->cell);
    return look_at_surface(r, t, y);
}

/* Energy that a kg of water takes along when it leaves the surface node. */
static double leaving(const hfi_radial *r)
{
    const double liquid = r->material->cw * (r->surface_temperature - HFI_ENTHALPY_ZERO);
    return r->mode == HFI_SURFACE_BATH ? liquid : liquid + r->surface.latent;
}

/* Flows through the faces between cells. */
static void flow(size_t n, const hfi_cells *c, double *restrict water, double *restrict energy)
{
    const double *restrict T = c->T, *restrict h = c->carried, *restrict p = c->potential;
    const double *restrict f = c->mobility, *restrict k = c->conductivity;
    const double *restrict water_face = c->water_face, *restrict heat_face = c->heat_face;
    for (size_t i = 0; i + 1 < n; i++) {
        const double through = water_face[i] * (f[i] + f[i + 1]) * (p[i] - p[i + 1]);
        water[i] = through;
        energy[i] = heat_face[i] * (k[i] + k[i + 1]) * (T[i] - T[i + 1]) +
                    through * (0.5 * (h[i] + h[i + 1]));
    }
}

static int rates(double t, const double *y, const double *q, double *dydt, double *dqdt, void *user)
{
    (void)q;
    hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    const hfi_cells *c = &r->cell;
    if (hfi_radial_look(r, t, y))
        return 1;
    const double evaporation = r->surface.evaporation.value;
    const double heat =
        r->around.heat_transfer * r->area *
        (r->around.temperature + t * r->around.temperature_rate - r->surface_temperature);
    if (dqdt) {
        dqdt[HFI_WATER_OUT] = evaporation;
        dqdt[HFI_HEAT_IN] = heat;
        dqdt[HFI_ENERGY_IN] = heat - evaporation * leaving(r);
    }
    if (!dydt)
        return 0;
    flow(n, c, c->water, c->energy);
    const double water = r->surface.water.value;
    const double energy = r->heat_scale / r->mesh->outer_half[n - 1] * c->conductivity[n - 1] *
                              (c->T[n - 1] - r->surface_temperature) +
                          water * c->carried[n - 1];
    c->water[n - 1] = water;
    c->energy[n - 1] = energy;
    const double *mass = c->inverse_mass;
    dydt[0] = -c->water[0] * mass[0];
    dydt[1] = -c->energy[0] * mass[0];
    for (size_t i = 1; i < n; i++) {
        dydt[2 * i] = (c->water[i - 1] - c->water[i]) * mass[i];
        dydt[2 * i + 1] = (c->energy[i - 1] - c->energy[i]) * mass[i];
    }
    dydt[2 * n] = r->mode == HFI_SURFACE_FILM ? water - evaporation : 0;
    dydt[2 * n + 1] = energy + heat - evaporation * leaving(r);
    return 0;
}

/* Derivatives of a pair of flows by one cell's (w, H): a row of a block each. */
typedef struct pair {
    hfi_lanes water, energy;
} pair;

/* From derivatives by (w, T); T_by: those of the cell's temperature by w and H. */
static inline pair by_state(hfi_lanes T_by, double water_w, double water_t, double energy_w,
                            double energy_t)
{
    return (pair){(hfi_lanes){water_w, 0} + water_t * T_by,
                  (hfi_lanes){energy_w, 0} + energy_t * T_by};
}

static inline pair less(pair a, pair b)
{
    return (pair){a.water - b.water, a.energy - b.energy};
}

static inline void put(double *block, double factor, pair p)
{
    hfi_put_lanes(block, factor * p.water);
    hfi_put_lanes(block + 2, factor * p.energy);
}

static inline hfi_lanes temperature_by(const hfi_cells *c, size_t i)
{
    return (hfi_lanes){c->T_by_regain[i], c->T_by_enthalpy[i]};
}

/* Rows of all cells but what the outermost owes to the surface; *last: its derivatives of the flow that
 * comes in. */
static void rows_of_cells(const hfi_radial *r, hfi_bt *j, pair *last)
{
    const size_t n = r->mesh->cells;
    const hfi_cells *c = &r->cell;
    const double k1 = r->material->k1, half_cw = 0.5 * r->material->cw;
    pair in = {{0, 0}, {0, 0}};
    hfi_lanes T_by = temperature_by(c, 0);
    for (size_t i = 0; i + 1 < n; i++) {
        const size_t o = i + 1; /* the cell outside */
        const hfi_lanes T_by_out = temperature_by(c, o);
        const double k = c->water_face[i], f = c->mobility[i] + c->mobility[o];
        const double drop = c->potential[i] - c->potential[o], half_water = 0.5 * k * f * drop;
        const double h = 0.5 * (c->carried[i] + c->carried[o]);
        const double heat = c->heat_face[i] * (c->conductivity[i] + c->conductivity[o]);
        const double heat_w = c->heat_face[i] * k1 * (c->T[i] - c->T[o]);
        const double carry = k * f * drop * half_cw;
        const double wa = k * f * c->diffusivity[i], wb = -k * f * c->diffusivity[o];
        const double ta = k * drop * c->mobility_slope[i], tb = k * drop * c->mobility_slope[o];
        const pair pa = by_state(T_by, wa, ta, heat_w + wa * h + half_water * c->carried_slope[i],
                                 heat + ta * h + carry);
        const pair pb =
            by_state(T_by_out, wb, tb, heat_w + wb * h + half_water * c->carried_slope[o],
                     -heat + tb * h + carry);
        put(&j->diagonal[4 * i], c->inverse_mass[i], less(in, pa));
        put(&j->upper[4 * i], -c->inverse_mass[i], pb);
        put(&j->lower[4 * o], c->inverse_mass[o], pa);
        in = pb;
        T_by = T_by_out;
    }
    *last = in;
}

static int jacobian(double t, const double *y, const double *q, hfi_bt *j, void *user)
{
    (void)t;
    (void)q;
    hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    const hfi_cells *c = &r->cell;
    pair in;
    hfi_cells_slopes(r->material, y, n, c);
    rows_of_cells(r, j, &in);
    const size_t e = n - 1; /* the outermost cell */
    const hfi_surface_flows *s = &r->surface;
    const double heat = r->heat_scale / r->mesh->outer_half[e] * c->conductivity[e];
    const double heat_w = r->heat_scale / r->mesh->outer_half[e] * r->material->k1 *
                          (c->T[e] - r->surface_temperature);
    const double water = s->water.value, h = c->carried[e];
    /* By the outermost cell. */
    const hfi_lanes T_by = temperature_by(c, e);
    const pair cell = by_state(T_by, s->water.by_regain, s->water.by_cell,
                               heat_w + s->water.by_regain * h + water * c->carried_slope[e],
                               heat + s->water.by_cell * h + water * r->material->cw);
    const double m = c->inverse_mass[e];
    put(&j->diagonal[4 * e], m, less(in, cell));
    const double out = leaving(r), evaporation = s->evaporation.value;
    const pair lost = by_state(T_by, s->evaporation.by_regain, s->evaporation.by_cell,
                               s->evaporation.by_regain * out, s->evaporation.by_cell * out);
    const double film = r->mode == HFI_SURFACE_FILM ? 1 : 0;
    hfi_put_lanes(&j->lower[4 * n], film * (cell.water - lost.water));
    hfi_put_lanes(&j->lower[4 * n + 2], cell.energy - lost.energy);
    /* By the surface temperature, then by film and enthalpy of the node. */
    const double t_h = 1 / r->surface_capacity;
    const double t_m =
        -r->material->cw * (r->surface_temperature - HFI_ENTHALPY_ZERO) / r->surface_capacity;
    const double out_slope = r->material->cw + (r->mode == HFI_SURFACE_BATH ? 0 : s->latent_slope);
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
    r->frozen.cell_capacity = c->capacity[e];
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
    const double surface_t = (v[2 * n + 1] - r->material->cw * r->frozen.surface_rise * v[2 * n]) /
                             r->frozen.surface_capacity;
    const double evaporation =
        gone->by_regain * v[2 * n - 2] + gone->by_cell * cell_t + gone->by_surface * surface_t;
    const double slope =
        r->material->cw + (r->mode == HFI_SURFACE_BATH ? 0 : r->frozen.surface.latent_slope);
    out[HFI_WATER_OUT] = evaporation;
    out[HFI_HEAT_IN] = -r->around.heat_transfer * r->area * surface_t;
    out[HFI_ENERGY_IN] =
        out[HFI_HEAT_IN] - evaporation * r->frozen.leaving - gone->value * slope * surface_t;
    return 0;
}

/* Sums over the state: water, energy. Two sums side by side, so that one addition need not wait for the
 * other. */
static hfi_lanes held(const hfi_radial *r, const double *v)
{
    const size_t n = r->mesh->cells;
    const double *mass = r->mesh->cell_mass;
    hfi_lanes even = {v[2 * n], v[2 * n + 1]}, odd = {0, 0};
    size_t i = 0;
    for (; i + 1 < n; i += 2) {
        even += mass[i] * (hfi_lanes){v[2 * i], v[2 * i + 1]};
        odd += mass[i + 1] * (hfi_lanes){v[2 * i + 2], v[2 * i + 3]};
    }
    if (i < n)
        even += mass[i] * (hfi_lanes){v[2 * i], v[2 * i + 1]};
    return even + odd;
}

/* Water held plus water out, and energy in less energy held, do not change. */
static void closes(const double *v, double *out, double *size, void *user)
{
    const hfi_radial *r = user;
    const size_t n = r->mesh->cells;
    const double *mass = r->mesh->cell_mass;
    const hfi_lanes sum = held(r, v);
    out[HFI_WATER_OUT] = sum[0];
    out[HFI_ENERGY_IN] = -sum[1];
    if (!size)
        return;
    double water = fabs(v[2 * n]), energy = fabs(v[2 * n + 1]);
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
        hfi_cells_look_at(r->material, y[2 * n - 2], y[2 * n - 1], n - 1, &r->cell);
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
