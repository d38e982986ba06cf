/* Statistics, shares of strands: limits, posteriors, tables of two by two. See statistics.h. */
#include "statistics.h"

#include <hairfibre/statistics.h>

/* binomial_interval(events, strands, method, level) */
static int binomial_interval(lua_State *L)
{
    hf_share s;
    const hf_status status = hf_binomial_interval_e(hfi_stat_count(L, 1), hfi_stat_count(L, 2),
                                                    (hf_share_method)luaL_checkinteger(L, 3),
                                                    luaL_checknumber(L, 4), &s);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 5);
    hfi_stat_number(L, "share", s.share);
    hfi_stat_number(L, "low", s.low);
    hfi_stat_number(L, "high", s.high);
    return 1;
}

static int push_tails(lua_State *L, const hf_tails *t)
{
    lua_createtable(L, 0, 3);
    hfi_stat_number(L, "less", t->less);
    hfi_stat_number(L, "greater", t->greater);
    hfi_stat_number(L, "two_sided", t->two_sided);
    return 1;
}

/* binomial_test(events, strands, against) */
static int binomial_test(lua_State *L)
{
    hf_tails t;
    const hf_status status =
        hf_binomial_test_e(hfi_stat_count(L, 1), hfi_stat_count(L, 2), luaL_checknumber(L, 3), &t);
    return status == HF_OK ? push_tails(L, &t) : hfi_lua_fail(L, status, NULL);
}

/* rule_of_three(strands) */
static int rule_of_three(lua_State *L)
{
    hf_zero_events z;
    const hf_status status = hf_rule_of_three_e(hfi_stat_count(L, 1), &z);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 2);
    hfi_stat_number(L, "exact", z.exact);
    hfi_stat_number(L, "rule", z.rule);
    return 1;
}

/* posterior_share(events, strands, a, b, level) */
static int posterior_share(lua_State *L)
{
    hf_posterior p;
    const hf_status status =
        hf_posterior_share_e(hfi_stat_count(L, 1), hfi_stat_count(L, 2), luaL_checknumber(L, 3),
                             luaL_checknumber(L, 4), luaL_checknumber(L, 5), &p);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 8);
    hfi_stat_number(L, "a", p.a);
    hfi_stat_number(L, "b", p.b);
    hfi_stat_number(L, "mean", p.mean);
    hfi_stat_number(L, "median", p.median);
    hfi_stat_number(L, "low", p.low);
    hfi_stat_number(L, "high", p.high);
    return 1;
}

/* posterior_above(events, strands, a, b, threshold) */
static int posterior_above(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_posterior_above_e(hfi_stat_count(L, 1), hfi_stat_count(L, 2), luaL_checknumber(L, 3),
                             luaL_checknumber(L, 4), luaL_checknumber(L, 5), &x);
    return hfi_stat_single(L, status, x);
}

/* posterior_next(events, strands, a, b, hits, next) */
static int posterior_next(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_posterior_next_e(hfi_stat_count(L, 1), hfi_stat_count(L, 2), luaL_checknumber(L, 3),
                            luaL_checknumber(L, 4), hfi_stat_count(L, 5), hfi_stat_count(L, 6), &x);
    return hfi_stat_single(L, status, x);
}

/* ---- tables ---------------------------------------------------------------------------------- */

/* fisher_exact(a, b, c, d, level) */
static int fisher_exact(lua_State *L)
{
    hf_fisher f;
    const hf_table t = {hfi_stat_count(L, 1), hfi_stat_count(L, 2), hfi_stat_count(L, 3),
                        hfi_stat_count(L, 4)};
    const hf_status status = hf_fisher_exact_e(&t, luaL_checknumber(L, 5), &f);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 7);
    hfi_stat_number(L, "less", f.less);
    hfi_stat_number(L, "greater", f.greater);
    hfi_stat_number(L, "two_sided", f.two_sided);
    hfi_stat_number(L, "odds_ratio", f.odds_ratio);
    hfi_stat_number(L, "low", f.low);
    hfi_stat_number(L, "high", f.high);
    return 1;
}

/* mcnemar(gained, lost) */
static int mcnemar(lua_State *L)
{
    hf_mcnemar m;
    const hf_status status = hf_mcnemar_e(hfi_stat_count(L, 1), hfi_stat_count(L, 2), &m);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 6);
    hfi_stat_number(L, "exact", m.exact);
    hfi_stat_number(L, "mid_p", m.mid_p);
    hfi_stat_number(L, "chi_squared", m.chi_squared);
    hfi_stat_number(L, "p", m.p);
    hfi_stat_number(L, "corrected", m.corrected);
    hfi_stat_number(L, "p_corrected", m.p_corrected);
    return 1;
}

/* mantel_haenszel(list of counts, four a stratum, level) */
static int mantel_haenszel(lua_State *L)
{
    hf_stratified s;
    luaL_checktype(L, 1, LUA_TTABLE);
    const size_t n = (size_t)luaL_len(L, 1) / 4;
    hf_table *tables = lua_newuserdatauv(L, (n + 1) * sizeof *tables, 0);
    lua_Integer place = 0;
    for (size_t i = 0; i < n; i++) {
        long counts[4];
        for (size_t k = 0; k < 4; k++) {
            lua_rawgeti(L, 1, ++place);
            counts[k] = hfi_stat_count(L, -1);
            lua_pop(L, 1);
        }
        tables[i] = (hf_table){counts[0], counts[1], counts[2], counts[3]};
    }
    const hf_status status = hf_mantel_haenszel_e(n, tables, luaL_checknumber(L, 2), &s);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 11);
    hfi_stat_number(L, "odds_ratio", s.odds_ratio);
    hfi_stat_number(L, "low", s.low);
    hfi_stat_number(L, "high", s.high);
    hfi_stat_number(L, "chi_squared", s.chi_squared);
    hfi_stat_number(L, "p", s.p);
    hfi_stat_number(L, "corrected", s.corrected);
    hfi_stat_number(L, "p_corrected", s.p_corrected);
    hfi_stat_number(L, "less", s.less);
    hfi_stat_number(L, "greater", s.greater);
    hfi_stat_number(L, "two_sided", s.two_sided);
    hfi_stat_whole(L, "informative", (long)s.informative);
    return 1;
}

void hfi_stat_open_shares(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"binomial_interval", binomial_interval}, {"binomial_test", binomial_test},
        {"rule_of_three", rule_of_three},         {"posterior_share", posterior_share},
        {"posterior_above", posterior_above},     {"posterior_next", posterior_next},
        {"fisher_exact", fisher_exact},           {"mcnemar", mcnemar},
        {"mantel_haenszel", mantel_haenszel},     {NULL, NULL},
    };
    luaL_setfuncs(L, functions, 0);
}
