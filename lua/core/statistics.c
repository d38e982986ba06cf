/*
 * Statistics: numbers in, a table of fields out, or nil, message, code. Names, options and defaults
 * belong to hairfibre.statistics.
 */
#include "core.h"

#include <hairfibre/statistics.h>

#include <math.h>
#include <string.h>

/* The field is left out when it has no value. */
static void number(lua_State *L, const char *name, double x)
{
    if (!isnan(x))
        hfi_lua_field_number(L, name, x);
}

static void whole(lua_State *L, const char *name, long x)
{
    lua_pushinteger(L, (lua_Integer)x);
    lua_setfield(L, -2, name);
}

static void truth(lua_State *L, const char *name, int x)
{
    lua_pushboolean(L, x);
    lua_setfield(L, -2, name);
}

static int single(lua_State *L, hf_status status, double x)
{
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_pushnumber(L, x);
    return 1;
}

static long count_of(lua_State *L, int index)
{
    return (long)luaL_checkinteger(L, index);
}

/* ---- a share --------------------------------------------------------------------------------- */

/* binomial_interval(events, strands, method, level) */
static int binomial_interval(lua_State *L)
{
    hf_share s;
    const hf_status status = hf_binomial_interval_e(count_of(L, 1), count_of(L, 2),
                                                    (hf_share_method)luaL_checkinteger(L, 3),
                                                    luaL_checknumber(L, 4), &s);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 5);
    number(L, "share", s.share);
    number(L, "low", s.low);
    number(L, "high", s.high);
    return 1;
}

static int push_tails(lua_State *L, const hf_tails *t)
{
    lua_createtable(L, 0, 3);
    number(L, "less", t->less);
    number(L, "greater", t->greater);
    number(L, "two_sided", t->two_sided);
    return 1;
}

/* binomial_test(events, strands, against) */
static int binomial_test(lua_State *L)
{
    hf_tails t;
    const hf_status status =
        hf_binomial_test_e(count_of(L, 1), count_of(L, 2), luaL_checknumber(L, 3), &t);
    return status == HF_OK ? push_tails(L, &t) : hfi_lua_fail(L, status, NULL);
}

/* rule_of_three(strands) */
static int rule_of_three(lua_State *L)
{
    hf_zero_events z;
    const hf_status status = hf_rule_of_three_e(count_of(L, 1), &z);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 2);
    number(L, "exact", z.exact);
    number(L, "rule", z.rule);
    return 1;
}

/* posterior_share(events, strands, a, b, level) */
static int posterior_share(lua_State *L)
{
    hf_posterior p;
    const hf_status status =
        hf_posterior_share_e(count_of(L, 1), count_of(L, 2), luaL_checknumber(L, 3),
                             luaL_checknumber(L, 4), luaL_checknumber(L, 5), &p);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 8);
    number(L, "a", p.a);
    number(L, "b", p.b);
    number(L, "mean", p.mean);
    number(L, "median", p.median);
    number(L, "low", p.low);
    number(L, "high", p.high);
    return 1;
}

/* posterior_above(events, strands, a, b, threshold) */
static int posterior_above(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_posterior_above_e(count_of(L, 1), count_of(L, 2), luaL_checknumber(L, 3),
                             luaL_checknumber(L, 4), luaL_checknumber(L, 5), &x);
    return single(L, status, x);
}

/* posterior_next(events, strands, a, b, hits, next) */
static int posterior_next(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_posterior_next_e(count_of(L, 1), count_of(L, 2), luaL_checknumber(L, 3),
                            luaL_checknumber(L, 4), count_of(L, 5), count_of(L, 6), &x);
    return single(L, status, x);
}

/* ---- tables ---------------------------------------------------------------------------------- */

/* fisher_exact(a, b, c, d, level) */
static int fisher_exact(lua_State *L)
{
    hf_fisher f;
    const hf_table t = {count_of(L, 1), count_of(L, 2), count_of(L, 3), count_of(L, 4)};
    const hf_status status = hf_fisher_exact_e(&t, luaL_checknumber(L, 5), &f);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 7);
    number(L, "less", f.less);
    number(L, "greater", f.greater);
    number(L, "two_sided", f.two_sided);
    number(L, "odds_ratio", f.odds_ratio);
    number(L, "low", f.low);
    number(L, "high", f.high);
    return 1;
}

/* mcnemar(gained, lost) */
static int mcnemar(lua_State *L)
{
    hf_mcnemar m;
    const hf_status status = hf_mcnemar_e(count_of(L, 1), count_of(L, 2), &m);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 6);
    number(L, "exact", m.exact);
    number(L, "mid_p", m.mid_p);
    number(L, "chi_squared", m.chi_squared);
    number(L, "p", m.p);
    number(L, "corrected", m.corrected);
    number(L, "p_corrected", m.p_corrected);
    return 1;
}

/* mantel_haenszel(list of counts, four a stratum, level) */
static int mantel_haenszel(lua_State *L)
{
    hf_stratified s;
    luaL_checktype(L, 1, LUA_TTABLE);
    const size_t n = (size_t)luaL_len(L, 1) / 4;
    hf_table *tables = lua_newuserdatauv(L, (n + 1) * sizeof *tables, 0);
    for (size_t i = 0; i < n; i++) {
        long counts[4];
        for (size_t k = 0; k < 4; k++) {
            lua_rawgeti(L, 1, (lua_Integer)(4 * i + k + 1));
            counts[k] = count_of(L, -1);
            lua_pop(L, 1);
        }
        tables[i] = (hf_table){counts[0], counts[1], counts[2], counts[3]};
    }
    const hf_status status = hf_mantel_haenszel_e(n, tables, luaL_checknumber(L, 2), &s);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 11);
    number(L, "odds_ratio", s.odds_ratio);
    number(L, "low", s.low);
    number(L, "high", s.high);
    number(L, "chi_squared", s.chi_squared);
    number(L, "p", s.p);
    number(L, "corrected", s.corrected);
    number(L, "p_corrected", s.p_corrected);
    number(L, "less", s.less);
    number(L, "greater", s.greater);
    number(L, "two_sided", s.two_sided);
    whole(L, "informative", (long)s.informative);
    return 1;
}

/* ---- ranks and means ------------------------------------------------------------------------- */

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
    number(L, "statistic", r->statistic);
    number(L, "less", r->less);
    number(L, "greater", r->greater);
    number(L, "two_sided", r->two_sided);
    whole(L, "used", (long)r->used);
    whole(L, "tied", (long)r->tied);
    truth(L, "exact", r->exact);
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
    const hf_status status = hf_signed_rank_critical_e(count_of(L, 1), luaL_checknumber(L, 2),
                                                       (int)luaL_checkinteger(L, 3), &value);
    return critical(L, status, value);
}

/* rank_sum_critical(first, second, alpha, sides) */
static int rank_sum_critical(lua_State *L)
{
    long value = 0;
    const hf_status status =
        hf_rank_sum_critical_e(count_of(L, 1), count_of(L, 2), luaL_checknumber(L, 3),
                               (int)luaL_checkinteger(L, 4), &value);
    return critical(L, status, value);
}

static int push_t(lua_State *L, hf_status status, const hf_t_test *t, const char *message)
{
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message);
    lua_createtable(L, 0, 10);
    number(L, "difference", t->difference);
    number(L, "low", t->low);
    number(L, "high", t->high);
    number(L, "standard_error", t->standard_error);
    number(L, "t", t->t);
    number(L, "freedom", t->freedom);
    number(L, "less", t->less);
    number(L, "greater", t->greater);
    number(L, "two_sided", t->two_sided);
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
    return single(L, status, x);
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
    number(L, "kappa", k.kappa);
    number(L, "standard_error", k.standard_error);
    number(L, "standard_error_null", k.standard_error_null);
    number(L, "low", k.low);
    number(L, "high", k.high);
    number(L, "observed", k.observed);
    number(L, "expected", k.expected);
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

/* ---- how many strands ------------------------------------------------------------------------ */

static int push_strands(lua_State *L, hf_status status, const hf_strands *s)
{
    if (status == HF_EDATA)
        return hfi_lua_fail(L, status, "no number of strands within reach shows this difference");
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 4);
    number(L, "formula", s->formula);
    whole(L, "strands", s->strands);
    number(L, "power", s->power);
    truth(L, "exact", s->exact);
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
                                              count_of(L, 3), luaL_checknumber(L, 4), &x);
    return single(L, status, x);
}

/* two_share_power(first, second, m, n, alpha) */
static int two_share_power(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_two_share_power_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2), count_of(L, 3),
                             count_of(L, 4), luaL_checknumber(L, 5), &x);
    return single(L, status, x);
}

/* two_share_formula(first, second, n, alpha) */
static int two_share_formula(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_two_share_formula_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2),
                               luaL_checknumber(L, 3), luaL_checknumber(L, 4), &x);
    return single(L, status, x);
}

/* paired_share_power(gained, lost, pairs, alpha) */
static int paired_share_power(lua_State *L)
{
    double x = 0;
    const hf_status status = hf_paired_share_power_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2),
                                                     count_of(L, 3), luaL_checknumber(L, 4), &x);
    return single(L, status, x);
}

/* mean_power(difference, deviation, n, groups, alpha) */
static int mean_power(lua_State *L)
{
    double x = 0;
    const hf_status status =
        hf_mean_power_e(luaL_checknumber(L, 1), luaL_checknumber(L, 2), luaL_checknumber(L, 3),
                        (int)luaL_checkinteger(L, 4), luaL_checknumber(L, 5), &x);
    return single(L, status, x);
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
#define ENTRY(name)                                                                                \
    {                                                                                              \
#name, name                                                                                \
    }
    static const luaL_Reg functions[] = {ENTRY(binomial_interval),
                                         ENTRY(binomial_test),
                                         ENTRY(rule_of_three),
                                         ENTRY(posterior_share),
                                         ENTRY(posterior_above),
                                         ENTRY(posterior_next),
                                         ENTRY(fisher_exact),
                                         ENTRY(mcnemar),
                                         ENTRY(mantel_haenszel),
                                         ENTRY(signed_rank),
                                         ENTRY(rank_sum),
                                         ENTRY(signed_rank_critical),
                                         ENTRY(rank_sum_critical),
                                         ENTRY(paired_t),
                                         ENTRY(welch_t),
                                         ENTRY(t_quantile),
                                         ENTRY(weighted_kappa),
                                         ENTRY(holm),
                                         ENTRY(limit_strands),
                                         ENTRY(width_strands),
                                         ENTRY(share_power),
                                         ENTRY(two_share_power),
                                         ENTRY(two_share_formula),
                                         ENTRY(paired_share_power),
                                         ENTRY(mean_power),
                                         ENTRY(share_strands),
                                         ENTRY(two_share_strands),
                                         ENTRY(paired_share_strands),
                                         ENTRY(mean_strands),
                                         ENTRY(strata_rank_sum),
                                         {NULL, NULL}};
#undef ENTRY
    lua_newtable(L);
    luaL_setfuncs(L, functions, 0);
    words(L, "methods", method_word, HF_JEFFREYS + 1);
    words(L, "weights", weights_word, HF_KAPPA_QUADRATIC + 1);
    lua_setfield(L, -2, "statistics");
}
