/* Time of the integrator on a made-up fibre: heat and water in a cylinder, four phases (10 min in
 * water, a minute of air after blotting, 1 s under plates, 10 min of rest), analytic Jacobian.
 * Property laws are stand-ins of the right size and cost (assumed), so that the figure measures the
 * numerics. Prints one line per mesh: milliseconds for the whole run, steps and microseconds per
 * step. */
#include "transport/mesh.h"
#include "transport/rosenbrock.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#define MOST_CELLS 400
#define PI         3.14159265358979323846

typedef struct wet_fibre {
    hfi_mesh *mesh;
    double ambient;   /* K */
    double heat_film; /* W/(m2 K) */
    double vapour;    /* Pa, outside */
    double mass_film; /* kg/(m2 s Pa) */
    bool in_water;
} wet_fibre;

#define DENSITY      1300.0
#define CAPACITY     1900.0
#define CONDUCTIVITY 0.3
#define LATENT       2.4e6
#define SATURATION   0.31

static double diffusivity(double w, double T, double *dw, double *dT)
{
    const double d = 1.2e-12 * exp(4.0 * (w - 0.2) + 4210.0 * (1.0 / 298.15 - 1.0 / T));
    *dw = 4.0 * d;
    *dT = 4210.0 * d / (T * T);
    return d;
}

static double vapour_pressure(double w, double T, double *dw, double *dT)
{
    const double a = w / SATURATION, p = 3170.0 * exp(5300.0 * (1.0 / 298.15 - 1.0 / T));
    *dw = p / SATURATION;
    *dT = a * p * 5300.0 / (T * T);
    return a * p;
}

/* Flows per metre; derivatives with respect to the inner (l) and outer (r) cell. */
static int work(const wet_fibre *f, const double *y, double *dydt, hfi_bt *j)
{
    const hfi_mesh *m = f->mesh;
    const size_t n = m->cells;
    const double area = PI * m->dry_radius * m->dry_radius * DENSITY;
    double d[2] = {0.0, 0.0}, dw[2] = {0.0, 0.0}, dT[2] = {0.0, 0.0};
    double water_in = 0.0, heat_in = 0.0;
    d[1] = diffusivity(y[0], y[1], &dw[1], &dT[1]);
    for (size_t i = 0; i < n; i++) {
        const double w = y[2 * i], T = y[2 * i + 1], mass = 1.0 / (area * m->cell_mass[i]);
        double water, heat, wl, wT, wr = 0.0, wTr = 0.0, hl, hw = 0.0, hr = 0.0;
        if (!(T > 200.0 && T < 700.0))
            return 1;
        if (i + 1 < n) {
            const double g = m->conductance[i + 1], w2 = y[2 * i + 2], T2 = y[2 * i + 3];
            d[0] = d[1];
            dw[0] = dw[1];
            dT[0] = dT[1];
            d[1] = diffusivity(w2, T2, &dw[1], &dT[1]);
            const double mean = 0.5 * (d[0] + d[1]) * g * DENSITY, step = w - w2;
            water = mean * step;
            wl = mean + 0.5 * dw[0] * g * DENSITY * step;
            wr = -mean + 0.5 * dw[1] * g * DENSITY * step;
            wT = 0.5 * dT[0] * g * DENSITY * step;
            wTr = 0.5 * dT[1] * g * DENSITY * step;
            heat = CONDUCTIVITY * g * (T - T2);
            hl = CONDUCTIVITY * g;
            hr = -hl;
        } else {
            const double rim = 2.0 * PI * m->dry_radius;
            double pw, pT;
            if (f->in_water) {
                water = d[1] * DENSITY / m->outer_half[i] * (w - SATURATION);
                wl = d[1] * DENSITY / m->outer_half[i] +
                     dw[1] * DENSITY / m->outer_half[i] * (w - SATURATION);
                wT = dT[1] * DENSITY / m->outer_half[i] * (w - SATURATION);
                hw = 0.0;
                hl = 0.0;
                heat = 0.0;
            } else {
                const double p = vapour_pressure(w, T, &pw, &pT);
                water = rim * f->mass_film * (p - f->vapour);
                wl = rim * f->mass_film * pw;
                wT = rim * f->mass_film * pT;
                heat = LATENT * water;
                hw = LATENT * wl;
                hl = LATENT * wT;
            }
            heat += rim * f->heat_film * (T - f->ambient);
            hl += rim * f->heat_film;
        }
        if (dydt != NULL) {
            dydt[2 * i] = (water_in - water) * mass;
            dydt[2 * i + 1] = (heat_in - heat) * mass / CAPACITY;
            water_in = water;
            heat_in = heat;
        }
        if (j != NULL) {
            double *c = j->diagonal + 4 * i, *u = j->upper + 4 * i;
            c[0] -= wl * mass;
            c[1] -= wT * mass;
            c[2] -= hw * mass / CAPACITY;
            c[3] -= hl * mass / CAPACITY;
            if (i + 1 < n) {
                const double mass2 = 1.0 / (area * m->cell_mass[i + 1]);
                double *c2 = j->diagonal + 4 * i + 4, *l = j->lower + 4 * i + 4;
                u[0] = -wr * mass;
                u[1] = -wTr * mass;
                u[3] = -hr * mass / CAPACITY;
                l[0] = wl * mass2;
                l[1] = wT * mass2;
                l[3] = hl * mass2 / CAPACITY;
                c2[0] += wr * mass2;
                c2[1] += wTr * mass2;
                c2[3] += hr * mass2 / CAPACITY;
            }
        }
    }
    return 0;
}

static int rates(double t, const double *y, const double *q, double *dydt, double *dqdt, void *user)
{
    (void)t;
    (void)q;
    (void)dqdt;
    return work(user, y, dydt, NULL);
}

static int jacobian(double t, const double *y, const double *q, hfi_bt *j, void *user)
{
    (void)t;
    (void)q;
    return work(user, y, NULL, j);
}

static double now_ms(void)
{
    struct timespec t;
    (void)timespec_get(&t, TIME_UTC);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

/* One whole run. Returns a status; the mean regain and the axis temperature at the end of each
 * phase. */
static int run(hfi_ode *ode, wet_fibre *f, double phase[4][2])
{
    static const struct {
        double duration, ambient, heat_film, vapour, mass_film;
        bool in_water;
    } schedule[4] = {{600.0, 298.15, 3000.0, 0.0, 0.0, true},
                     {60.0, 298.15, 200.0, 1600.0, 1.5e-6, false},
                     {1.0, 473.15, 1000.0, 1600.0, 1.0e-6, false},
                     {600.0, 295.15, 200.0, 1300.0, 1.5e-6, false}};
    double y[2 * MOST_CELLS], t = 0.0;
    for (size_t i = 0; i < f->mesh->cells; i++) {
        y[2 * i] = 0.13;
        y[2 * i + 1] = 295.15;
    }
    for (size_t k = 0; k < 4; k++) {
        f->ambient = schedule[k].ambient;
        f->heat_film = schedule[k].heat_film;
        f->vapour = schedule[k].vapour;
        f->mass_film = schedule[k].mass_film;
        f->in_water = schedule[k].in_water;
        int status = hfi_ode_start(ode, t, k == 0 ? y : NULL, NULL);
        t += schedule[k].duration;
        if (status == HFI_ODE_OK)
            status = hfi_ode_advance(ode, t, NULL, NULL);
        if (status != HFI_ODE_OK)
            return status;
        phase[k][0] = hfi_mesh_mean(f->mesh, hfi_ode_y(ode), 2);
        phase[k][1] = hfi_ode_y(ode)[1];
    }
    return HFI_ODE_OK;
}

int main(void)
{
    static const size_t cells[] = {60, 240};
    for (size_t c = 0; c < 3; c++) {
        for (double rtol = 1e-5; rtol > 1e-8; rtol *= 1e-2) {
            wet_fibre f = {.ambient = 298.15};
            hfi_ode *ode = NULL;
            if (hfi_mesh_create(cells[c], HFI_MESH_GRADING, 35e-6, &f.mesh) != HFI_MESH_OK)
                return 1;
            const hfi_ode_problem problem = {
                .blocks = cells[c],
                .block_size = 2,
                .user = &f,
                .rates = rates,
                .jacobian = jacobian,
            };
            if (hfi_ode_create(&problem, NULL, &ode) != HFI_ODE_OK)
                return 1;
            (void)hfi_ode_set_tolerance(ode, 0, 2, cells[c], rtol, 0.1 * rtol, 1.0);
            (void)hfi_ode_set_tolerance(ode, 1, 2, cells[c], rtol, 10.0 * rtol, 1.0);
            double phase[4][2], best = 1e300;
            hfi_ode_statistics s = {0};
            for (size_t repeat = 0; repeat < 20; repeat++) {
                hfi_ode_statistics before;
                hfi_ode_get_statistics(ode, &before);
                const double start = now_ms();
                const int status = run(ode, &f, phase);
                const double took = now_ms() - start;
                if (status != HFI_ODE_OK) {
                    hfi_ode_failure failure;
                    hfi_ode_get_failure(ode, &failure);
                    printf("status %d cause %d at %g s\n", status, failure.cause, failure.t);
                    return 1;
                }
                best = took < best ? took : best;
                hfi_ode_get_statistics(ode, &s);
                s.steps -= before.steps;
                s.rejected -= before.rejected;
            }
            printf("integrator: stand-in problem; %zu cells at %.0e,%.3f,ms,\n", cells[c], rtol,
                   best);
            printf("integrator: steps of it; %zu cells at %.0e,%zu,steps,\n", cells[c], rtol,
                   s.steps + s.rejected);
            hfi_ode_free(ode);
            hfi_mesh_free(f.mesh);
        }
    }
    return 0;
}
