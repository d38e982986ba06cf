/* What hf_parameters holds. */
#ifndef HFI_SET_H
#define HFI_SET_H

#include "catalogue.h"

/* Rows fitted together, in the order of the catalogue. */
typedef struct hfi_fitted {
    size_t count;
    size_t row[HF_FITTED_MAX];
    double covariance[HF_FITTED_MAX * HF_FITTED_MAX]; /* count * count of them */
    char label[HF_LABEL_SIZE];
} hfi_fitted;

struct hf_parameters {
    const hfi_named_set *base;
    char name[64]; /* "": that of the base */
    double value[HFI_PARAMETERS];
    const hfi_delta *delta[HFI_PARAMETERS]; /* NULL: the catalogue's own row */
    unsigned char changed[HFI_PARAMETERS];
    hfi_fitted *fitted; /* NULL: none */
    hf_message message;
};

/* Place of a row among the fitted ones; their count when it is none of them. */
size_t hfi_fitted_place(const hf_parameters *set, size_t row);

/* Takes a row out of the fitted ones. */
void hfi_fitted_leave(hf_parameters *set, size_t row);

/* Cholesky factor of a symmetric matrix n * n, lower triangle of out (n * n, the rest 0). A direction without spread
 * gives a column of zeros. 0 when the matrix is no covariance. */
int hfi_fitted_factor(size_t n, const double *matrix, double *out);

#endif
