/* Statistics, ranks, means, agreement of graders. See statistics.h. */
#include "statistics.h"

#include <hairfibre/statistics.h>

/* Numbers of a list that may be empty. */
static double *list_of(lua_State *L, int index, const char *name, size_t *n)
{
    luaL_checktype(L, index, LUA_TTABLE);
    *n = 0;
    if (luaL_len(L, index) == 0)
        return NULL;
    return hfi_lua_doubles(L, index, name, n);
}

static int push_ranks(lua_State *L, hf_status status, const hf_ranks *r, const char *message)
{
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message);
    lua_createtable(L, 0, 7);
    hfi_stat_number(L, "statistic", r->statistic);
    hfi_stat_number(L, "less", r->less);
    hfi_stat_number(L, "greater", r->greater);
    hfi_stat_number(L, "two_sided", r->two_sided);
    hfi_stat_whole(L, "used", (long)r->used);
    hfi_stat_whole(L, "tied", (long)r->tied);
    hfi_stat_truth(L, "exact", r->exact);
    return 1;
}

/* signed_rank(differences) */
static int signed_rank(lua_State *L)
{
    hf_ranks r;
    hf_message message = {""};
    size_t n;
    const double *d = list_of(L, 1, "differences", &n);
    const hf_status status = hf_signed_rank_e(n, d, &r, &message);
    return push_ranks(L, status, &r, message.text);
}

/* rank_sum(first, second) */
static int rank_sum(lua_State *L)
{
    hf_ranks r;
    hf_message message = {""};
    size_t m, n;
    const double *a = list_of(L, 1, "first", &m), *b = list_of(L, 2, "second", &n);
    const hf_status status = hf_rank_sum_e(m, a, n, b, &r, &message);
    return push_ranks(L, status, &r, message.text);
}

/* Whole numbers of a list; the block belongs to Lua. */
static size_t *sizes_of(lua_State *L, int index, size_t *n)
{
    luaL_checktype(L, index, LUA_TTABLE);
    *n = (size_t)luaL_len(L, index);
    size_t *sizes = lua_newuserdatauv(L, (*n + 1) * sizeof *sizes, 0);
    for (size_t i = 0; i < *n; i++) {
        lua_rawgeti(L, index, (lua_Integer)i + 1);
        sizes[i] = (size_t)luaL_checkinteger(L, -1);
        lua_pop(L, 1);
    }
    return sizes;
}

/* strata_rank_sum(sizes of first groups, of second groups, all values) */
static int strata_rank_sum(lua_State *L)
{
    hf_ranks r;
    hf_message message = {""};
    size_t strata, same, n, all = 0;
    lua_settop(L, 3);
    const size_t *first = sizes_of(L, 1, &strata), *second = sizes_of(L, 2, &same);
    const double *values = list_of(L, 3, "values", &n);
    for (size_t i = 0; i < strata && i < same; i++)
        all += first[i] + second[i];
    luaL_argcheck(L, strata == same && all == n, 3, "sizes and values do not fit");
    const hf_status status = hf_strata_rank_sum_e(strata, first, second, values, &r, &message);
    return push_ranks(L, status, &r, message.text);
}

static int critical(lua_State *L, hf_status status, long value)
{
    if (status == HF_EDATA)
        return hfi_lua_fail(L, status, "too few strands: no outcome is rare enough to reject");
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_pushinteger(L, (lua_Integer)value);
    return 1;
}

/* signed_rank_critical(pairs, alpha, sides) */
static int signed_rank_critical(lua_State *L)
{
    long value = 0;
    const hf_status status = hf_signed_rank_critical_e(hfi_stat_count(L, 1), luaL_checknumber(L, 2),
                                                       (int)luaL_checkinteger(L, 3), &value);
    return critical(L, status, value);
}

/* rank_sum_critical(first, second, alpha, sides) */
static int rank_sum_critical(lua_State *L)
{
    long value = 0;
    const hf_status status =
        hf_rank_sum_critical_e(hfi_stat_count(L, 1), hfi_stat_count(L, 2), luaL_checknumber(L, 3),
                               (int)luaL_checkinteger(L, 4), &value);
    return critical(L, status, value);
}

static int push_t(lua_State *L, hf_status status, const hf_t_test *t, const char *message)
{
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message);
    lua_createtable(L, 0, 10);
    hfi_stat_number(L, "difference", t->difference);
    hfi_stat_number(L, "low", t->low);
    hfi_stat_number(L, "high", t->high);
    hfi_stat_number(L, "standard_error", t->standard_error);
    hfi_stat_number(L, "t", t->t);
    hfi_stat_number(L, "freedom", t->freedom);
    hfi_stat_number(L, "less", t->less);
    hfi_stat_number(L, "greater", t->greater);
    hfi_stat_number(L, "two_sided", t->two_sided);
    return 1;
}

/* paired_t(before, after, level) */
static int paired_t(lua_State *L)
{
    hf_t_test t;
    hf_message message = {""};
    size_t m, n;
    const double *before = list_of(L, 1, "before", &m), *after = list_of(L, 2, "after", &n);
    luaL_argcheck(L, m == n, 2, "must be as long as before");
    const hf_status status = hf_paired_t_e(n, before, after, luaL_checknumber(L, 3), &t, &message);
    return push_t(L, status, &t, message.text);
}

/* welch_t(first, second, level) */
static int welch_t(lua_State *L)
{
    hf_t_test t;
    hf_message message = {""};
    size_t m, n;
    const double *a = list_of(L, 1, "first", &m), *b = list_of(L, 2, "second", &n);
    const hf_status status = hf_welch_t_e(m, a, n, b, luaL_checknumber(L, 3), &t, &message);
    return push_t(L, status, &t, message.text);
}

/* t_quantile(p, freedom) */
static int t_quantile(lua_State *L)
{
    double x = 0;
    const hf_status status = hf_t_quantile_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2), &x);
    return hfi_stat_single(L, status, x);
}

static int *grades_of(lua_State *L, int index, size_t n)
{
    int *grades = lua_newuserdatauv(L, (n + 1) * sizeof *grades, 0);
    for (size_t i = 0; i < n; i++) {
        lua_rawgeti(L, index, (lua_Integer)i + 1);
        grades[i] = (int)luaL_checkinteger(L, -1);
        lua_pop(L, 1);
    }
    return grades;
}

/* weighted_kappa(first, second, number of grades, weights, level); grades from 0 */
static int weighted_kappa(lua_State *L)
{
    hf_kappa k;
    hf_message message = {""};
    luaL_checktype(L, 1, LUA_TTABLE);
    luaL_checktype(L, 2, LUA_TTABLE);
    const size_t n = (size_t)luaL_len(L, 1);
    luaL_argcheck(L, (size_t)luaL_len(L, 2) == n, 2, "must be as long as the first");
    const int *first = grades_of(L, 1, n), *second = grades_of(L, 2, n);
    const hf_status status = hf_weighted_kappa_e(n, first, second, (int)luaL_checkinteger(L, 3),
                                                 (hf_kappa_weights)luaL_checkinteger(L, 4),
                                                 luaL_checknumber(L, 5), &k, &message);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message.text);
    lua_createtable(L, 0, 8);
    hfi_stat_number(L, "kappa", k.kappa);
    hfi_stat_number(L, "standard_error", k.standard_error);
    hfi_stat_number(L, "standard_error_null", k.standard_error_null);
    hfi_stat_number(L, "low", k.low);
    hfi_stat_number(L, "high", k.high);
    hfi_stat_number(L, "observed", k.observed);
    hfi_stat_number(L, "expected", k.expected);
    return 1;
}

/* holm(list) -> list */
static int holm(lua_State *L)
{
    size_t n;
    double *p = list_of(L, 1, "p", &n);
    const hf_status status = hf_holm_e(n, p, p);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    hfi_lua_push_list(L, p, n);
    return 1;
}

void hfi_stat_open_ranks(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"signed_rank", signed_rank},
        {"rank_sum", rank_sum},
        {"strata_rank_sum", strata_rank_sum},
        {"signed_rank_critical", signed_rank_critical},
        {"rank_sum_critical", rank_sum_critical},
        {"paired_t", paired_t},
        {"welch_t", welch_t},
        {"t_quantile", t_quantile},
        {"weighted_kappa", weighted_kappa},
        {"holm", holm},
        {NULL, NULL},
    };
    luaL_setfuncs(L, functions, 0);
}
