/* Makes a fit from a table of Lua. */
#include "fit_box.h"

#include <math.h>
#include <string.h>

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
    lua_setiuservalue(L, self, HFI_FIT_FUNCTION);
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
    lua_setiuservalue(L, self, HFI_FIT_NAMES);
    lua_setiuservalue(L, self, HFI_FIT_LIST);
}

/* fit(spec) -> object, or nil, message, code. spec: points, columns, x (row after row), y, weighting (0, 1, 2),
 * sigma, parameters { name, unit, start, low, high, fixed }, model (index from 1) or call + names + whole,
 * groups, group, map, huber, robust, starts, seed, iterations, noise. */
int hfi_fit_new(lua_State *L)
{
    luaL_checktype(L, 1, LUA_TTABLE);
    lua_settop(L, 1);
    hf_fit_description d = HF_FIT_DESCRIPTION_INIT;
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hfi_fit_box *b = lua_newuserdatauv(L, sizeof *b, 3);
    memset(b, 0, sizeof *b);
    luaL_setmetatable(L, HFI_FIT);
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
        d.value = b->model->value ? hfi_fit_model_value : NULL;
        d.values = b->model->value ? NULL : hfi_fit_model_values;
        d.gradient = b->model->gradient ? hfi_fit_model_gradient : NULL;
        d.starter = b->model->starter ? hfi_fit_model_starter : NULL;
        d.model_noise = d.model_noise > 0 ? d.model_noise : b->model->noise;
        d.parallel = 1;
    } else {
        prepare_function(L, 1, 2, b->parameters);
        b->whole = field_flag(L, 1, "whole");
        d.values = hfi_fit_call_all;
    }
    hf_message message = {""};
    const hf_status status = hf_fit_new(&b->fit, &d, &message);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message.text);
    lua_pushvalue(L, 2);
    return 1;
}
