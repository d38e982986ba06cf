/* Saved parts of an ensemble: rows, a zero byte, where they come from. */
#include "lua_kit.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    return fz_lua_text("merge", bytes, count);
}
