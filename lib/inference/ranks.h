/* Ranks with ties, doubled so that shared ones are whole, and the ways to reach a sum of them. */
#ifndef HFI_RANKS_H
#define HFI_RANKS_H

#include <hairfibre/statistics.h>

typedef struct hfi_ranked {
    double value;
    size_t from; /* place in the caller's list */
    long rank;   /* doubled */
} hfi_ranked;

/* HF_OK; HF_EINVAL with a sentence when a value is not finite. */
hf_status hfi_check_list(size_t n, const double *x, const char *what, hf_message *message);

/* Sorts by value and sets the ranks; sum of t^3 - t over the ties of t values, and how many values share a
 * rank. */
double hfi_rank_all(hfi_ranked *items, size_t n, size_t *tied);

/* Ways to choose k of the items (sorted) by the sum of their ranks, 0 .. *most; the caller frees the block,
 * the row of k items is *row. NULL without memory. */
double *hfi_sum_ways(const hfi_ranked *items, size_t n, size_t k, long *most, double **row);

/* Shares of the ways with a sum up to, and from, x on. */
void hfi_finish_ways(hf_ranks *r, const double *ways, long most, long x);

/* Approximate: normal with continuity correction, around the statistic in place. */
void hfi_finish_normal(hf_ranks *r, double mean, double variance);

#endif
