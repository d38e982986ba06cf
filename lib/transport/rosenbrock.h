/* Time integration of stiff, block tridiagonal systems with attached quadratures: RODAS4P with step
 * size control, dense output and event location.
 *
 *   dy/dt = f(t, y)      y: blocks x block_size values, J = df/dy block tridiagonal
 *                        (plus, if wanted, one rank-one term u v^T: a sum over all cells that acts
 *                        on all cells, such as the outer radius of a swelling fibre)
 *   dq/dt = g(t, y, q)   q: quadratures values; g_e may depend on y, on t and on its own q_e only,
 *                        and f does not depend on q (growth of a void, damage, water lost)
 *
 * The quadratures go through the same stages with the Jacobian rows [G_y, diag(g_q)], so they have
 * order 4 too: (1/(h gamma) - g_q) k_q = g(...) + G_y k_y + sum_j (C_ij/h) k_qj + h d_i g_t.
 *
 * The method needs the exact Jacobian, and the exact time derivative where the problem depends on
 * time; otherwise the order falls. All vectors of the object are laid out as y then q, and a
 * "component" counts through both: 0 .. blocks*block_size-1 is y, the rest is q.
 *
 * Sources: steinebach1995, hairerwanner1996 (IV.7); see rosenbrock_tableau.h for the formulas.
 * One object, one thread at a time. No globals, no printing, one allocation per object.
 */
#ifndef HFI_TRANSPORT_ROSENBROCK_H
#define HFI_TRANSPORT_ROSENBROCK_H

#include "block_tridiagonal.h"

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>

#define HFI_ODE_MAX_EVENTS      16
#define HFI_ODE_MAX_QUADRATURES ((size_t)1000000)

enum hfi_ode_status {
    HFI_ODE_OK = 0,
    HFI_ODE_EVENT,          /* a terminal event: time and state are those of the event */
    HFI_ODE_STOPPED,        /* the stop flag, or the observer, asked to stop; may be resumed */
    HFI_ODE_STEP_TOO_SMALL, /* error test or validity could not be met */
    HFI_ODE_TOO_MANY_STEPS, /* may be resumed */
    HFI_ODE_NOT_FINITE,     /* rates, events or state not finite */
    HFI_ODE_NO_MEMORY,
    HFI_ODE_BAD_ARGUMENT,
    HFI_ODE_SINGULAR
};

/* Why the last trial step was rejected. */
enum hfi_ode_cause {
    HFI_ODE_CAUSE_NONE = 0,
    HFI_ODE_CAUSE_ERROR,   /* estimated error above tolerance */
    HFI_ODE_CAUSE_REFUSED, /* a callback returned non-zero */
    HFI_ODE_CAUSE_INVALID, /* the validity callback turned the new state down */
    HFI_ODE_CAUSE_NOT_FINITE,
    HFI_ODE_CAUSE_SINGULAR
};

/* Callbacks return 0, or anything else for "cannot be worked out here": the trial step is then
 * rejected and tried again shorter. They must not keep the pointers they are given. */
typedef struct hfi_ode_problem {
    size_t blocks;     /* >= 1 */
    size_t block_size; /* 1 or 2 */
    size_t quadratures;
    size_t events; /* <= HFI_ODE_MAX_EVENTS */
    void *user;

    /* Rates. dydt or dqdt may be NULL when only the other is wanted (dqdt is NULL for 0
     * quadratures). The first call of every step is at the accepted state. */
    int (*rates)(double t, const double *y, const double *q, double *dydt, double *dqdt,
                 void *user);

    /* df/dy; jacobian arrives filled with zeros. Called once per step, right after rates() at the
     * same (t, y, q). NULL: one-sided differences, 3*block_size more calls of rates() per step. */
    int (*jacobian)(double t, const double *y, const double *q, hfi_bt *jacobian, void *user);

    /* Rank-one part: df/dy = block tridiagonal + u v^T (needs jacobian). NULL: none. */
    int (*coupling)(double t, const double *y, const double *q, double *u, double *v, void *user);

    /* Partial derivatives with respect to time; the arrays arrive zeroed. NULL: autonomous. */
    int (*time_derivative)(double t, const double *y, const double *q, double *dydt_t,
                           double *dqdt_t, void *user);

    /* out_e = sum_i (dg_e/dy_i) v_i at (t, y, q) of the last jacobian() call, so what that call
     * worked out may be kept and used again; called 6 times per step. NULL: one-sided difference,
     * one more call of rates() (dydt NULL) each. */
    int (*quadrature_gradient)(double t, const double *y, const double *q, const double *v,
                               double *out, void *user);

    /* The first `balanced` quadratures close a balance: sum_i p_e,i f_i + g_e = 0 with constants
     * p_e,i; quadrature_balance writes out_e = sum_i p_e,i v_i and size_e = sum_i |p_e,i v_i|
     * (size may be NULL).
     * Their stages then follow from that sum instead of the gradient, which keeps
     * sum_i p_e,i y_i + q_e to rounding also in steps so long that 1/h is lost beside the largest
     * entries of J. The rates of both are still the callback's: where they fail to balance by more
     * than their rounding, so will the result. */
    size_t balanced;
    void (*quadrature_balance)(const double *v, double *out, double *size, void *user);

    /* out_e = dg_e/dq_e; once per step. NULL: the rates do not depend on q. */
    int (*quadrature_own)(double t, const double *y, const double *q, double *out, void *user);

    /* Non-zero turns an otherwise good new state down (a negative regain, say). NULL: all valid. */
    int (*valid)(double t, const double *y, const double *q, void *user);

    /* value[events]: continuous functions whose change of sign is an event. A value of exactly zero
     * counts as the sign before; two crossings within one step cancel and are not seen (use
     * max_step where that matters). */
    int (*event_values)(double t, const double *y, const double *q, double *value, void *user);

    struct {
        int direction; /* +1 rising only, -1 falling only, 0 both */
        bool terminal;
    } event[HFI_ODE_MAX_EVENTS];
} hfi_ode_problem;

/* Zero in a field means the default. */
typedef struct hfi_ode_options {
    double initial_step;    /* default: from f and J f at the start */
    double max_step;        /* default: none */
    double min_step;        /* default: 16 rounding units of the time, 1e-20 of the span */
    double event_tolerance; /* of the event time; default: a few rounding units of the time */
    size_t max_steps;       /* trial steps in one call of advance; default 100000 */
    const volatile sig_atomic_t *stop; /* looked at before every step; default NULL */
} hfi_ode_options;

typedef struct hfi_ode_statistics {
    size_t steps; /* accepted */
    size_t rejected;
    size_t rates; /* calls, without those for differences */
    size_t jacobians;
    size_t factors;
    size_t solves;
    size_t differences; /* calls of rates() for differences */
    size_t events;      /* events found */
} hfi_ode_statistics;

typedef struct hfi_ode_failure {
    int status;       /* HFI_ODE_OK when nothing has failed */
    int cause;        /* enum hfi_ode_cause */
    double t;         /* of the last accepted state */
    double step;      /* trial step that failed */
    bool located;     /* component and error are known */
    size_t component; /* with the largest (or first non-finite) scaled error */
    double error;     /* its error divided by its tolerance, in the last step tried */
} hfi_ode_failure;

typedef struct hfi_ode_hit {
    size_t event;
    int direction; /* +1: the value rises through zero */
    bool terminal;
    double t;
} hfi_ode_hit;

typedef struct hfi_ode hfi_ode;

/* Called with hit != NULL for every event (in order of time, before the step that holds it) and
 * with hit == NULL after every accepted step; hfi_ode_dense answers for the step in both cases.
 * Non-zero from an event makes it terminal; non-zero from a step stops the run. */
typedef int (*hfi_ode_observer)(hfi_ode *ode, const hfi_ode_hit *hit, void *user);

/* Tolerances start as rtol 1e-5, atol 1e-8, weight 1. The problem and options are copied. */
int hfi_ode_create(const hfi_ode_problem *problem, const hfi_ode_options *options, hfi_ode **out);
void hfi_ode_free(hfi_ode *ode);

/* For components first, first+stride, ... (count of them): local error <= atol + rtol |value|.
 * The error of a step is the larger of the weighted root mean square over y and the largest
 * weighted value over q. A weight of 0 takes a component out of the error test. Difference
 * increments take atol/rtol as the size of a small value. */
int hfi_ode_set_tolerance(hfi_ode *ode, size_t first, size_t stride, size_t count, double rtol,
                          double atol, double weight);

/* A first step by default will not be shorter than this; 0: no limit. */
int hfi_ode_set_least_first_step(hfi_ode *ode, double step);

/* Sets time and state and forgets the past; y or q NULL keeps the present values (first call:
 * zero). Call it at every jump of f, e.g. a change of surroundings. Tolerances and statistics stay.
 */
int hfi_ode_start(hfi_ode *ode, double t, const double *y, const double *q);

/* Integrates to t_end (> = time). HFI_ODE_OK at t_end; HFI_ODE_EVENT, HFI_ODE_STOPPED,
 * HFI_ODE_TOO_MANY_STEPS with the state reached (call again to go on); else failure, with the last
 * good state kept. observer may be NULL. */
int hfi_ode_advance(hfi_ode *ode, double t_end, hfi_ode_observer observer, void *observer_user);

double hfi_ode_time(const hfi_ode *ode);
const double *hfi_ode_y(const hfi_ode *ode);
const double *hfi_ode_q(const hfi_ode *ode);
double hfi_ode_next_step(const hfi_ode *ode); /* proposed; 0 when not yet known */

/* Dense output on the last accepted step, start <= t <= time. HFI_ODE_BAD_ARGUMENT outside it, or
 * when there is no such step (after hfi_ode_start or after a failure). */
int hfi_ode_dense_range(const hfi_ode *ode, double *start, double *end);
int hfi_ode_dense(const hfi_ode *ode, double t, size_t component, double *out);
int hfi_ode_dense_some(const hfi_ode *ode, double t, const size_t *component, size_t count,
                       double *out);
int hfi_ode_dense_all(const hfi_ode *ode, double t, double *out);

void hfi_ode_get_statistics(const hfi_ode *ode, hfi_ode_statistics *out);
void hfi_ode_get_failure(const hfi_ode *ode, hfi_ode_failure *out);

/* Helpers by one-sided differences, also for checking analytic derivatives. scale[i] > 0 is a size
 * of y_i below which its increment shrinks no further. work: 2*n (jacobian), n (gradient) doubles,
 * n = blocks*block_size. f0, g0: rates at (t, y, q). They return 0 or what rates() returned. */
int hfi_ode_difference_jacobian(const hfi_ode_problem *problem, double t, const double *y,
                                const double *q, const double *f0, const double *scale,
                                double *work, hfi_bt *jacobian);
int hfi_ode_difference_gradient(const hfi_ode_problem *problem, double t, const double *y,
                                const double *q, const double *g0, const double *v,
                                const double *scale, double *work, double *out);

#endif
