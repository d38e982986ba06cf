/* The rooms' own tables of quantities; each room defines its two symbols in quantities.c. */
#ifndef HFI_QUANTITY_TABLE_H
#define HFI_QUANTITY_TABLE_H

#include <hairfibre/base.h>

#define HFI_QUANTITY_ROOMS(X) X(water) X(keratin) X(vapour) X(bonds) X(strength)

#define HFI_DECLARE_ROOM(room)                                                                     \
    extern const hf_quantity hfi_##room##_quantities[];                                            \
    extern const size_t hfi_##room##_quantity_count;
HFI_QUANTITY_ROOMS(HFI_DECLARE_ROOM)
#undef HFI_DECLARE_ROOM

/* True when the quantity uses the parameter of this name: it starts with one of the quantity's prefixes, at
 * a dot or in full. */
int hfi_quantity_uses(const hf_quantity *quantity, const char *name);

#endif
