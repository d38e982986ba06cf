/* Updates of the sulfur balance without checks; each moves what it takes from one place to another.
 */
#ifndef HFI_SULFUR_H
#define HFI_SULFUR_H

#include <hairfibre/chemistry.h>

/* State of a set; non-zero when it holds more cysteic acid than half-cystine. */
int hfi_sulfur_start(const double *values, hf_sulfur *state);

/* Opens `share` of the disulfide bonds; `recovered` of what is opened can be joined again. */
void hfi_sulfur_open(hf_sulfur *state, double share, double recovered);

/* Joins thiol again for a time of `ratio` time constants. */
void hfi_sulfur_join(hf_sulfur *state, double ratio);

/* Bleaches by the root law: `exposure` is added to the squared share. Returns the share oxidised by
 * the law so far; the state loses no more than it has. */
double hfi_sulfur_bleach_root(hf_sulfur *state, double exposure, double ratio);

/* Bleaches by the steady law for rate times time `exposure`, while thiol is joined as above.
 * Returns the same share. */
double hfi_sulfur_bleach_steady(hf_sulfur *state, double exposure, double ratio);

#endif
