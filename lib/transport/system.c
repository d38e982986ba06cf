#include "system.h"

#include "lumped.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Errors of the integrator: regain is held to the tolerance of a hundredth of a point and more. */
#define REGAIN_SMALL 1e-2

/* Errors gather over the steps of a run; measured, this factor leaves them at about the tolerance. */
#define TOLERANCE_FACTOR 2

struct hfi_system {
    hfi_radial radial;
    hfi_lumped one; /* used when lumped */
    hfi_ode *ode;
    size_t n, ny;
    int lumped;
    double tolerance;
    double *regain, *temperature; /* of the last view */
    size_t hit;
    double hottest;
    double *dense;                        /* a state */
    double dense_time, dense_temperature; /* of the last lumped cell asked for */
};

void hfi_system_free(hfi_system *s)
{
    if (!s)
        return;
    hfi_ode_free(s->ode);
    free(s);
}

/* First step of a segment, share of the time heat takes across the fibre: what goes on in the skin and the
 * outermost cells before that is over when anybody looks. */
#define FIRST_STEP 1e-4
#define NEW_FILM   1e-4 /* kg/kg */

static double heat_time(const hfi_system *s)
{
    const double radius = s->radial.mesh->dry_radius;
    const hfi_material *m = s->radial.material;
    return s->lumped ? 0 : radius * radius * m->dry_density * m->c0 / m->k0;
}

/* Of the object itself: cells, regain, temperature, temperature_by and one state follow it. */
static size_t own_bytes(size_t n)
{
    return sizeof(hfi_system) +
           (hfi_cells_doubles(n) + 3 * n + 2 + 2 * n + 2 + HFI_BOUNDARY_COUNTS) * sizeof(double);
}

int hfi_system_create(const hfi_material *material, const hfi_mesh *mesh, int lumped,
                      double tolerance, size_t max_steps, const volatile sig_atomic_t *stop,
                      hfi_system **out)
{
    const size_t n = mesh->cells;
    hfi_system *s = calloc(1, own_bytes(n));
    if (!s)
        return HFI_ODE_NO_MEMORY;
    s->regain = (double *)(s + 1) + hfi_cells_doubles(n);
    s->temperature = s->regain + n;
    s->one.temperature_by = s->temperature + n;
    s->one.shared = &s->radial;
    s->dense = s->one.temperature_by + n + 2;
    s->dense_time = (double)NAN;
    s->n = n;
    s->ny = lumped ? n + 2 : 2 * n + 2;
    s->lumped = lumped;
    s->tolerance = tolerance;
    s->radial.surface_guess = (double)NAN;
    s->radial.least_regain = -REGAIN_SMALL * tolerance;
    s->radial.material = material;
    s->radial.mesh = mesh;
    const double circle = 3.14159265358979323846 * mesh->dry_radius * mesh->dry_radius;
    s->radial.water_scale = 1 / circle;
    s->radial.heat_scale = 1 / (circle * material->dry_density);
    hfi_cells_lay_out(&s->radial.cell, mesh, s->radial.water_scale, s->radial.heat_scale,
                      (double *)(s + 1));
    hfi_ode_problem problem;
    if (lumped)
        hfi_lumped_problem(&s->one, &problem);
    else
        hfi_radial_problem(&s->radial, &problem);
    const hfi_ode_options options = {.max_steps = max_steps, .stop = stop};
    const int status = hfi_ode_create(&problem, &options, &s->ode);
    if (status != HFI_ODE_OK) {
        hfi_system_free(s);
        return status;
    }
    *out = s;
    return HFI_ODE_OK;
}

/* The integrator holds some twenty vectors and two block tridiagonal matrices. */
size_t hfi_system_bytes(const hfi_system *s)
{
    const size_t values = 20 * (s->ny + HFI_BOUNDARY_COUNTS) + 24 * (s->n + 1);
    return own_bytes(s->n) + values * sizeof(double);
}

size_t hfi_system_size(const hfi_system *s)
{
    return s->ny + HFI_BOUNDARY_COUNTS;
}

/* Where the film stands in a state. */
static size_t film_at(const hfi_system *s)
{
    return s->lumped ? hfi_lumped_film_at(&s->one) : 2 * s->n;
}

/* Changes of the surface move film and enthalpy of a lumped state to each other's places. */
void hfi_system_set_mode(hfi_system *s, hfi_surface_mode mode, double *state)
{
    const size_t before = film_at(s);
    s->radial.mode = mode;
    if (s->lumped && film_at(s) != before) {
        const double swap = state[s->n];
        state[s->n] = state[s->n + 1];
        state[s->n + 1] = swap;
    }
}

hfi_surface_mode hfi_system_mode(const hfi_system *s)
{
    return s->radial.mode;
}

/* Enthalpy of skin and film at a rise over the zero of enthalpy. */
static double surface_enthalpy(const hfi_material *m, double film, double rise)
{
    return (HFI_SKIN * m->c0 + film * m->cw) * rise;
}

void hfi_system_fill(hfi_system *s, const double *regain, const double *temperature, double film,
                     double *state)
{
    const hfi_material *m = s->radial.material;
    memset(state, 0, hfi_system_size(s) * sizeof *state);
    double energy = 0;
    for (size_t i = 0; i < s->n; i++) {
        const double enthalpy = hfi_material_enthalpy(m, regain[i], temperature[i]);
        energy += s->radial.mesh->cell_mass[i] * enthalpy;
        state[s->lumped ? i : 2 * i] = regain[i];
        if (!s->lumped)
            state[2 * i + 1] = enthalpy;
    }
    const double rise = temperature[s->n - 1] - HFI_ENTHALPY_ZERO;
    state[film_at(s)] = film;
    if (s->lumped)
        state[hfi_lumped_enthalpy_at(&s->one)] = energy + film * m->cw * rise;
    else
        state[2 * s->n + 1] = surface_enthalpy(m, film, rise);
}

/* Hands what cell i lacks on to the next cell, from `first` in steps of `by`. */
static void level(const hfi_system *s, double *state, size_t first, size_t last, int inward)
{
    const double *mass = s->radial.mesh->cell_mass;
    const size_t stride = s->lumped ? 1 : 2;
    for (size_t i = first; i != last;) {
        const size_t next = inward ? i - 1 : i + 1;
        double *w = &state[stride * i];
        if (*w < 0) {
            state[stride * next] += *w * mass[i] / mass[next];
            *w = 0;
        }
        i = next;
    }
}

void hfi_system_level(const hfi_system *s, double *state)
{
    level(s, state, 0, s->n - 1, 0);
    level(s, state, s->n - 1, 0, 1);
    if (state[0] < 0 && state[0] * s->radial.mesh->cell_mass[0] >= -HFI_NO_WATER)
        state[0] = 0;
}

double hfi_system_set_film(hfi_system *s, double film, double temperature, double *state)
{
    const hfi_material *m = s->radial.material;
    const double change = film - state[film_at(s)];
    double *enthalpy = &state[s->lumped ? hfi_lumped_enthalpy_at(&s->one) : 2 * s->n + 1];
    if (change < 0)
        temperature = s->lumped ? hfi_lumped_temperature(&s->one, state, NULL)
                                : hfi_radial_surface_temperature(m, state[film_at(s)], *enthalpy);
    const double energy = change * m->cw * (temperature - HFI_ENTHALPY_ZERO);
    state[film_at(s)] = film;
    *enthalpy += energy;
    return energy;
}

static void set_tolerances(hfi_system *s)
{
    const double tol = TOLERANCE_FACTOR * s->tolerance;
    const hfi_material *m = s->radial.material;
    const size_t n = s->n;
    /* Regain to a hundredth of a point, temperature to some 30 K, are the sizes errors are held to. */
    const size_t stride = s->lumped ? 1 : 2;
    (void)hfi_ode_set_tolerance(s->ode, 0, stride, n, tol, REGAIN_SMALL * tol, 1);
    /* A film is held to as much as the skin below it weighs in heat: the temperature of the surface must
     * have a meaning still when the film has gone. */
    (void)hfi_ode_set_tolerance(s->ode, film_at(s), 1, 1, tol, tol * HFI_SKIN * m->c0 / m->cw, 1);
    if (s->lumped) {
        (void)hfi_ode_set_tolerance(s->ode, hfi_lumped_enthalpy_at(&s->one), 1, 1, tol, 5e4 * tol,
                                    1);
    } else {
        (void)hfi_ode_set_tolerance(s->ode, 1, 2, n, tol, 5e4 * tol, 1);
        (void)hfi_ode_set_tolerance(s->ode, 2 * n + 1, 1, 1, tol, tol * surface_enthalpy(m, 0, 30),
                                    1);
    }
    /* The counts follow from the state and need no test of their own. */
    (void)hfi_ode_set_tolerance(s->ode, s->ny, 1, HFI_BOUNDARY_COUNTS, tol, tol, 0);
}

/* The temperature of the surface is what must be precise; how much heat that is goes with the film. */
static void follow_film(hfi_system *s)
{
    const hfi_material *m = s->radial.material;
    const double tol = TOLERANCE_FACTOR * s->tolerance;
    if (s->radial.mode == HFI_SURFACE_FILM && !s->lumped)
        (void)hfi_ode_set_tolerance(
            s->ode, 2 * s->n + 1, 1, 1, tol,
            tol * surface_enthalpy(m, fmax(hfi_ode_y(s->ode)[2 * s->n], 0), 30), 1);
}

int hfi_system_begin(hfi_system *s, const hfi_surroundings *around, double area, double duration,
                     double *state)
{
    s->hottest =
        fmax(around->temperature, around->temperature + duration * around->temperature_rate);
    s->radial.around = *around;
    s->radial.area = area;
    memset(state + s->ny, 0, HFI_BOUNDARY_COUNTS * sizeof *state);
    s->dense_time = (double)NAN;
    s->radial.surface_guess = (double)NAN;
    set_tolerances(s);
    /* A film that has just formed would be gone again within such a step. */
    const int new_film = s->radial.mode == HFI_SURFACE_FILM && state[film_at(s)] < NEW_FILM;
    (void)hfi_ode_set_least_first_step(s->ode, new_film ? 0 : FIRST_STEP * heat_time(s));
    const int status = hfi_ode_start(s->ode, 0, state, state + s->ny);
    follow_film(s);
    return status;
}

typedef struct watcher {
    hfi_system *system;
    hfi_ode_observer observer;
    void *user;
} watcher;

static int watch(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    watcher *w = user;
    if (hit)
        w->system->hit = hit->event;
    else
        follow_film(w->system);
    return w->observer ? w->observer(ode, hit, w->user) : 0;
}

int hfi_system_advance(hfi_system *s, double t_end, hfi_ode_observer observer, void *user,
                       double *state)
{
    watcher w = {s, observer, user};
    const int status = hfi_ode_advance(s->ode, t_end, watch, &w);
    memcpy(state, hfi_ode_y(s->ode), s->ny * sizeof *state);
    memcpy(state + s->ny, hfi_ode_q(s->ode), HFI_BOUNDARY_COUNTS * sizeof *state);
    return status;
}

size_t hfi_system_hit(const hfi_system *s)
{
    return s->hit;
}

hfi_ode *hfi_system_ode(hfi_system *s)
{
    return s->ode;
}

/* `known`: the cells have been looked at and hold their temperature. */
static void show(hfi_system *s, const double *state, int known, hfi_view *view)
{
    const hfi_material *m = s->radial.material;
    const double *mass = s->radial.mesh->cell_mass;
    const double film = state[film_at(s)];
    *view =
        (hfi_view){.regain = s->regain, .temperature = s->temperature, .film = film, .water = film};
    if (s->lumped) {
        view->surface_temperature = hfi_lumped_temperature(&s->one, state, NULL);
        view->energy = state[hfi_lumped_enthalpy_at(&s->one)];
        for (size_t i = 0; i < s->n; i++) {
            s->regain[i] = state[i];
            s->temperature[i] = view->surface_temperature;
            view->water += mass[i] * state[i];
        }
        return;
    }
    view->surface_temperature = hfi_radial_surface_temperature(m, film, state[2 * s->n + 1]);
    view->energy = state[2 * s->n + 1];
    for (size_t i = 0; i < s->n; i++) {
        s->regain[i] = state[2 * i];
        s->temperature[i] =
            known ? s->radial.cell.T[i]
                  : hfi_radial_temperature(m, state[2 * i], state[2 * i + 1], NULL, NULL);
        view->water += mass[i] * state[2 * i];
        view->energy += mass[i] * state[2 * i + 1];
    }
}

void hfi_system_peek(hfi_system *s, const double *state, hfi_view *view)
{
    show(s, state, 0, view);
}

int hfi_system_at(hfi_system *s, double t, double *state)
{
    double from, to;
    int status = hfi_ode_dense_all(s->ode, t, state);
    if (status != HFI_ODE_OK || !hfi_radial_dry_out(&s->radial, state, s->lumped ? 1 : 2))
        return status;
    (void)hfi_ode_dense_range(s->ode, &from, &to);
    status = hfi_ode_dense_all(s->ode, from, state);
    if (status == HFI_ODE_OK)
        status = hfi_ode_dense_all(s->ode, to, s->dense);
    s->dense_time = (double)NAN;
    const double x = (t - from) / (to - from);
    for (size_t i = 0; i < hfi_system_size(s); i++)
        state[i] += x * (s->dense[i] - state[i]);
    return status;
}

/* The temperature needs the whole state; it is kept for the next cell at the same time. */
static int lumped_cell(hfi_system *s, double t, size_t cell, double *regain, double *temperature)
{
    if (!(t == s->dense_time)) {
        const int status = hfi_ode_dense_all(s->ode, t, s->dense);
        if (status != HFI_ODE_OK)
            return status;
        s->dense_time = t;
        s->dense_temperature = hfi_lumped_temperature(&s->one, s->dense, NULL);
    }
    *regain = s->dense[cell];
    *temperature = s->dense_temperature;
    return HFI_ODE_OK;
}

#define AT_ONCE 16

int hfi_system_cells(hfi_system *s, double t, const size_t *cell, size_t count, double *regain,
                     double *temperature)
{
    if (s->lumped) {
        double unused;
        int status = HFI_ODE_OK;
        for (size_t i = 0; i < count && status == HFI_ODE_OK; i++)
            status =
                lumped_cell(s, t, cell[i], &regain[i], temperature ? &temperature[i] : &unused);
        return status;
    }
    for (size_t done = 0; done < count; done += AT_ONCE) {
        const size_t now = count - done < AT_ONCE ? count - done : AT_ONCE;
        size_t component[2 * AT_ONCE];
        double value[2 * AT_ONCE];
        for (size_t i = 0; i < now; i++) {
            component[2 * i] = 2 * cell[done + i];
            component[2 * i + 1] = 2 * cell[done + i] + 1;
        }
        const int status = hfi_ode_dense_some(s->ode, t, component, 2 * now, value);
        if (status != HFI_ODE_OK)
            return status;
        for (size_t i = 0; i < now; i++) {
            regain[done + i] = value[2 * i];
            if (temperature)
                temperature[done + i] = hfi_radial_temperature(s->radial.material, value[2 * i],
                                                               value[2 * i + 1], NULL, NULL);
        }
    }
    return HFI_ODE_OK;
}

int hfi_system_cell(hfi_system *s, double t, size_t cell, double *regain, double *temperature)
{
    return hfi_system_cells(s, t, &cell, 1, regain, temperature);
}

double hfi_system_hottest_outside(const hfi_system *s)
{
    return s->hottest;
}

int hfi_system_view(hfi_system *s, double t, const double *state, hfi_view *view)
{
    const int refused =
        s->lumped ? hfi_lumped_look(&s->one, t, state) : hfi_radial_look(&s->radial, t, state);
    show(s, state, 1, view);
    if (refused)
        return 1;
    view->surface_regain = s->radial.surface.regain;
    view->surface_pressure = s->radial.surface.vapour_pressure;
    view->condensing = s->radial.mode == HFI_SURFACE_BARE &&
                       s->radial.surface.regain > s->radial.surface.wet_regain;
    view->evaporation = s->radial.surface.evaporation.value;
    view->heat = s->radial.around.heat_transfer * s->radial.area *
                 (s->radial.around.temperature + t * s->radial.around.temperature_rate -
                  s->radial.surface_temperature);
    return 0;
}

void hfi_system_counts(const hfi_system *s, const double *state, double *water_out,
                       double *energy_in, double *heat_in)
{
    const double *q = state + s->ny;
    *water_out = q[HFI_WATER_OUT];
    *heat_in = q[HFI_HEAT_IN];
    *energy_in = q[HFI_ENERGY_IN];
}
