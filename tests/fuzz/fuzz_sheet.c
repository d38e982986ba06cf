/* Sheets of counted strands; after a zero byte their key. */
#include "lua_kit.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    return fz_lua_text("sheet", bytes, count);
}
