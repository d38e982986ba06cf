/* Runs a fit and gives answers; names, units and reports are the Lua half's. */
#include "fit_box.h"

#include <math.h>

#include <gsl/gsl_cdf.h>

static int release(lua_State *L)
{
    hfi_fit_box *b = luaL_checkudata(L, 1, HFI_FIT);
    hf_fit_free(b->fit);
    b->fit = NULL;
    return 0;
}

/* fit:run() -> true; or false, message: no minimum, best point kept; or nil, message, code */
static int run(lua_State *L)
{
    hfi_fit_box *b = hfi_fit_enter(L);
    const hf_status status = hf_fit_run(b->fit);
    hfi_fit_leave(b);
    hf_fit_summary s;
    if (status == HF_ECONVERGE && hf_fit_get_summary(b->fit, &s) == HF_OK && s.starts_answered) {
        lua_pushboolean(L, 0);
        lua_pushstring(L, hf_fit_message(b->fit));
        return 2;
    }
    if (status != HF_OK)
        return hfi_fit_failure(L, b, status, hf_fit_message(b->fit));
    lua_pushboolean(L, 1);
    return 1;
}

void hfi_fit_field_count(lua_State *L, const char *name, size_t x)
{
    lua_pushinteger(L, (lua_Integer)x);
    lua_setfield(L, -2, name);
}

/* fit:summary() -> table */
static int summary(lua_State *L)
{
    const hfi_fit_box *b = hfi_fit_check(L);
    hf_fit_summary s;
    const hf_status status = hf_fit_get_summary(b->fit, &s);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 24);
    lua_pushboolean(L, s.converged);
    lua_setfield(L, -2, "converged");
    hfi_lua_field_text(L, "reason", hf_fit_reason(b->fit));
    hfi_fit_field_count(L, "points", s.points);
    hfi_fit_field_count(L, "free", s.free);
    hfi_fit_field_count(L, "degrees_of_freedom", s.degrees_of_freedom);
    hfi_lua_field_number(L, "rss", s.rss);
    hfi_lua_field_number(L, "s", s.s);
    hfi_lua_field_number(L, "log_likelihood", s.log_likelihood);
    hfi_lua_field_number(L, "aic", s.aic);
    hfi_lua_field_number(L, "aicc", s.aicc);
    hfi_lua_field_number(L, "bic", s.bic);
    hfi_lua_field_number(L, "condition", s.condition);
    hfi_lua_field_number(L, "offset", s.offset);
    hfi_fit_field_count(L, "iterations", s.iterations);
    hfi_fit_field_count(L, "evaluations", s.evaluations);
    hfi_fit_field_count(L, "starts", s.starts);
    hfi_fit_field_count(L, "starts_answered", s.starts_answered);
    hfi_fit_field_count(L, "minima", s.minima);
    hfi_fit_field_count(L, "winner", s.winner);
    hfi_fit_field_count(L, "equivalents", s.equivalents);
    return 1;
}

static const struct {
    unsigned bit;
    const char *word;
} flag_words[] = {
    {HF_FIT_FIXED, "fixed"},
    {HF_FIT_AT_LOW, "at lower bound"},
    {HF_FIT_AT_HIGH, "at upper bound"},
    {HF_FIT_NO_EFFECT, "no effect"},
    {HF_FIT_ENTANGLED, "entangled"},
    {HF_FIT_NO_FREEDOM, "no freedom"},
    {HF_FIT_PERFECT, "perfect fit"},
    {HF_FIT_LOOSE, "loose"},
};

/* fit:estimates() -> { { name, unit, value, standard_error, start, flags = { words }, note }, ... } */
static int estimates(lua_State *L)
{
    const hfi_fit_box *b = hfi_fit_check(L);
    hf_fit_estimate e;
    lua_newtable(L);
    for (size_t j = 0; hf_fit_get_estimate(b->fit, j, &e) == HF_OK; j++) {
        lua_createtable(L, 0, 7);
        hfi_lua_field_text(L, "name", e.name);
        hfi_lua_field_text(L, "unit", e.unit);
        hfi_lua_field_number(L, "value", e.value);
        hfi_lua_field_number(L, "standard_error", e.standard_error);
        hfi_lua_field_number(L, "start", e.start);
        hfi_lua_field_text(L, "note", hf_fit_note(b->fit, j));
        lua_newtable(L);
        lua_Integer n = 0;
        for (size_t i = 0; i < sizeof flag_words / sizeof flag_words[0]; i++)
            if (e.flags & flag_words[i].bit) {
                lua_pushstring(L, flag_words[i].word);
                lua_rawseti(L, -2, ++n);
            }
        lua_setfield(L, -2, "flags");
        lua_rawseti(L, -2, (lua_Integer)j + 1);
    }
    return 1;
}

size_t hfi_fit_count_of(lua_State *L, const hfi_fit_box *b, int points)
{
    hf_fit_summary s;
    if (hf_fit_get_summary(b->fit, &s) != HF_OK)
        luaL_error(L, "the fit has not been run");
    return points ? s.points : s.parameters;
}

/* fit:covariance() -> covariance, correlation, both row after row */
static int covariance(lua_State *L)
{
    const hfi_fit_box *b = hfi_fit_check(L);
    const size_t n = hfi_fit_count_of(L, b, 0), m = n * n;
    double *block = lua_newuserdatauv(L, 2 * m * sizeof *block, 0);
    const hf_status status = hf_fit_get_covariance(b->fit, block, block + m);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    hfi_lua_push_list(L, block, m);
    hfi_lua_push_list(L, block + m, m);
    return 2;
}

/* fit:points() -> fitted, residual, standardised, leverage, robust weight */
static int points(lua_State *L)
{
    const hfi_fit_box *b = hfi_fit_check(L);
    const size_t n = hfi_fit_count_of(L, b, 1);
    double *block = lua_newuserdatauv(L, 5 * n * sizeof *block, 0);
    const hf_status status =
        hf_fit_get_points(b->fit, block, block + n, block + 2 * n, block + 3 * n, block + 4 * n);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    for (size_t i = 0; i < 5; i++)
        hfi_lua_push_list(L, block + i * n, n);
    return 5;
}

/* fit:minima() -> { { rss, hits, values }, ... }, best first */
static int minima(lua_State *L)
{
    const hfi_fit_box *b = hfi_fit_check(L);
    double rss, values[HF_FIT_PARAMETERS_MAX];
    size_t hits;
    const size_t n = hfi_fit_count_of(L, b, 0);
    lua_newtable(L);
    for (size_t k = 0; hf_fit_get_minimum(b->fit, k, &rss, values, &hits) == HF_OK; k++) {
        lua_createtable(L, 0, 3);
        hfi_lua_field_number(L, "rss", rss);
        hfi_fit_field_count(L, "hits", hits);
        hfi_lua_push_list(L, values, n);
        lua_setfield(L, -2, "values");
        lua_rawseti(L, -2, (lua_Integer)k + 1);
    }
    return 1;
}

void hfi_fit_push_interval(lua_State *L, const hf_interval *i)
{
    lua_createtable(L, 0, 5);
    hfi_lua_field_number(L, "low", i->low);
    hfi_lua_field_number(L, "high", i->high);
    const struct {
        unsigned bit;
        const char *name;
    } flags[] = {{HF_OPEN_LOW, "open_low"},
                 {HF_OPEN_HIGH, "open_high"},
                 {HF_BOUND_LOW, "bound_low"},
                 {HF_BOUND_HIGH, "bound_high"},
                 {HF_BETTER, "better"}};
    for (size_t k = 0; k < sizeof flags / sizeof flags[0]; k++)
        if (i->flags & flags[k].bit) {
            lua_pushboolean(L, 1);
            lua_setfield(L, -2, flags[k].name);
        }
}

static size_t parameter_index(lua_State *L, int index)
{
    const lua_Integer j = luaL_checkinteger(L, index);
    luaL_argcheck(L, j >= 1, index, "parameters count from 1");
    return (size_t)j - 1;
}

/* fit:profile(j, level) -> { low, high, open_low, ... }, or nil, message, code */
static int profile(lua_State *L)
{
    const size_t j = parameter_index(L, 2);
    const double level = luaL_checknumber(L, 3);
    hfi_fit_box *b = hfi_fit_enter(L);
    hf_interval interval;
    const hf_status status = hf_fit_profile(b->fit, j, level, &interval);
    hfi_fit_leave(b);
    if (status != HF_OK)
        return hfi_fit_failure(L, b, status, NULL);
    hfi_fit_push_interval(L, &interval);
    return 1;
}

/* fit:profiles(level) -> { { low, high, ... } or { problem = sentence }, ... }, or nil, message, code */
static int profiles(lua_State *L)
{
    const double level = luaL_checknumber(L, 2);
    hf_interval interval[HF_FIT_PARAMETERS_MAX];
    hf_status own[HF_FIT_PARAMETERS_MAX];
    const size_t n = hfi_fit_count_of(L, hfi_fit_check(L), 0);
    hfi_fit_box *b = hfi_fit_enter(L);
    const hf_status status = hf_fit_profiles(b->fit, level, interval, own);
    hfi_fit_leave(b);
    if (status != HF_OK)
        return hfi_fit_failure(L, b, status, NULL);
    lua_createtable(L, (int)n, 0);
    for (size_t j = 0; j < n; j++) {
        if (own[j] == HF_OK)
            hfi_fit_push_interval(L, &interval[j]);
        else {
            lua_createtable(L, 0, 1);
            hfi_lua_field_text(L, "problem", hf_status_text(own[j]));
        }
        lua_rawseti(L, -2, (lua_Integer)j + 1);
    }
    return 1;
}

/* fit:region(i, j, level, count) -> first, second, number of open directions */
static int region(lua_State *L)
{
    const size_t i = parameter_index(L, 2), j = parameter_index(L, 3);
    const double level = luaL_checknumber(L, 4);
    const lua_Integer count = luaL_checkinteger(L, 5);
    luaL_argcheck(L, count >= 3 && count <= 10000, 5, "must lie between 3 and 10000");
    const size_t n = (size_t)count;
    double *block = lua_newuserdatauv(L, 2 * n * sizeof *block, 0);
    size_t open = 0;
    hfi_fit_box *b = hfi_fit_enter(L);
    const hf_status status = hf_fit_region(b->fit, i, j, level, n, block, block + n, &open);
    hfi_fit_leave(b);
    if (status != HF_OK)
        return hfi_fit_failure(L, b, status, NULL);
    hfi_lua_push_list(L, block, n);
    hfi_lua_push_list(L, block + n, n);
    lua_pushinteger(L, (lua_Integer)open);
    return 3;
}

/* fit:bands(x, sigma or nil, group or nil, level) -> value, confidence, prediction (nil without sigma where
 * the weighting is absolute); value alone when there is no covariance */
static int bands(lua_State *L)
{
    const double level = luaL_checknumber(L, 5);
    const hfi_fit_box *given = hfi_fit_check(L);
    size_t all = 0;
    lua_settop(L, 5);
    const double *x = hfi_lua_doubles(L, 2, "x", &all);
    luaL_argcheck(L, x && all % given->columns == 0, 2, "x does not fit the model");
    size_t n = all / given->columns, *group = NULL;
    const double *sigma = hfi_lua_doubles(L, 3, "sigma", &n);
    if (lua_istable(L, 4)) {
        group = lua_newuserdatauv(L, n * sizeof *group, 0);
        for (size_t i = 0; i < n; i++) {
            lua_rawgeti(L, 4, (lua_Integer)i + 1);
            const lua_Integer g = luaL_checkinteger(L, -1);
            luaL_argcheck(L, g >= 1, 4, "groups count from 1");
            group[i] = (size_t)g - 1;
            lua_pop(L, 1);
        }
    }
    double *block = lua_newuserdatauv(L, 3 * n * sizeof *block, 0);
    hfi_fit_box *b = hfi_fit_enter(L);
    int answers = 3;
    hf_status status =
        hf_fit_bands(b->fit, n, x, sigma, group, level, block, block + n, block + 2 * n);
    if (status == HF_EINVAL &&
        !b->failed) { /* absolute sigma: no prediction without that of a new point */
        answers = 2;
        status = hf_fit_bands(b->fit, n, x, sigma, group, level, block, block + n, NULL);
    }
    if (status == HF_EDATA && !b->failed) {
        answers = 1;
        status = hf_fit_bands(b->fit, n, x, sigma, group, level, block, NULL, NULL);
    }
    hfi_fit_leave(b);
    if (status != HF_OK)
        return hfi_fit_failure(L, b, status, NULL);
    for (int i = 0; i < answers; i++)
        hfi_lua_push_list(L, block + (size_t)i * n, n);
    return answers;
}

/* compare_fits({ fit, ... }) -> delta, weight; or nil, message, code */
static int compare(lua_State *L)
{
    luaL_checktype(L, 1, LUA_TTABLE);
    const size_t n = (size_t)lua_rawlen(L, 1);
    luaL_argcheck(L, n >= 1, 1, "needs fits");
    const hf_fit **fits = lua_newuserdatauv(L, n * sizeof(const hf_fit *), 0);
    double *block = lua_newuserdatauv(L, 2 * n * sizeof *block, 0);
    for (size_t i = 0; i < n; i++) {
        lua_rawgeti(L, 1, (lua_Integer)i + 1);
        const hfi_fit_box *b = luaL_checkudata(L, -1, HFI_FIT);
        luaL_argcheck(L, b->fit, 1, "one of these fits is closed");
        fits[i] = b->fit;
        lua_pop(L, 1);
    }
    hf_message message = {""};
    const hf_status status = hf_fit_compare(fits, n, block, block + n, &message);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message.text);
    hfi_lua_push_list(L, block, n);
    hfi_lua_push_list(L, block + n, n);
    return 2;
}

/* normal_quantile(p) */
static int normal_quantile(lua_State *L)
{
    const double p = luaL_checknumber(L, 1);
    luaL_argcheck(L, p > 0 && p < 1, 1, "must lie between 0 and 1");
    lua_pushnumber(L, gsl_cdf_ugaussian_Pinv(p));
    return 1;
}

void hfi_lua_open_fit(lua_State *L)
{
    static const luaL_Reg methods[] = {
        {"run", run},
        {"summary", summary},
        {"estimates", estimates},
        {"covariance", covariance},
        {"points", points},
        {"minima", minima},
        {"profile", profile},
        {"region", region},
        {"bands", bands},
        {"bootstrap", hfi_fit_bootstrap},
        {"profiles", profiles},
        {"close", release},
        {NULL, NULL},
    };
    static const luaL_Reg functions[] = {
        {"fit", hfi_fit_new},
        {"fit_models", hfi_fit_models},
        {"compare_fits", compare},
        {"life", hfi_fit_life},
        {"life_line", hfi_fit_life_line},
        {"normal_quantile", normal_quantile},
        {NULL, NULL},
    };
    luaL_setfuncs(L, functions, 0);
    hfi_fit_open_bootstrap(L);
    hfi_lua_metatable(L, HFI_FIT, release, methods);
    lua_pop(L, 1);
}
