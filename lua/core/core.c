/* Entry of the C half: a table of functions, no global. */
#include "core.h"
#include "module.h"

#include <gsl/gsl_errno.h>
#include <limits.h>

void hfi_lua_weigh(lua_State *L, size_t bytes)
{
    const size_t kilobytes = bytes / 1024 + 1;
    lua_gc(L, LUA_GCSTEP, kilobytes < INT_MAX / 1024 ? (int)kilobytes : INT_MAX / 1024);
}

int luaopen_hairfibre_core(lua_State *L)
{
    luaL_checkversion(L);
    gsl_set_error_handler_off(); /* its default ends the program; every return value is checked */
    lua_newtable(L);
    hfi_lua_open_status(L);
    hfi_lua_open_descriptor(L);
    hfi_lua_open_quantity(L);
    hfi_lua_open_parameters(L);
    hfi_lua_open_sources(L);
    hfi_lua_open_units(L);
    hfi_lua_open_numbers(L);
    hfi_lua_open_csv(L);
    hfi_lua_open_file(L);
    hfi_lua_open_spawn(L);
    hfi_lua_open_embedded(L);
    hfi_lua_open_history(L);
    hfi_lua_open_fatigue(L);
    hfi_lua_open_scanning(L);
    hfi_lua_open_statistics(L);
    hfi_lua_open_treatment(L);
    hfi_lua_open_uncertainty(L);
    hfi_lua_open_ensemble(L);
    hfi_lua_open_fit(L);
    hfi_lua_open_import(L);
    hfi_lua_open_checksum(L);
    return 1;
}
