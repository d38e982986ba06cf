/*
 * Draws: points of the unit cube, and numbers that follow a distribution.
 */
#ifndef HFI_SAMPLING_H
#define HFI_SAMPLING_H

#include <hairfibre/uncertainty.h>

#include <gsl/gsl_qrng.h>

/* A distribution made ready: its range of probabilities between low and high. */
typedef struct hfi_variate {
    hf_distribution distribution;
    double value, spread, low, high;
    double below, within; /* probability below low, and between low and high */
} hfi_variate;

/* HF_EINVAL or HF_ERANGE with a sentence naming the variate (message may be NULL). */
hf_status hfi_variate_prepare(hfi_variate *out, const hf_variate *given, hf_message *message);

/* Number at probability u, 0 < u < 1, of the truncated distribution. */
double hfi_variate_at(const hfi_variate *variate, double u);

/* A stream of points. Sobol: draw i is point i / blocks of the sequence, shifted by the random vector of
 * block i mod blocks. */
typedef struct hfi_design {
    hf_draw_method method;
    size_t dimensions, blocks, next;
    uint64_t seed;
    gsl_qrng *sequence;
    double *point, *shift; /* dimensions, blocks * dimensions */
} hfi_design;

#define HFI_SOBOL_DIMENSIONS 40 /* of GSL's sequence */

/* Opens; beyond HFI_SOBOL_DIMENSIONS the method becomes pseudo-random. HF_ENOMEM. */
hf_status hfi_design_open(hfi_design *design, size_t dimensions, hf_draw_method method,
                          uint64_t seed, size_t blocks);
void hfi_design_close(hfi_design *design);

/* Next point: `dimensions` numbers, each above 0 and below 1. */
void hfi_design_next(hfi_design *design, double *u);

#endif
