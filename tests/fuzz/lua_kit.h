/*
 * A Lua interpreter that lives through all inputs, with the library loaded and tests/fuzz/kit.lua watching over
 * what comes back. A count of executed lines of Lua goes to the fuzzer beside its own coverage of C.
 */
#ifndef HF_FUZZ_LUA_KIT_H
#define HF_FUZZ_LUA_KIT_H

#include "reader.h"

#include <lauxlib.h>
#include <lua.h>

/* The interpreter with the handler `name` of kit.lua on top of its stack. Made once; made anew after it ran out
 * of memory or time. */
lua_State *fz_lua(const char *name);

/* Calls the handler, which lies below n arguments; an error is a fault, unless memory or time ran out. */
void fz_lua_call(lua_State *L, int n);

/* The whole of a harness whose input is a text. */
int fz_lua_text(const char *name, const uint8_t *bytes, size_t count);

/* Runs it as a script in the sandbox. One that does not come back, which is no fault here, is left behind. */
int fz_lua_script(const uint8_t *bytes, size_t count);

#endif
