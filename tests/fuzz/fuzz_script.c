/* Scripts in the sandbox: nothing of the interpreter is reached, no gnuplot command slips through. */
#include "lua_kit.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    return fz_lua_script(bytes, count);
}
