/* Inside of the object hf_fit, for the files of this room. */
#ifndef HFI_FIT_H
#define HFI_FIT_H

#include "search.h"

struct hf_fit {
    hfi_problem problem; /* points into this object */
    hfi_active free;     /* parameters not fixed */
    hf_weighting weighting;
    hf_loss loss;
    double huber;
    size_t starts, iterations, groups;
    unsigned long seed;
    int parallel;
    double low[HF_FIT_PARAMETERS_MAX], high[HF_FIT_PARAMETERS_MAX], start[HF_FIT_PARAMETERS_MAX],
        typical[HF_FIT_PARAMETERS_MAX];
    unsigned flags[HF_FIT_PARAMETERS_MAX];
    char *names[HF_FIT_PARAMETERS_MAX], *units[HF_FIT_PARAMETERS_MAX];
    char notes[HF_FIT_PARAMETERS_MAX][200];
    char reason[sizeof(hf_message)];
    hf_message message;
    /* The result. */
    int done;
    double values[HF_FIT_PARAMETERS_MAX], from[HF_FIT_PARAMETERS_MAX];
    double error[HF_FIT_PARAMETERS_MAX], natural[HF_FIT_PARAMETERS_MAX];
    double covariance[HF_FIT_PARAMETERS_MAX * HF_FIT_PARAMETERS_MAX]; /* p * p; NaN: none */
    hf_fit_summary summary;
    hfi_search search;
    double *fitted, *leverage, *robust; /* n each */
    size_t *group, *map;
    double *x, *y, *sw, *block;
};

/* Statistics of the point reached: covariance, flags, leverage, criteria. */
hf_status hfi_result(struct hf_fit *fit, hfi_work *work, const hfi_outcome *outcome);

/* Sentences: why it stopped, what the flags mean. */
void hfi_explain(struct hf_fit *fit, const hfi_outcome *outcome);

/* Huber's estimate from the least-squares optimum on; leaves the weights in fit->robust and the scale in
 * summary.s. */
hf_status hfi_robust(const struct hf_fit *fit, const hfi_problem *problem, hfi_work *work,
                     const hfi_active *active, double *b, double *weight, double *scale,
                     hfi_outcome *outcome);

/* Checks of a description, with a sentence; and which x differ. */
hf_status hfi_check_description(const hf_fit_description *d, hf_message *message);

/* Quantile of chi squared(k) or k F(k, dof), as the weighting asks. */
double hfi_threshold(const struct hf_fit *fit, size_t k, double level);

#endif
