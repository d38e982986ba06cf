/* Claims in words; first two bytes: the quantity. Also literature rows. */
#include "lua_kit.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    return fz_lua_text("claim", bytes, count);
}
