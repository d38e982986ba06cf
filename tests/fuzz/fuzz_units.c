/* Numbers with units, lists, ranges, headers of columns. First byte: what is wanted. */
#include "lua_kit.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    return fz_lua_text("units", bytes, count);
}
