/* `require "hairfibre"`: preloads the C half and the embedded Lua half, then runs hairfibre.init.
 */
#include "core.h"
#include "embedded.h"
#include "module.h"

#include <string.h>

/* Loader of one embedded file; its upvalue is the index into hfi_embedded. */
static int load_file(lua_State *L)
{
    const hfi_embedded_file *file = &hfi_embedded[lua_tointeger(L, lua_upvalueindex(1))];
    lua_settop(L, 1);
    const char *name = lua_pushfstring(L, "=%s", file->name);
    if (luaL_loadbufferx(L, (const char *)file->bytes, file->size, name, "t") != LUA_OK)
        return lua_error(L);
    lua_pushvalue(L, 1);
    lua_call(L, 1, 1);
    return 1;
}

/* embedded(name) -> text of an embedded file, or nil; embedded() -> list of names */
static int embedded(lua_State *L)
{
    const char *name = luaL_optstring(L, 1, NULL);
    if (!name)
        lua_createtable(L, (int)hfi_embedded_count, 0);
    for (size_t i = 0; i < hfi_embedded_count; i++) {
        const hfi_embedded_file *file = &hfi_embedded[i];
        if (!name) {
            lua_pushstring(L, file->name);
            lua_rawseti(L, -2, (lua_Integer)i + 1);
        } else if (strcmp(name, file->name) == 0) {
            lua_pushlstring(L, (const char *)file->bytes, file->size);
            return 1;
        }
    }
    if (name)
        luaL_pushfail(L);
    return 1;
}

void hfi_lua_open_embedded(lua_State *L)
{
    lua_pushcfunction(L, embedded);
    lua_setfield(L, -2, "embedded");
}

void hfi_embedded_preload(lua_State *L)
{
    luaL_getsubtable(L, LUA_REGISTRYINDEX, LUA_PRELOAD_TABLE);
    for (size_t i = 0; i < hfi_embedded_count; i++) {
        /* Data are read as text, with an environment of their own. */
        if (strncmp(hfi_embedded[i].name, "data.", 5) == 0)
            continue;
        if (lua_getfield(L, -1, hfi_embedded[i].name) == LUA_TNIL) {
            lua_pushinteger(L, (lua_Integer)i);
            lua_pushcclosure(L, load_file, 1);
            lua_setfield(L, -3, hfi_embedded[i].name);
        }
        lua_pop(L, 1);
    }
    lua_pushcfunction(L, luaopen_hairfibre_core);
    lua_setfield(L, -2, "hairfibre.core");
    lua_pop(L, 1);
}

HF_API int luaopen_hairfibre(lua_State *L)
{
    luaL_checkversion(L);
    hfi_embedded_preload(L);
    lua_getglobal(L, "require");
    lua_pushliteral(L, "hairfibre.init");
    lua_call(L, 1, 1);
    return 1;
}
