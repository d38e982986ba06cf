/* Where a profile tau(r), 0 at r = 0 and a straight line in the easiest case, reaches a target. */
#ifndef HFI_EDGE_H
#define HFI_EDGE_H

#include <hairfibre/base.h>

typedef enum hfi_edge { HFI_EDGE_FOUND, HFI_EDGE_BOUND, HFI_EDGE_OPEN } hfi_edge;

/* tau at r >= 0: finite, or infinite where there is no answer. A status other than HF_OK ends the search. */
typedef hf_status hfi_profile(void *context, double r, double *tau);

/* Smallest r > 0 with tau(r) = target, to a relative `close`; r = 1 is the first guess. HFI_EDGE_BOUND: the wall (infinite: none)
 * was met first, *r is the wall. HFI_EDGE_OPEN: not passed by r = far. */
hf_status hfi_find_edge(hfi_profile *profile, void *context, double target, double close,
                        double wall, double far, double *r, hfi_edge *edge);

#endif
