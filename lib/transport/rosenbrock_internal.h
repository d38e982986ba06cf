/* The integrator object, shared by the rosenbrock_*.c files only. */
#ifndef HFI_TRANSPORT_ROSENBROCK_INTERNAL_H
#define HFI_TRANSPORT_ROSENBROCK_INTERNAL_H

#include "rosenbrock.h"
#include "rosenbrock_tableau.h"

struct hfi_ode {
    hfi_ode_problem problem;
    hfi_ode_options options;
    hfi_ode_statistics statistics;
    hfi_ode_failure failure;
    size_t ny; /* block components */
    size_t n;  /* all components */

    double t;
    double step; /* proposed next step, 0 when unknown */
    double least_first_step;
    bool prepared;      /* rates and derivatives below belong to (t, y, q) */
    bool moving;        /* rate_t is not zero everywhere */
    bool have_previous; /* error_previous and step_previous are set */
    double error_previous;
    double step_previous;

    /* The step the stages belong to: from start_t over start_h; usable up to the time t. */
    bool dense_ready;
    double start_t;
    double start_h;

    /* Vectors of n: current state, start and full end of the step, scratch, first rates, df/dt. */
    double *y;
    double *from;
    double *to;
    double *stage;
    double *rate;
    double *rate_t;
    double *sum; /* of the stages before, times C/h */
    double *k[HFI_RODAS_STAGES];
    double *rtol;
    double *atol;
    double *weight;
    double *scale; /* smallest size for difference increments */
    double *u;     /* ny: coupling */
    double *v;     /* ny */
    double *w;     /* ny: (I/(h gamma) - J)^-1 u */
    double coupling_pivot;
    double *own;      /* nq: dg/dq */
    double *gradient; /* nq: G_y k */
    double *closed;   /* 3 nq: balance of a stage before and after its solution, size */
    double y_weight;  /* sum of the weights of y; 0 when out of date */
    hfi_bt jacobian;
    hfi_bt factors;

    int side[HFI_ODE_MAX_EVENTS];          /* sign of each event value, 0 unknown */
    double value_from[HFI_ODE_MAX_EVENTS]; /* event values at the start ... */
    double value_to[HFI_ODE_MAX_EVENTS];   /* ... and the end of the step */

    double data[];
};

/* Rates and derivatives at the current state; a cause. */
int hfi_ode_prepare(hfi_ode *ode);

/* A first step from f and J f; needs hfi_ode_prepare. May be infinite (nothing happens). */
double hfi_ode_first_step(hfi_ode *ode);

/* Tries one step of length h: stages and the state ode->to; *error is the scaled error. A cause. */
int hfi_ode_try_step(hfi_ode *ode, double h, double *error);

/* Names the component with the largest scaled error of the last trial in the failure record. */
void hfi_ode_locate_error(hfi_ode *ode);

/* Values of the dense output without checks. */
void hfi_ode_interpolate(const hfi_ode *ode, double theta, double *restrict out);

/* Event values at a state; a cause. */
int hfi_ode_event_values(hfi_ode *ode, double t, const double *state, double *value);

/* Events inside the step just accepted (value_from, value_to, dense output ready), in order of
 * time. A status: HFI_ODE_OK or HFI_ODE_NOT_FINITE. */
int hfi_ode_find_events(hfi_ode *ode, hfi_ode_hit *hits, size_t *count);

#endif
