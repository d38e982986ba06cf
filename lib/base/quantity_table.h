/* A room's own table of quantities: each room defines the two symbols, the room quantity joins them. */
#ifndef HFI_BASE_QUANTITY_TABLE_H
#define HFI_BASE_QUANTITY_TABLE_H

#include <hairfibre/base.h>

#define HFI_QUANTITY_TABLE(room)                                                                   \
    extern const hf_quantity hfi_##room##_quantities[];                                            \
    extern const size_t hfi_##room##_quantity_count;

#endif
