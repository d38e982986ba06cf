/* Fatigue over a mixed history: blocks of pulls, each with its stress and humidity or its own life. */
#include "core.h"

#include <hairfibre/strength.h>

static int fail(lua_State *L, hf_status status, size_t bad)
{
    hfi_lua_fail(L, status, NULL);
    lua_pushinteger(L, (lua_Integer)bad + 1);
    return 4;
}

/* fatigue_mixed(set or nil, flags, cycles, stresses, humidities) -> { used =, survival = }, after each block
 * [, "extrapolated"]; or nil, message, code, number of the block at fault */
static int fatigue_mixed(lua_State *L)
{
    const hf_parameters *set = hfi_lua_parameters(L, 1);
    const unsigned flags = (unsigned)luaL_checkinteger(L, 2);
    size_t n = 0, bad = 0;
    const double *cycles = hfi_lua_doubles(L, 3, "cycles", &n);
    const double *stress = hfi_lua_doubles(L, 4, "stress", &n);
    const double *humidity = hfi_lua_doubles(L, 5, "humidity", &n);
    luaL_argcheck(L, cycles && stress && humidity, 3, "three lists are needed");
    double *used = lua_newuserdatauv(L, 2 * n * sizeof *used, 0);
    hf_status worst = HF_OK;
    for (size_t i = 0; i < n; i++) {
        const hf_status status = hf_fatigue_mixed_e(i + 1, cycles, stress, humidity, set, flags,
                                                    &used[i], &used[n + i], &bad);
        if (hf_failed(status))
            return fail(L, status, bad);
        worst = status > worst ? status : worst;
    }
    lua_createtable(L, 0, 2);
    hfi_lua_push_list(L, used, n);
    lua_setfield(L, -2, "used");
    hfi_lua_push_list(L, used + n, n);
    lua_setfield(L, -2, "survival");
    if (worst == HF_OK)
        return 1;
    lua_pushstring(L, hf_status_code(worst));
    return 2;
}

/* miner_sum(cycles, lives) -> sum; or nil, message, code, number of the block at fault */
static int miner_sum(lua_State *L)
{
    size_t n = 0, bad = 0;
    const double *cycles = hfi_lua_doubles(L, 1, "cycles", &n);
    const double *life = hfi_lua_doubles(L, 2, "life", &n);
    double sum = 0;
    const hf_status status = hf_miner_sum_e(n, cycles, life, &sum, &bad);
    if (hf_failed(status))
        return fail(L, status, bad);
    lua_pushnumber(L, sum);
    return 1;
}

void hfi_lua_open_fatigue(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"fatigue_mixed", fatigue_mixed}, {"miner_sum", miner_sum}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
}
