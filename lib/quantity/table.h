/* The tables of all rooms. */
#ifndef HFI_QUANTITY_TABLE_H
#define HFI_QUANTITY_TABLE_H

#include "../base/quantity_table.h"

#define HFI_QUANTITY_ROOMS(X) X(water) X(keratin) X(vapour) X(bonds) X(strength)

HFI_QUANTITY_ROOMS(HFI_QUANTITY_TABLE)

/* True when the quantity uses the parameter of this name: it starts with one of the quantity's prefixes, at
 * a dot or in full. */
int hfi_quantity_uses(const hf_quantity *quantity, const char *name);

#endif
