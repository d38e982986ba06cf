/* Weibull lives by maximum likelihood: ln scale_i = x_i . gamma, one shape. */
#ifndef HFI_LIFE_H
#define HFI_LIFE_H

#include <hairfibre/inference.h>

#define HFI_LIFE_COVARIATES 2

/* theta = gamma[0 .. k - 1], ln shape. */
typedef struct hfi_lives {
    size_t n, k;
    const double *log_life; /* n */
    const int *observed;    /* n */
    const double *x;        /* n * k */
    double broken;          /* number observed */
} hfi_lives;

#define HFI_LIFE_THETA (HFI_LIFE_COVARIATES + 1)

/* Log-likelihood of the lives (not of their logarithms); gradient and Hessian (k + 1 square) may be NULL. */
double hfi_life_likelihood(const hfi_lives *lives, const double *theta, double *gradient,
                           double *hessian);

/* Newton's method uphill from theta, parameters with a bit in `held` staying. HF_ECONVERGE. */
hf_status hfi_life_climb(const hfi_lives *lives, unsigned held, double *theta, size_t *iterations);

/* Inverse of the observed information at theta; HF_ECONVERGE when it is not positive definite. */
hf_status hfi_life_covariance(const hfi_lives *lives, unsigned held, const double *theta,
                              double *covariance);

/* Profile-likelihood interval of theta[j] around the maximum. */
hf_status hfi_life_interval(const hfi_lives *lives, unsigned held, const double *theta, size_t j,
                            double error, double level, hf_interval *out);

/* Counts and checks of lives, with a sentence; log_life has room for n. */
hf_status hfi_life_check(size_t n, const double *life, const int *observed, double level,
                         double *log_life, double *broken, hf_message *message);

/* Fills counts, likelihood and criteria. */
void hfi_life_finish(const hfi_lives *lives, const double *theta, size_t estimated, hf_life *out);

#endif
