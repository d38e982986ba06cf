/* Diffusion in a cylinder on the radial mesh with the integrator, for the transport benchmarks.
 * Radius 1, tau = D t/a^2, Phi = integral of D du:
 *   area_i du_i/dt = flow in - flow out,  flow through face f = G_f (Phi(u[f-1]) - Phi(u[f]))
 *   surface: half cell and film (2 pi L per unit of value) in series; L = HUGE_VAL: value given
 */
#ifndef HFI_TESTS_CYLINDER_H
#define HFI_TESTS_CYLINDER_H

#include "../unit/check.h"

#include "transport/mesh.h"
#include "transport/rosenbrock.h"

#include <stdlib.h>

#define PI 3.14159265358979323846

typedef enum law {
    CONSTANT,    /* D = 1 */
    EXPONENTIAL, /* D = exp(k u) */
    LINEAR       /* D = u (porous-medium equation) */
} law;

typedef struct cylinder {
    hfi_mesh *mesh;
    law law;
    double k;        /* exponent */
    double outside;  /* value outside the film */
    double film;     /* L = h a/D; HUGE_VAL: no film; 0: sealed */
    double fraction; /* the event: this share has gone through the surface */
    hfi_ode *ode;
} cylinder;

static inline double diffusivity(const cylinder *c, double u)
{
    switch (c->law) {
    case EXPONENTIAL:
        return exp(c->k * u);
    case LINEAR:
        return u > 0.0 ? u : 0.0;
    default:
        return 1.0;
    }
}

static inline double potential(const cylinder *c, double u)
{
    switch (c->law) {
    case EXPONENTIAL:
        return exp(c->k * u) / c->k;
    case LINEAR:
        return u > 0.0 ? 0.5 * u * u : 0.0;
    default:
        return u;
    }
}

/* Conductance between the last cell and the outside (a film is used with CONSTANT only). */
static inline double surface_conductance(const cylinder *c)
{
    const double half = c->mesh->outer_half[c->mesh->cells - 1];
    return c->film > 0.0 ? 1.0 / (half + 1.0 / (2.0 * PI * c->film)) : 0.0;
}

static inline double area(const cylinder *c, size_t i)
{
    return PI * (c->mesh->square[i + 1] - c->mesh->square[i]);
}

static inline int rates(double t, const double *y, const double *q, double *dydt, double *dqdt,
                        void *user)
{
    const cylinder *c = user;
    const size_t n = c->mesh->cells;
    double before = 0.0, flow_in = 0.0;
    (void)t;
    (void)q;
    for (size_t i = 0; i < n; i++) {
        const double here = potential(c, y[i]);
        if (i > 0) {
            const double flow = c->mesh->conductance[i] * (before - here);
            if (dydt != NULL)
                dydt[i - 1] = (flow_in - flow) / area(c, i - 1);
            flow_in = flow;
        }
        before = here;
    }
    const double out = surface_conductance(c) * (before - potential(c, c->outside));
    if (dydt != NULL)
        dydt[n - 1] = (flow_in - out) / area(c, n - 1);
    if (dqdt != NULL)
        dqdt[0] = -out; /* what came in through the surface */
    return 0;
}

static inline int jacobian(double t, const double *y, const double *q, hfi_bt *j, void *user)
{
    const cylinder *c = user;
    const size_t n = c->mesh->cells;
    (void)t;
    (void)q;
    for (size_t i = 0; i < n; i++) {
        const double d = diffusivity(c, y[i]);
        const double inner = c->mesh->conductance[i]; /* 0 at the axis */
        const double outer = i + 1 < n ? c->mesh->conductance[i + 1] : surface_conductance(c);
        j->diagonal[i] = -(inner + outer) * d / area(c, i);
        if (i > 0)
            j->upper[i - 1] = inner * d / area(c, i - 1);
        if (i + 1 < n)
            j->lower[i + 1] = outer * d / area(c, i + 1);
    }
    return 0;
}

static inline int gradient(double t, const double *y, const double *q, const double *v, double *out,
                           void *user)
{
    const cylinder *c = user;
    const size_t last = c->mesh->cells - 1;
    (void)t;
    (void)q;
    out[0] = -surface_conductance(c) * diffusivity(c, y[last]) * v[last];
    return 0;
}

static inline int uptake_reached(double t, const double *y, const double *q, double *value,
                                 void *user)
{
    const cylinder *c = user;
    (void)t;
    (void)y;
    value[0] = fabs(q[0]) / PI - c->fraction;
    return 0;
}

/* A cylinder at the uniform value `start`. The tolerance leaves the integrator's error far below
 * that of the mesh. */
static inline cylinder *begin(size_t cells, double grading, double radius, law kind, double k,
                              double film, double start, double outside)
{
    cylinder *c = calloc(1, sizeof *c);
    double *y = malloc(cells * sizeof(double));
    assert_non_null(c);
    assert_non_null(y);
    *c = (cylinder){.law = kind, .k = k, .outside = outside, .film = film, .fraction = 2.0};
    assert_int_equal(hfi_mesh_create(cells, grading, radius, &c->mesh), HFI_MESH_OK);
    hfi_ode_problem problem = {
        .blocks = cells,
        .block_size = 1,
        .quadratures = 1,
        .events = 1,
        .user = c,
        .rates = rates,
        .jacobian = jacobian,
        .quadrature_gradient = gradient,
        .event_values = uptake_reached,
    };
    problem.event[0].terminal = true;
    for (size_t i = 0; i < cells; i++)
        y[i] = start;
    const double q = 0.0;
    assert_int_equal(hfi_ode_create(&problem, NULL, &c->ode), HFI_ODE_OK);
    assert_int_equal(hfi_ode_set_tolerance(c->ode, 0, 1, cells + 1, 1e-9, 1e-11, 1.0), HFI_ODE_OK);
    assert_int_equal(hfi_ode_start(c->ode, 0.0, y, &q), HFI_ODE_OK);
    free(y);
    return c;
}

static inline void end(cylinder *c)
{
    hfi_ode_free(c->ode);
    hfi_mesh_free(c->mesh);
    free(c);
}

static inline void run_to(cylinder *c, double tau)
{
    assert_int_equal(hfi_ode_advance(c->ode, tau, NULL, NULL), HFI_ODE_OK);
}

/* Share of the final uptake (|outside - start| = 1), from the cells; it must agree with what the
 * quadrature counted at the surface. */
static inline double uptake(const cylinder *c, double start)
{
    const double inside = fabs(hfi_mesh_mean(c->mesh, hfi_ode_y(c->ode), 1) - start);
    CHECK_CLOSE(fabs(hfi_ode_q(c->ode)[0]) / PI, inside, 1e-12, 1e-12, "balance");
    return inside;
}

static inline double time_of(cylinder *c, double fraction)
{
    c->fraction = fraction;
    assert_int_equal(hfi_ode_start(c->ode, hfi_ode_time(c->ode), NULL, NULL), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(c->ode, 1e4, NULL, NULL), HFI_ODE_EVENT);
    return hfi_ode_time(c->ode);
}

/* Value at radius r: cubic through the four nearest cells in the coordinate r^2. */
static inline double value_at(const cylinder *c, double r)
{
    const double x = r * r, *a = c->mesh->centre_square, *y = hfi_ode_y(c->ode);
    const size_t n = c->mesh->cells;
    size_t first = 0;
    while (first + 4 < n && a[first + 2] < x)
        first++;
    double sum = 0.0;
    for (size_t i = first; i < first + 4; i++) {
        double weight = 1.0;
        for (size_t j = first; j < first + 4; j++)
            if (j != i)
                weight *= (x - a[j]) / (a[i] - a[j]);
        sum += weight * y[i];
    }
    return sum;
}

#endif
