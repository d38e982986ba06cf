/*
 * Fits: a userdata over hf_fit. Names, units and reports are the Lua half's.
 *
 * A model may be a function of Lua. It is called in protected mode, so that nothing leaves through the solver:
 * an error is kept, the fit is stopped with HF_ESTOPPED, and the error is given back (a text) or raised again
 * (anything else) once the solver has returned. Such a fit runs in one thread.
 */
#include "core.h"

#include <hairfibre/inference.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define KIND     "hairfibre.fit"
#define FUNCTION 1 /* user values of the box */
#define LIST     2 /* parameters as the function sees them */
#define NAMES    3

typedef struct box {
    hf_fit *fit;
    const hf_model *model; /* NULL: a function of Lua */
    lua_State *L;          /* of the call under way */
    int self;              /* stack index of the box in it */
    int error;             /* stack index where an error of the function is kept; 0: none yet */
    int failed;
    int whole; /* the function answers all rows at once */
    size_t columns, parameters;
} box;

static int release(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    hf_fit_free(b->fit);
    b->fit = NULL;
    return 0;
}

static box *check(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    luaL_argcheck(L, b->fit, 1, "this fit is closed");
    return b;
}

/* ---- the model as a function of Lua -------------------------------------------------------------- */

typedef struct request {
    box *b;
    size_t n;
    const double *x, *p;
    double *y;
    int answered;
} request;

static void push_row(lua_State *L, const request *r, size_t i)
{
    const size_t k = r->b->columns;
    if (k == 1) {
        lua_pushnumber(L, r->x[i]);
        return;
    }
    lua_createtable(L, (int)k, 0);
    for (size_t c = 0; c < k; c++) {
        lua_pushnumber(L, r->x[i * k + c]);
        lua_rawseti(L, -2, (lua_Integer)c + 1);
    }
}

/* A number, or an answer that the model does not have (nil, not finite). Anything else raises. */
static int take(lua_State *L, double *y)
{
    if (lua_isnil(L, -1))
        return 0;
    if (lua_type(L, -1) != LUA_TNUMBER)
        luaL_error(L, "the model must give a number (nil where it has no answer), not a %s", luaL_typename(L, -1));
    *y = lua_tonumber(L, -1);
    return isfinite(*y);
}

static int ask(lua_State *L)
{
    request *r = lua_touserdata(L, 1);
    /* The list of parameters keeps its place; names and numbers both lead to the values. */
    lua_pushvalue(L, 3);
    for (size_t j = 0; j < r->b->parameters; j++) {
        lua_pushnumber(L, r->p[j]);
        lua_rawseti(L, 3, (lua_Integer)j + 1);
        lua_rawgeti(L, 4, (lua_Integer)j + 1);
        lua_pushnumber(L, r->p[j]);
        lua_rawset(L, 3);
    }
    lua_settop(L, 4);
    if (!r->b->whole) {
        for (size_t i = 0; i < r->n; i++) {
            lua_pushvalue(L, 2);
            push_row(L, r, i);
            lua_pushvalue(L, 3);
            lua_call(L, 2, 1);
            if (!take(L, &r->y[i]))
                return 0;
            lua_settop(L, 4);
        }
        r->answered = 1;
        return 0;
    }
    lua_pushvalue(L, 2);
    lua_createtable(L, (int)r->n, 0);
    for (size_t i = 0; i < r->n; i++) {
        push_row(L, r, i);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    lua_pushvalue(L, 3);
    lua_call(L, 2, 1);
    if (lua_isnil(L, 5))
        return 0;
    if (lua_type(L, 5) != LUA_TTABLE || (size_t)lua_rawlen(L, 5) != r->n)
        return luaL_error(L, "the model must give a list of %I numbers, one for each x", (LUAI_UACINT)r->n);
    for (size_t i = 0; i < r->n; i++) {
        lua_rawgeti(L, 5, (lua_Integer)i + 1);
        if (!take(L, &r->y[i]))
            return 0;
        lua_settop(L, 5);
    }
    r->answered = 1;
    return 0;
}

static hf_status call_all(size_t n, const double *x, const double *p, void *user, double *y)
{
    box *b = user;
    lua_State *L = b->L;
    request r = {b, n, x, p, y, 0};
    if (hfi_lua_stop || b->failed || !lua_checkstack(L, 8))
        return HF_ESTOPPED;
    lua_pushcfunction(L, ask);
    lua_pushlightuserdata(L, &r);
    lua_getiuservalue(L, b->self, FUNCTION);
    lua_getiuservalue(L, b->self, LIST);
    lua_getiuservalue(L, b->self, NAMES);
    if (lua_pcall(L, 4, 0, 0) != LUA_OK) {
        lua_replace(L, b->error);
        b->failed = 1;
        return HF_ESTOPPED;
    }
    return r.answered ? HF_OK : HF_ERANGE;
}

static hf_status call_one(const double *x, const double *p, void *user, double *y)
{
    return call_all(1, x, p, user, y);
}

/* ---- built-in models, with a stop ------------------------------------------------------------------ */

static hf_status value_of(const double *x, const double *p, void *user, double *y)
{
    const box *b = user;
    return hfi_lua_stop ? HF_ESTOPPED : b->model->value(x, p, NULL, y);
}

static hf_status values_of(size_t n, const double *x, const double *p, void *user, double *y)
{
    const box *b = user;
    return hfi_lua_stop ? HF_ESTOPPED : b->model->values(n, x, p, NULL, y);
}

static hf_status gradient_of(const double *x, const double *p, void *user, double *g)
{
    const box *b = user;
    return b->model->gradient(x, p, NULL, g);
}

static hf_status start_of(size_t n, const double *x, const double *y, void *user, double *p)
{
    const box *b = user;
    return b->model->starter(n, x, y, NULL, p);
}

/* ---- around every call ----------------------------------------------------------------------------- */

static box *enter(lua_State *L)
{
    box *b = check(L);
    if (b->L)
        luaL_error(L, "this fit is being computed: its model must not call it");
    lua_pushnil(L);
    b->error = lua_gettop(L);
    b->self = 1;
    b->failed = 0;
    b->L = L;
    if (b->model)
        hfi_lua_busy = 1;
    hfi_lua_stop = 0;
    return b;
}

/* Ends a computation; raises again what the function raised, unless that is a text. */
static void leave(box *b)
{
    lua_State *L = b->L;
    if (b->model)
        hfi_lua_busy = 0;
    b->L = NULL;
    if (b->failed && lua_type(L, b->error) != LUA_TSTRING) {
        lua_pushvalue(L, b->error);
        lua_error(L);
    }
}

static int failure(lua_State *L, const box *b, hf_status status, const char *message)
{
    if (b->failed)
        return hfi_lua_fail_word(L, "model", "the model failed: %s", lua_tostring(L, b->error));
    return hfi_lua_fail(L, status, message);
}

/* ---- making one ------------------------------------------------------------------------------------ */

static double field_double(lua_State *L, int index, const char *name, double otherwise)
{
    const double x = lua_getfield(L, index, name) == LUA_TNUMBER ? lua_tonumber(L, -1) : otherwise;
    lua_pop(L, 1);
    return x;
}

static size_t field_size(lua_State *L, int index, const char *name)
{
    lua_getfield(L, index, name);
    const lua_Integer x = luaL_optinteger(L, -1, 0);
    lua_pop(L, 1);
    if (x < 0)
        luaL_error(L, "%s must not be negative", name);
    return (size_t)x;
}

static int field_flag(lua_State *L, int index, const char *name)
{
    lua_getfield(L, index, name);
    const int x = lua_toboolean(L, -1);
    lua_pop(L, 1);
    return x;
}

/* The list of this field, in a userdata that is left on the stack (nil when it is not there). */
static double *field_doubles(lua_State *L, int index, const char *name, size_t n)
{
    lua_getfield(L, index, name);
    return hfi_lua_doubles(L, lua_gettop(L), name, &n);
}

/* List of numbers that count from 1, as numbers that count from 0. */
static size_t *field_indices(lua_State *L, int index, const char *name, size_t n)
{
    lua_getfield(L, index, name);
    luaL_checktype(L, -1, LUA_TTABLE);
    const int list = lua_gettop(L);
    size_t *out = lua_newuserdatauv(L, (n + 1) * sizeof *out, 0);
    for (size_t i = 0; i < n; i++) {
        lua_rawgeti(L, list, (lua_Integer)i + 1);
        const lua_Integer x = luaL_checkinteger(L, -1);
        luaL_argcheck(L, x >= 1, index, "indices count from 1");
        out[i] = (size_t)x - 1;
        lua_pop(L, 1);
    }
    return out;
}

static void read_parameters(lua_State *L, int spec, hf_fit_parameter *p, size_t n)
{
    lua_getfield(L, spec, "parameters");
    const int list = lua_gettop(L);
    for (size_t j = 0; j < n; j++) {
        lua_rawgeti(L, list, (lua_Integer)j + 1);
        luaL_checktype(L, -1, LUA_TTABLE);
        const int one = lua_gettop(L);
        lua_getfield(L, one, "name");
        lua_getfield(L, one, "unit");
        p[j].name = luaL_checkstring(L, -2); /* both stay in the table while the fit is made */
        p[j].unit = luaL_optstring(L, -1, "1");
        p[j].start = field_double(L, one, "start", (double)NAN);
        p[j].low = field_double(L, one, "low", (double)NAN);
        p[j].high = field_double(L, one, "high", (double)NAN);
        p[j].fixed = field_flag(L, one, "fixed");
        lua_settop(L, list);
    }
}

/* What the function of Lua sees of its parameters: a list of values that are also found by name. `names`
 * are those of the model itself, without groups. */
static void prepare_function(lua_State *L, int spec, int self, size_t n)
{
    lua_getfield(L, spec, "call");
    luaL_checktype(L, -1, LUA_TFUNCTION);
    lua_setiuservalue(L, self, FUNCTION);
    lua_createtable(L, (int)n, (int)n);
    lua_getfield(L, spec, "names");
    luaL_checktype(L, -1, LUA_TTABLE);
    for (size_t j = 0; j < n; j++) {
        lua_rawgeti(L, -1, (lua_Integer)j + 1);
        luaL_checkstring(L, -1);
        lua_pushnumber(L, 0);
        lua_rawset(L, -4);
        lua_pushnumber(L, 0);
        lua_rawseti(L, -3, (lua_Integer)j + 1);
    }
    lua_setiuservalue(L, self, NAMES);
    lua_setiuservalue(L, self, LIST);
}

/* fit(spec) -> object, or nil, message, code. spec: points, columns, x (row after row), y, weighting (0, 1, 2),
 * sigma, parameters { name, unit, start, low, high, fixed }, model (index from 1) or call + names + whole,
 * groups, group, map, huber, robust, starts, seed, iterations, noise. */
static int new_fit(lua_State *L)
{
    luaL_checktype(L, 1, LUA_TTABLE);
    lua_settop(L, 1);
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    box *b = lua_newuserdatauv(L, sizeof *b, 3);
    memset(b, 0, sizeof *b);
    luaL_setmetatable(L, KIND);
    d.points = field_size(L, 1, "points");
    d.columns = field_size(L, 1, "columns");
    luaL_argcheck(L, d.points > 0 && d.columns > 0, 1, "needs points and columns");
    d.x = field_doubles(L, 1, "x", d.points * d.columns);
    d.y = field_doubles(L, 1, "y", d.points);
    d.sigma = field_doubles(L, 1, "sigma", d.points);
    luaL_argcheck(L, d.x && d.y, 1, "needs x and y");
    const size_t weighting = field_size(L, 1, "weighting");
    luaL_argcheck(L, weighting <= HF_WEIGHT_ABSOLUTE, 1, "unknown weighting");
    d.weighting = (hf_weighting)weighting;
    lua_getfield(L, 1, "parameters");
    luaL_checktype(L, -1, LUA_TTABLE);
    d.parameter_count = (size_t)lua_rawlen(L, -1);
    luaL_argcheck(L, d.parameter_count >= 1 && d.parameter_count <= HF_FIT_PARAMETERS_MAX, 1,
                  "a fit takes 1 to 20 parameters");
    read_parameters(L, 1, p, d.parameter_count);
    d.parameters = p;
    d.loss = field_flag(L, 1, "robust") ? HF_LOSS_HUBER : HF_LOSS_SQUARES;
    d.huber = field_double(L, 1, "huber", 0);
    d.starts = field_size(L, 1, "starts");
    d.seed = (unsigned long)field_size(L, 1, "seed");
    d.iterations = field_size(L, 1, "iterations");
    d.model_noise = field_double(L, 1, "noise", 0);
    d.groups = field_size(L, 1, "groups");
    d.user = b;
    b->columns = d.columns;
    b->parameters = d.parameter_count;
    const size_t index = field_size(L, 1, "model");
    if (d.groups) {
        d.model_parameters = b->parameters = field_size(L, 1, "model_parameters");
        d.group = field_indices(L, 1, "group", d.points);
        d.map = field_indices(L, 1, "map", d.groups * d.model_parameters);
    }
    if (index) {
        b->model = hf_model_at(index - 1);
        luaL_argcheck(L, b->model, 1, "there is no such model");
        d.value = b->model->value ? value_of : NULL;
        d.values = b->model->value ? NULL : values_of;
        d.gradient = b->model->gradient ? gradient_of : NULL;
        d.starter = b->model->starter && !d.groups ? start_of : NULL;
        d.parallel = 1;
    } else {
        prepare_function(L, 1, 2, b->parameters);
        b->whole = field_flag(L, 1, "whole");
        if (d.groups)
            d.value = call_one;
        else
            d.values = call_all;
    }
    hf_message message = {""};
    const hf_status status = hf_fit_new(&b->fit, &d, &message);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message.text);
    lua_pushvalue(L, 2);
    return 1;
}

/* model_start(index, x, y) -> list of starts (NaN where there is none), or nil, message, code */
static int model_start(lua_State *L)
{
    const lua_Integer index = luaL_checkinteger(L, 1);
    const hf_model *m = index >= 1 ? hf_model_at((size_t)index - 1) : NULL;
    luaL_argcheck(L, m, 1, "there is no such model");
    size_t n = 0;
    const double *x = hfi_lua_doubles(L, 2, "x", &n);
    const double *y = hfi_lua_doubles(L, 3, "y", &n);
    double p[HF_FIT_PARAMETERS_MAX];
    for (size_t j = 0; j < HF_FIT_PARAMETERS_MAX; j++)
        p[j] = j < m->parameter_count ? m->parameters[j].usual : (double)NAN;
    const hf_status status = m->starter ? m->starter(n, x, y, NULL, p) : HF_OK;
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    hfi_lua_push_list(L, p, m->parameter_count);
    return 1;
}

/* ---- answers --------------------------------------------------------------------------------------- */

/* fit:run() -> true; or false, message: no minimum, best point kept; or nil, message, code */
static int run(lua_State *L)
{
    box *b = enter(L);
    const hf_status status = hf_fit_run(b->fit);
    leave(b);
    hf_fit_summary s;
    if (status == HF_ECONVERGE && hf_fit_get_summary(b->fit, &s) == HF_OK && s.starts_answered) {
        lua_pushboolean(L, 0);
        lua_pushstring(L, hf_fit_message(b->fit));
        return 2;
    }
    if (status != HF_OK)
        return failure(L, b, status, hf_fit_message(b->fit));
    lua_pushboolean(L, 1);
    return 1;
}

static void field_count(lua_State *L, const char *name, size_t x)
{
    lua_pushinteger(L, (lua_Integer)x);
    lua_setfield(L, -2, name);
}

/* fit:summary() -> table */
static int summary(lua_State *L)
{
    const box *b = check(L);
    hf_fit_summary s;
    const hf_status status = hf_fit_get_summary(b->fit, &s);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 24);
    lua_pushboolean(L, s.converged);
    lua_setfield(L, -2, "converged");
    hfi_lua_field_text(L, "reason", hf_fit_reason(b->fit));
    field_count(L, "points", s.points);
    field_count(L, "free", s.free);
    field_count(L, "degrees_of_freedom", s.degrees_of_freedom);
    hfi_lua_field_number(L, "rss", s.rss);
    hfi_lua_field_number(L, "s", s.s);
    hfi_lua_field_number(L, "log_likelihood", s.log_likelihood);
    hfi_lua_field_number(L, "aic", s.aic);
    hfi_lua_field_number(L, "aicc", s.aicc);
    hfi_lua_field_number(L, "bic", s.bic);
    hfi_lua_field_number(L, "condition", s.condition);
    hfi_lua_field_number(L, "offset", s.offset);
    field_count(L, "iterations", s.iterations);
    field_count(L, "evaluations", s.evaluations);
    field_count(L, "starts", s.starts);
    field_count(L, "starts_answered", s.starts_answered);
    field_count(L, "minima", s.minima);
    field_count(L, "winner", s.winner);
    field_count(L, "equivalents", s.equivalents);
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
    const box *b = check(L);
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

static size_t count_of(lua_State *L, const box *b, int points)
{
    hf_fit_summary s;
    if (hf_fit_get_summary(b->fit, &s) != HF_OK)
        luaL_error(L, "the fit has not been run");
    return points ? s.points : s.parameters;
}

/* fit:covariance() -> covariance, correlation, both row after row */
static int covariance(lua_State *L)
{
    const box *b = check(L);
    const size_t n = count_of(L, b, 0), m = n * n;
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
    const box *b = check(L);
    const size_t n = count_of(L, b, 1);
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
    const box *b = check(L);
    double rss, values[HF_FIT_PARAMETERS_MAX];
    size_t hits;
    const size_t n = count_of(L, b, 0);
    lua_newtable(L);
    for (size_t k = 0; hf_fit_get_minimum(b->fit, k, &rss, values, &hits) == HF_OK; k++) {
        lua_createtable(L, 0, 3);
        hfi_lua_field_number(L, "rss", rss);
        field_count(L, "hits", hits);
        hfi_lua_push_list(L, values, n);
        lua_setfield(L, -2, "values");
        lua_rawseti(L, -2, (lua_Integer)k + 1);
    }
    return 1;
}

static void push_interval(lua_State *L, const hf_interval *i)
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
    box *b = enter(L);
    hf_interval interval;
    const hf_status status = hf_fit_profile(b->fit, j, level, &interval);
    leave(b);
    if (status != HF_OK)
        return failure(L, b, status, NULL);
    push_interval(L, &interval);
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
    box *b = enter(L);
    const hf_status status = hf_fit_region(b->fit, i, j, level, n, block, block + n, &open);
    leave(b);
    if (status != HF_OK)
        return failure(L, b, status, NULL);
    hfi_lua_push_list(L, block, n);
    hfi_lua_push_list(L, block + n, n);
    lua_pushinteger(L, (lua_Integer)open);
    return 3;
}

/* fit:bands(x, sigma or nil, group or nil, level) -> value, confidence, prediction (nil without sigma where
 * the weighting is absolute) */
static int bands(lua_State *L)
{
    const double level = luaL_checknumber(L, 5);
    const box *given = check(L);
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
    box *b = enter(L);
    int predicted = 1;
    hf_status status = hf_fit_bands(b->fit, n, x, sigma, group, level, block, block + n, block + 2 * n);
    if (status == HF_EINVAL && !b->failed) { /* absolute sigma: no prediction without that of a new point */
        predicted = 0;
        status = hf_fit_bands(b->fit, n, x, sigma, group, level, block, block + n, NULL);
    }
    leave(b);
    if (status != HF_OK)
        return failure(L, b, status, NULL);
    hfi_lua_push_list(L, block, n);
    hfi_lua_push_list(L, block + n, n);
    if (predicted)
        hfi_lua_push_list(L, block + 2 * n, n);
    return predicted ? 3 : 2;
}

/* ---- bootstrap --------------------------------------------------------------------------------------- */

#define BOOTSTRAP "hairfibre.bootstrap"

typedef struct replicas {
    hf_bootstrap *bootstrap;
} replicas;

static int release_bootstrap(lua_State *L)
{
    replicas *r = luaL_checkudata(L, 1, BOOTSTRAP);
    hf_bootstrap_free(r->bootstrap);
    r->bootstrap = NULL;
    return 0;
}

/* fit:bootstrap(kind, replicates, seed, level) -> { count, failures, intervals = { { low, high,
 * standard_error }, ... }, values = one list a parameter }, or nil, message, code */
static int bootstrap(lua_State *L)
{
    static const char *const kinds[] = {"parametric", "cases", NULL};
    const int kind = luaL_checkoption(L, 2, NULL, kinds);
    const lua_Integer replicates = luaL_checkinteger(L, 3), seed = luaL_checkinteger(L, 4);
    const double level = luaL_checknumber(L, 5);
    luaL_argcheck(L, replicates >= 2 && replicates <= 1000000, 3, "must lie between 2 and 1000000");
    const size_t p = count_of(L, check(L), 0);
    replicas *r = lua_newuserdatauv(L, sizeof *r, 0);
    r->bootstrap = NULL;
    luaL_setmetatable(L, BOOTSTRAP);
    box *b = enter(L);
    const hf_status status =
        hf_bootstrap_new(&r->bootstrap, b->fit, kind ? HF_BOOTSTRAP_CASES : HF_BOOTSTRAP_PARAMETRIC,
                         (size_t)replicates, (unsigned long)seed);
    leave(b);
    if (status != HF_OK)
        return failure(L, b, status,
                       status == HF_EDATA ? "fewer than half of the replicates could be fitted, or the fit has no "
                                            "standard deviation"
                                          : NULL);
    const size_t n = hf_bootstrap_count(r->bootstrap);
    const double *values = hf_bootstrap_values(r->bootstrap);
    lua_createtable(L, 0, 4);
    field_count(L, "count", n);
    field_count(L, "failures", hf_bootstrap_failures(r->bootstrap));
    lua_createtable(L, (int)p, 0);
    lua_createtable(L, (int)p, 0);
    for (size_t j = 0; j < p; j++) {
        hf_interval interval;
        double error;
        if (hf_bootstrap_interval(r->bootstrap, j, level, &interval, &error) == HF_OK) {
            push_interval(L, &interval);
            hfi_lua_field_number(L, "standard_error", error);
            lua_rawseti(L, -3, (lua_Integer)j + 1);
        }
        lua_createtable(L, (int)n, 0);
        for (size_t i = 0; i < n; i++) {
            lua_pushnumber(L, values[i * p + j]);
            lua_rawseti(L, -2, (lua_Integer)i + 1);
        }
        lua_rawseti(L, -2, (lua_Integer)j + 1);
    }
    lua_setfield(L, -3, "values");
    lua_setfield(L, -2, "intervals");
    return 1;
}

/* ---- comparison, models, lives ------------------------------------------------------------------------- */

/* compare_fits({ fit, ... }) -> delta, weight; or nil, message, code */
static int compare(lua_State *L)
{
    luaL_checktype(L, 1, LUA_TTABLE);
    const size_t n = (size_t)lua_rawlen(L, 1);
    luaL_argcheck(L, n >= 1, 1, "needs fits");
    const hf_fit **fits = lua_newuserdatauv(L, n * sizeof *fits, 0);
    double *block = lua_newuserdatauv(L, 2 * n * sizeof *block, 0);
    for (size_t i = 0; i < n; i++) {
        lua_rawgeti(L, 1, (lua_Integer)i + 1);
        const box *b = luaL_checkudata(L, -1, KIND);
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

/* fit_models() -> list of descriptors */
static int fit_models(lua_State *L)
{
    lua_createtable(L, (int)hf_model_count(), 0);
    const hf_model *m;
    for (size_t i = 0; (m = hf_model_at(i)) != NULL; i++) {
        lua_createtable(L, 0, 12);
        hfi_lua_field_text(L, "name", m->name);
        hfi_lua_field_text(L, "text", m->text);
        hfi_lua_field_text(L, "equation", m->equation);
        hfi_lua_field_text(L, "known", hf_known_word(m->known));
        hfi_lua_field_text(L, "y_name", m->y_name);
        hfi_lua_field_text(L, "y_unit", m->y_unit);
        field_count(L, "columns", m->columns);
        field_count(L, "index", i + 1);
        lua_pushboolean(L, m->value != NULL);
        lua_setfield(L, -2, "by_rows");
        hfi_lua_words(L, m->sources);
        lua_setfield(L, -2, "sources");
        hfi_lua_words(L, m->x_names);
        lua_setfield(L, -2, "x_names");
        hfi_lua_words(L, m->x_units);
        lua_setfield(L, -2, "x_units");
        lua_createtable(L, (int)m->parameter_count, 0);
        for (size_t j = 0; j < m->parameter_count; j++) {
            const hf_model_parameter *p = &m->parameters[j];
            lua_createtable(L, 0, 7);
            hfi_lua_field_text(L, "name", p->name);
            hfi_lua_field_text(L, "unit", p->unit);
            hfi_lua_field_text(L, "text", p->text);
            hfi_lua_field_number(L, "low", p->low);
            hfi_lua_field_number(L, "high", p->high);
            hfi_lua_field_number(L, "usual", p->usual);
            lua_pushboolean(L, p->given);
            lua_setfield(L, -2, "given");
            lua_rawseti(L, -2, (lua_Integer)j + 1);
        }
        lua_setfield(L, -2, "parameters");
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

static int push_life(lua_State *L, const hf_life *life)
{
    lua_createtable(L, 0, 10);
    hfi_lua_field_number(L, "log_likelihood", life->log_likelihood);
    hfi_lua_field_number(L, "aic", life->aic);
    hfi_lua_field_number(L, "aicc", life->aicc);
    hfi_lua_field_number(L, "bic", life->bic);
    field_count(L, "broken", life->broken);
    field_count(L, "survivors", life->survivors);
    field_count(L, "iterations", life->iterations);
    lua_createtable(L, (int)life->parameter_count, 0);
    for (size_t j = 0; j < life->parameter_count; j++) {
        const hf_life_parameter *p = &life->parameters[j];
        push_interval(L, &p->interval);
        hfi_lua_field_text(L, "name", p->name);
        hfi_lua_field_number(L, "value", p->value);
        hfi_lua_field_number(L, "standard_error", p->standard_error);
        lua_rawseti(L, -2, (lua_Integer)j + 1);
    }
    lua_setfield(L, -2, "parameters");
    lua_newtable(L);
    for (size_t i = 0; i < life->parameter_count; i++)
        for (size_t j = 0; j < life->parameter_count; j++) {
            lua_pushnumber(L, life->covariance[i * HF_LIFE_PARAMETERS_MAX + j]);
            lua_rawseti(L, -2, (lua_Integer)(i * life->parameter_count + j) + 1);
        }
    lua_setfield(L, -2, "covariance");
    return 1;
}

static int *observed_of(lua_State *L, int index, size_t n)
{
    const double *flags = hfi_lua_doubles(L, index, "observed", &n);
    int *observed = lua_newuserdatauv(L, (n + 1) * sizeof *observed, 0);
    for (size_t i = 0; i < n; i++)
        observed[i] = flags ? flags[i] != 0 : 1;
    return observed;
}

/* life(lives, observed (1 broke, 0 survived), fixed shape or nil, level) -> table; or nil, message, code */
static int life_fit(lua_State *L)
{
    size_t n = 0;
    const double shape = luaL_optnumber(L, 3, (double)NAN), level = luaL_checknumber(L, 4);
    const double *life = hfi_lua_doubles(L, 1, "life", &n);
    luaL_argcheck(L, life, 1, "needs lives");
    const int *observed = observed_of(L, 2, n);
    hf_life out;
    hf_message message = {""};
    const hf_status status = hf_life_fit(n, life, observed, shape, level, &out, &message);
    return status == HF_OK ? push_life(L, &out) : hfi_lua_fail(L, status, message.text);
}

/* life_line(stresses, lives, observed, reference, level) -> table; or nil, message, code */
static int life_line(lua_State *L)
{
    size_t n = 0;
    const double reference = luaL_checknumber(L, 4), level = luaL_checknumber(L, 5);
    const double *stress = hfi_lua_doubles(L, 1, "stress", &n);
    const double *life = hfi_lua_doubles(L, 2, "life", &n);
    luaL_argcheck(L, stress && life, 1, "needs stresses and lives");
    const int *observed = observed_of(L, 3, n);
    hf_life out;
    hf_message message = {""};
    const hf_status status = hf_life_line_fit(n, stress, life, observed, reference, level, &out, &message);
    return status == HF_OK ? push_life(L, &out) : hfi_lua_fail(L, status, message.text);
}

void hfi_lua_open_fit(lua_State *L)
{
    static const luaL_Reg methods[] = {
        {"run", run},         {"summary", summary}, {"estimates", estimates}, {"covariance", covariance},
        {"points", points},   {"minima", minima},   {"profile", profile},     {"region", region},
        {"bands", bands},     {"close", release},   {"bootstrap", bootstrap}, {NULL, NULL},
    };
    static const luaL_Reg functions[] = {
        {"fit", new_fit},        {"fit_models", fit_models}, {"model_start", model_start},
        {"compare_fits", compare}, {"life", life_fit},       {"life_line", life_line},
        {NULL, NULL},
    };
    luaL_setfuncs(L, functions, 0);
    hfi_lua_metatable(L, BOOTSTRAP, release_bootstrap, NULL);
    lua_pop(L, 1);
    hfi_lua_metatable(L, KIND, release, methods);
    lua_pop(L, 1);
}
