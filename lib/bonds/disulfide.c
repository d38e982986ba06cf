/*
 * Disulfide bonds: how many there are.
 *
 *   intact bonds    = (N - c) / 2
 *   share oxidised  = (c - c0) / N
 *
 *   N      half-cystine, mol/kg: 1.46 (robbinskelly1969); two of them make one bond
 *   c, c0  cysteic acid of this hair and of untreated hair, mol/kg: c0 0.025 to 0.040, bleached
 * hair 0.2 to 0.4, severely bleached up to 0.65 (tate1993)
 *
 * Thiol groups and oxidation products between cystine and cysteic acid are left out.
 */
#include <hairfibre/bonds.h>

#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

hf_status hf_disulfide_content_e(const hf_parameters *set, unsigned flags, double *bonds)
{
    (void)flags;
    const double *values = hfi_values(set);
    const double reduced =
        values[HFI_BOND_DISULFIDE_HALF_CYSTINE] - values[HFI_BOND_DISULFIDE_CYSTEIC];
    if (!bonds)
        return HF_EINVAL;
    if (reduced < 0)
        return HF_ERANGE;
    *bonds = reduced / 2;
    return HF_OK;
}

hf_status hf_half_cystine_oxidised_e(double cysteic_acid, const hf_parameters *set, unsigned flags,
                                     double *share)
{
    static const hfi_range range = {HFI_CYSTEIC_CONTENT};
    const hf_status status = share ? hfi_check(cysteic_acid, &range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    const double gained = cysteic_acid - values[HFI_BOND_DISULFIDE_CYSTEIC_UNTREATED];
    if (gained < 0 || gained > values[HFI_BOND_DISULFIDE_HALF_CYSTINE])
        return HF_ERANGE;
    *share = gained / values[HFI_BOND_DISULFIDE_HALF_CYSTINE];
    return status;
}

HFI_STRICT(hf_disulfide_content, (const hf_parameters *set), set)
HFI_STRICT(hf_half_cystine_oxidised, (double cysteic_acid, const hf_parameters *set), cysteic_acid,
           set)
