/* Statuses, grades of knowledge and named sets as Lua values; the shape of every failure. */
#include "core.h"

#include <stdarg.h>
#include <string.h>

int hfi_lua_fail(lua_State *L, hf_status status, const char *message)
{
    luaL_pushfail(L);
    lua_pushstring(L, message && *message ? message : hf_status_text(status));
    lua_pushstring(L, hf_status_code(status));
    return 3;
}

int hfi_lua_fail_word(lua_State *L, const char *code, const char *format, ...)
{
    va_list list;
    luaL_pushfail(L);
    va_start(list, format);
    lua_pushvfstring(L, format, list);
    va_end(list);
    lua_pushstring(L, code);
    return 3;
}

void hfi_lua_field_text(lua_State *L, const char *name, const char *text)
{
    lua_pushstring(L, text);
    lua_setfield(L, -2, name);
}

void hfi_lua_field_number(lua_State *L, const char *name, double x)
{
    lua_pushnumber(L, x);
    lua_setfield(L, -2, name);
}

void hfi_lua_words(lua_State *L, const char *words)
{
    lua_newtable(L);
    for (lua_Integer n = 1; words && *words;) {
        const size_t length = strcspn(words, " ");
        if (length) {
            lua_pushlstring(L, words, length);
            lua_rawseti(L, -2, n++);
        }
        words += length + (words[length] == ' ');
    }
}

double *hfi_lua_doubles(lua_State *L, int index, const char *name, size_t *n)
{
    if (lua_isnoneornil(L, index)) {
        lua_pushnil(L);
        return NULL;
    }
    luaL_checktype(L, index, LUA_TTABLE);
    const size_t count = (size_t)lua_rawlen(L, index);
    if (count == 0)
        luaL_error(L, "%s is an empty list", name);
    if (*n && *n != count)
        luaL_error(L, "%s has %I values where %I are needed", name, (LUAI_UACINT)count,
                   (LUAI_UACINT)*n);
    *n = count;
    double *values = lua_newuserdatauv(L, count * sizeof *values, 0);
    for (size_t i = 0; i < count; i++) {
        if (lua_rawgeti(L, index, (lua_Integer)i + 1) != LUA_TNUMBER)
            luaL_error(L, "%s[%I] must be a number, not a %s", name, (LUAI_UACINT)i + 1,
                       luaL_typename(L, -1));
        values[i] = lua_tonumber(L, -1);
        lua_pop(L, 1);
    }
    return values;
}

void hfi_lua_push_list(lua_State *L, const double *values, size_t n)
{
    lua_createtable(L, n < 1 << 24 ? (int)n : 0, 0);
    for (size_t i = 0; i < n; i++) {
        lua_pushnumber(L, values[i]);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
}

void hfi_lua_metatable(lua_State *L, const char *kind, lua_CFunction release,
                       const luaL_Reg *methods)
{
    /* Filled again when it exists: memory may have run out half-way the first time. */
    luaL_newmetatable(L, kind);
    lua_pushcfunction(L, release);
    lua_pushvalue(L, -1);
    lua_setfield(L, -3, "__gc");
    lua_setfield(L, -2, "__close");
    lua_pushstring(L, kind);
    lua_setfield(L, -2, "__metatable");
    if (methods) {
        lua_newtable(L);
        luaL_setfuncs(L, methods, 0);
        lua_setfield(L, -2, "__index");
    }
}

/* statuses() -> { {code =, text =}, ... } */
static int statuses(lua_State *L)
{
    lua_newtable(L);
#define ADD(name, number, word, sentence)                                                          \
    lua_createtable(L, 0, 2);                                                                      \
    hfi_lua_field_text(L, "code", word);                                                           \
    hfi_lua_field_text(L, "text", sentence);                                                       \
    lua_rawseti(L, -2, (number) + 1);
    HF_STATUS_LIST(ADD)
#undef ADD
    return 1;
}

/* known() -> { {word =, text =}, ... } from the strongest grade to the weakest */
static int known(lua_State *L)
{
    lua_newtable(L);
#define ADD(name, grade, sentence)                                                                 \
    lua_createtable(L, 0, 2);                                                                      \
    hfi_lua_field_text(L, "word", grade);                                                          \
    hfi_lua_field_text(L, "text", sentence);                                                       \
    lua_rawseti(L, -2, (lua_Integer)(name) + 1);
    HF_KNOWN_LIST(ADD)
#undef ADD
    return 1;
}

void hfi_lua_open_status(lua_State *L)
{
    static const luaL_Reg functions[] = {{"statuses", statuses}, {"known", known}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
    hfi_lua_field_text(L, "version", hf_version());
}
