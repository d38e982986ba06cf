/* Entries of the binding. */
#ifndef HFI_LUA_MODULE_H
#define HFI_LUA_MODULE_H

#include <hairfibre/base.h>

#include <lua.h>

/* Puts every embedded Lua file, and "hairfibre.core", into package.preload unless the name is
 * taken. May raise when memory runs out. */
void hfi_embedded_preload(lua_State *L);

/* Entry of build/hairfibre.so: pushes the table that `require "hairfibre"` gives. */
HF_API int luaopen_hairfibre(lua_State *L);

/* The C half alone, `require "hairfibre.core"`. */
int luaopen_hairfibre_core(lua_State *L);

#endif
