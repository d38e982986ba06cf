/* Named sets: rows that replace the catalogue's for another state of the fibre. */
#include "catalogue.h"

#define D(id, value, distribution, spread, source, place, conditions, known)                       \
    {HFI_##id, value, distribution, spread, source, place, conditions, known},

static const hfi_delta bleached[] = {
#include "catalogue/bleached.set"
};

static const hfi_delta wool[] = {
#include "catalogue/wool.set"
};

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

const hfi_named_set hfi_named_sets[] = {
    {{"virgin", "human scalp hair without chemical treatment"}, NULL, 0},
    {{"bleached", "human scalp hair after moderate oxidative bleaching (largely assumed)"},
     bleached,
     COUNT(bleached)},
    {{"wool", "wool fibre, for checks against the wool literature"}, wool, COUNT(wool)},
};
const size_t hfi_named_set_count = COUNT(hfi_named_sets);
