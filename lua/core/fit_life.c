/* Lives and strengths: hf_life. */
#include "fit_box.h"

#include <math.h>

static int push_life(lua_State *L, const hf_life *life)
{
    lua_createtable(L, 0, 10);
    hfi_lua_field_number(L, "log_likelihood", life->log_likelihood);
    hfi_lua_field_number(L, "aic", life->aic);
    hfi_lua_field_number(L, "aicc", life->aicc);
    hfi_lua_field_number(L, "bic", life->bic);
    hfi_fit_field_count(L, "broken", life->broken);
    hfi_fit_field_count(L, "survivors", life->survivors);
    hfi_fit_field_count(L, "iterations", life->iterations);
    lua_createtable(L, (int)life->parameter_count, 0);
    for (size_t j = 0; j < life->parameter_count; j++) {
        const hf_life_parameter *p = &life->parameters[j];
        hfi_fit_push_interval(L, &p->interval);
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
int hfi_fit_life(lua_State *L)
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
int hfi_fit_life_line(lua_State *L)
{
    size_t n = 0;
    const double reference = luaL_checknumber(L, 4), level = luaL_checknumber(L, 5);
    const double *stress = hfi_lua_doubles(L, 1, "stress", &n);
    const double *life = hfi_lua_doubles(L, 2, "life", &n);
    luaL_argcheck(L, stress && life, 1, "needs stresses and lives");
    const int *observed = observed_of(L, 3, n);
    hf_life out;
    hf_message message = {""};
    const hf_status status =
        hf_life_line_fit(n, stress, life, observed, reference, level, &out, &message);
    return status == HF_OK ? push_life(L, &out) : hfi_lua_fail(L, status, message.text);
}
