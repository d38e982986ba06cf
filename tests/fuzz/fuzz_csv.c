/* CSV tables; what was read and saved must read back the same. */
#include "lua_kit.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    return fz_lua_text("csv", bytes, count);
}
