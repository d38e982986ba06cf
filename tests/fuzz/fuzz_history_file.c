/* Histories of temperature and water from files. */
#include "lua_kit.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    return fz_lua_text("history", bytes, count);
}
