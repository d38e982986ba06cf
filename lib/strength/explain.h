/* Sentences for failures in room strength that no single argument explains. `x` is the argument
 * array of the descriptor. */
#ifndef HFI_STRENGTH_EXPLAIN_H
#define HFI_STRENGTH_EXPLAIN_H

#include <hairfibre/base.h>

typedef void hfi_explain(const double *x, const hf_parameters *set, hf_message *message);

hfi_explain hfi_explain_crossover;
hfi_explain hfi_explain_humidity; /* humidity */
hfi_explain hfi_explain_strain;   /* strain, humidity */
hfi_explain hfi_explain_stress;   /* stress, humidity */
hfi_explain hfi_explain_lost;     /* disulfide_lost, state */
hfi_explain hfi_explain_strands;  /* strands, ... */
hfi_explain hfi_explain_broken;   /* broken, strands, ... */
hfi_explain hfi_explain_life;     /* stress, humidity */
hfi_explain hfi_explain_rival;    /* stress, level */
hfi_explain hfi_explain_cycles;   /* cycles, stress, humidity */
hfi_explain hfi_explain_shape;    /* ... that needs a fatigue table and nothing else */
hfi_explain hfi_explain_certain;  /* probability, ... */
hfi_explain hfi_explain_sheath;   /* thickness, diameter */
hfi_explain hfi_explain_cuticle;  /* whole, without, thickness, diameter */

#endif
