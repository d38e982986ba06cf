/* Data and shorthand shared by the tests of fitting. */
#ifndef HFI_TESTS_FIT_TOOLS_H
#define HFI_TESTS_FIT_TOOLS_H

#include "check.h"

#include <hairfibre/inference.h>

#define COUNT(a) (sizeof(a) / sizeof(a)[0])

/* Wood-type sorption, two branches (pupmsi-data). */
static const double wood_a[] = {0.1145, 0.2274, 0.3265, 0.4291, 0.6342, 0.7385, 0.8274, 0.9573};
static const double wood_up[] = {0.0234, 0.0366, 0.0496, 0.0648, 0.0887, 0.1096, 0.1343, 0.1938};
static const double wood_down[] = {0.0459, 0.0637, 0.0794, 0.0884, 0.1158, 0.1298, 0.1500, 0.1938};

/* Straight line with one wild point, for checks against closed formulas and R 4.2.2. */
static const double line_x[] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10};
static const double line_y[] = {1.1, 1.9, 3.2, 3.9, 5.1, 5.8, 7.3, 20, 8.9, 10.2};

static inline hf_status line_value(const double *x, const double *b, void *user, double *y)
{
    (void)user;
    *y = b[0] + b[1] * x[0];
    return HF_OK;
}

static inline hf_fit_parameter free_parameter(const char *name, double start)
{
    hf_fit_parameter p = HF_FIT_PARAMETER_INIT;
    p.name = name;
    p.start = start;
    return p;
}

/* Description of a built-in model on one column of x; `parameters` has HF_FIT_PARAMETERS_MAX places. */
static inline hf_fit_description model_on(const char *name, size_t n, const double *x,
                                          const double *y, hf_fit_parameter *parameters)
{
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    assert_int_equal(hf_model_describe(hf_model_find(name), &d, parameters), HF_OK);
    d.points = n;
    d.x = x;
    d.y = y;
    return d;
}

static inline hf_fit_description line_on(size_t n, const double *x, const double *y,
                                         hf_fit_parameter *parameters)
{
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    parameters[0] = free_parameter("height", 1);
    parameters[1] = free_parameter("slope", 1);
    d.points = n;
    d.columns = 1;
    d.x = x;
    d.y = y;
    d.parameter_count = 2;
    d.parameters = parameters;
    d.value = line_value;
    return d;
}

/* Fit that must work. */
static inline hf_fit *run_fit(const hf_fit_description *d)
{
    hf_fit *fit = NULL;
    hf_message message;
    const hf_status status = hf_fit_new(&fit, d, &message);
    if (status != HF_OK)
        print_error("%s\n", message.text);
    assert_int_equal(status, HF_OK);
    assert_int_equal(hf_fit_run(fit), HF_OK);
    return fit;
}

static inline hf_fit_estimate estimate(const hf_fit *fit, size_t j)
{
    hf_fit_estimate e;
    assert_int_equal(hf_fit_get_estimate(fit, j, &e), HF_OK);
    return e;
}

static inline hf_fit_summary summary(const hf_fit *fit)
{
    hf_fit_summary s;
    assert_int_equal(hf_fit_get_summary(fit, &s), HF_OK);
    return s;
}

#endif
