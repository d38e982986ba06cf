/* Statistics: the table of functions, and what their files share. See statistics.h. */
#include "statistics.h"

#include <hairfibre/statistics.h>

#include <math.h>

void hfi_stat_number(lua_State *L, const char *name, double x)
{
    if (!isnan(x))
        hfi_lua_field_number(L, name, x);
}

void hfi_stat_whole(lua_State *L, const char *name, long x)
{
    lua_pushinteger(L, (lua_Integer)x);
    lua_setfield(L, -2, name);
}

void hfi_stat_truth(lua_State *L, const char *name, int x)
{
    lua_pushboolean(L, x);
    lua_setfield(L, -2, name);
}

int hfi_stat_single(lua_State *L, hf_status status, double x)
{
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_pushnumber(L, x);
    return 1;
}

long hfi_stat_count(lua_State *L, int index)
{
    return (long)luaL_checkinteger(L, index);
}

/* List of the words of an enumeration, in its order. */
static void words(lua_State *L, const char *name, const char *(*word)(int), int n)
{
    lua_createtable(L, n, 0);
    for (int i = 0; i < n; i++) {
        lua_pushstring(L, word(i));
        lua_rawseti(L, -2, i + 1);
    }
    lua_setfield(L, -2, name);
}

static const char *method_word(int i)
{
    return hf_share_method_word((hf_share_method)i);
}

static const char *weights_word(int i)
{
    return hf_kappa_word((hf_kappa_weights)i);
}

void hfi_lua_open_statistics(lua_State *L)
{
    lua_newtable(L);
    hfi_stat_open_shares(L);
    hfi_stat_open_ranks(L);
    hfi_stat_open_strands(L);
    words(L, "methods", method_word, HF_JEFFREYS + 1);
    words(L, "weights", weights_word, HF_KAPPA_QUADRATIC + 1);
    lua_setfield(L, -2, "statistics");
}
