/* Statistics, how many strands an experiment needs. See statistics.h. */
#include "statistics.h"

#include <hairfibre/statistics.h>

static int push_strands(lua_State *L, hf_status status, const hf_strands *s)
{
    if (status == HF_EDATA)
        return hfi_lua_fail(L, status, "no number of strands within reach shows this difference");
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 4);
    hfi_stat_number(L, "formula", s->formula);
    hfi_stat_whole(L, "strands", s->strands);
    hfi_stat_number(L, "power", s->power);
    hfi_stat_truth(L, "exact", s->exact);
    return 1;
}

static int push_count(lua_State *L, hf_status status, long n)
{
    if (status == HF_EDATA)
        return hfi_lua_fail(L, status, "no number of strands within reach is enough");
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_pushinteger(L, (lua_Integer)n);
    return 1;
}

/* limit_strands(share, level) */
static int limit_strands(lua_State *L)
{
    long n = 0;
    const hf_status status = hf_limit_strands_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2), &n);
    return push_count(L, status, n);
}

/* width_strands(share, width, level) */
static int width_strands(lua_State *L)
{
    long n = 0;
    const hf_status status = hf_width_strands_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2),
                                                luaL_checknumber(L, 3), &n);
    return push_count(L, status, n);
}

/* share_power(share, against, strands, alpha) */
static int share_power(lua_State *L)
{
    double x = 0;
    const hf_status status = hf_share_power_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2),
                                              hfi_stat_count(L, 3), luaL_checknumber(L, 4), &x);
    return hfi_stat_single(L, status, x);
}

/* two_share_power(first, second, m, n, alpha) */
static int two_share_power(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_two_share_power_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2), hfi_stat_count(L, 3),
                             hfi_stat_count(L, 4), luaL_checknumber(L, 5), &x);
    return hfi_stat_single(L, status, x);
}

/* two_share_formula(first, second, n, alpha) */
static int two_share_formula(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_two_share_formula_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2),
                               luaL_checknumber(L, 3), luaL_checknumber(L, 4), &x);
    return hfi_stat_single(L, status, x);
}

/* paired_share_power(gained, lost, pairs, alpha) */
static int paired_share_power(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_paired_share_power_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2),
                                hfi_stat_count(L, 3), luaL_checknumber(L, 4), &x);
    return hfi_stat_single(L, status, x);
}

/* mean_power(difference, deviation, n, groups, alpha) */
static int mean_power(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_mean_power_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2), luaL_checknumber(L, 3),
                        (int)luaL_checkinteger(L, 4), luaL_checknumber(L, 5), &x);
    return hfi_stat_single(L, status, x);
}

/* share_strands(share, against, alpha, power) and its like */
static int strands_by(lua_State *L, hf_status (*f)(double, double, double, double, hf_strands *))
{
    hf_strands s;
    const hf_status status = f(luaL_checknumber(L, 1), luaL_checknumber(L, 2),
                               luaL_checknumber(L, 3), luaL_checknumber(L, 4), &s);
    return push_strands(L, status, &s);
}

static int share_strands(lua_State *L)
{
    return strands_by(L, hf_share_strands_e);
}

static int two_share_strands(lua_State *L)
{
    return strands_by(L, hf_two_share_strands_e);
}

static int paired_share_strands(lua_State *L)
{
    return strands_by(L, hf_paired_share_strands_e);
}

/* mean_strands(difference, deviation, groups, alpha, power) */
static int mean_strands(lua_State *L)
{
    hf_strands s;
    const hf_status status = hf_mean_strands_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2),
                                               (int)luaL_checkinteger(L, 3), luaL_checknumber(L, 4),
                                               luaL_checknumber(L, 5), &s);
    return push_strands(L, status, &s);
}

void hfi_stat_open_strands(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"limit_strands", limit_strands},
        {"width_strands", width_strands},
        {"share_power", share_power},
        {"two_share_power", two_share_power},
        {"two_share_formula", two_share_formula},
        {"paired_share_power", paired_share_power},
        {"mean_power", mean_power},
        {"share_strands", share_strands},
        {"two_share_strands", two_share_strands},
        {"paired_share_strands", paired_share_strands},
        {"mean_strands", mean_strands},
        {NULL, NULL},
    };
    luaL_setfuncs(L, functions, 0);
}
