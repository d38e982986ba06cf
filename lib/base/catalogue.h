/*
 * The catalogue of parameters: one table, written as X-macro rows in catalogue/ (.def files), one file per
 * topic. A row reads
 *   P(ID, "dotted.name", "unit", value, DISTRIBUTION, spread, low, high,
 *     "source-key", "place", "conditions", HF_KNOWN, "what it is")
 * Models read values by id: hfi_values(set)[HFI_SORPTION_ABSORPTION_MONOLAYER].
 */
#ifndef HFI_CATALOGUE_H
#define HFI_CATALOGUE_H

#include <hairfibre/base.h>

typedef enum hfi_parameter_id {
#define P(id, name, unit, value, distribution, spread, low, high, source, place, cond, known,      \
          text)                                                                                    \
    HFI_##id,
#include "catalogue/all.def"
#undef P
    HFI_PARAMETERS
} hfi_parameter_id;

/* A replaced row of a named set; unit, limits and text stay those of the catalogue. */
typedef struct hfi_delta {
    hfi_parameter_id id;
    double value;
    hf_distribution distribution;
    double spread;
    const char *source, *place, *conditions;
    hf_known known;
} hfi_delta;

typedef struct hfi_named_set {
    hf_set head;
    const hfi_delta *deltas;
    size_t count;
} hfi_named_set;

extern const hf_parameter hfi_catalogue[HFI_PARAMETERS];
extern const double hfi_shipped_values[HFI_PARAMETERS];
extern const hfi_named_set hfi_named_sets[];
extern const size_t hfi_named_set_count;

/* Values in use, indexed by hfi_parameter_id; NULL gives the shipped set "virgin". */
const double *hfi_values(const hf_parameters *set);

/* Puts a value in use without marking it as changed by the user, for draws. 0 when it lies outside the
 * limits of its row (nothing is put). */
int hfi_parameters_put(hf_parameters *set, size_t index, double value);

#endif
