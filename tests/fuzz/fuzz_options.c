/*
 * Any function of the Lua module with any arguments. Bytes: its name, then values: texts carry their length, so that
 * an input keeps its meaning.
 */
#include "lua_kit.h"

#include <stdio.h>
#include <string.h>

#define DEEPEST 5

static void push_text(lua_State *L, fz_reader *r)
{
    char text[256];
    const size_t n = fz_byte(r);
    for (size_t i = 0; i < n; i++)
        text[i] = (char)fz_byte(r);
    lua_pushlstring(L, text, n);
}

static void push_value(lua_State *L, fz_reader *r, int depth)
{
    char text[64];
    luaL_checkstack(L, 8, NULL);
    const unsigned how = fz_byte(r) % (depth < DEEPEST ? 12 : 7);
    switch (how) {
    case 0:
        lua_pushnil(L);
        break;
    case 1:
        lua_pushboolean(L, (int)(fz_byte(r) & 1));
        break;
    case 2:
        lua_pushinteger(L, (lua_Integer)fz_byte(r) - 8);
        break;
    case 3:
        lua_pushnumber(L, fz_double(r));
        break;
    case 4:
        push_text(L, r);
        break;
    case 5: /* a number with a unit */
        snprintf(text, sizeof text, "%g ", fz_double(r));
        lua_pushstring(L, text);
        push_text(L, r);
        lua_concat(L, 2);
        break;
    case 6: /* an object of the library */
        lua_getfield(L, LUA_REGISTRYINDEX, "kit");
        lua_getfield(L, -1, "objects");
        lua_rawgeti(L, -1, 1 + (lua_Integer)(fz_byte(r) % 10));
        lua_replace(L, -3);
        lua_pop(L, 1);
        break;
    case 7:
    case 8: { /* a list */
        const unsigned n = fz_byte(r) % 9, numbers = how == 8;
        lua_createtable(L, (int)n, 0);
        for (unsigned i = 1; i <= n; i++) {
            if (numbers)
                lua_pushnumber(L, fz_double(r));
            else
                push_value(L, r, depth + 1);
            lua_rawseti(L, -2, (lua_Integer)i);
        }
        break;
    }
    default: { /* names and values */
        const unsigned n = fz_byte(r) % 9;
        lua_newtable(L);
        for (unsigned i = 0; i < n && fz_more(r); i++) {
            push_text(L, r);
            push_value(L, r, depth + 1);
            lua_rawset(L, -3);
        }
    }
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    lua_State *L = fz_lua("options");
    const int base = lua_gettop(L);
    push_text(L, &r);
    lua_pushinteger(L, (lua_Integer)fz_byte(&r));
    for (int i = 0; i < 4 && fz_more(&r); i++)
        push_value(L, &r, 0);
    fz_lua_call(L, lua_gettop(L) - base);
    return 0;
}
