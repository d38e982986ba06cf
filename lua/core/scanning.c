/* Regain along a path of humidities inside the hysteresis loop. */
#include "core.h"

#include <hairfibre/keratin.h>

#include <stdio.h>

/* scanning(set or nil, flags, temperature, start regain, humidities) -> list of regains
 * [, "extrapolated"], or nil, message, code */
static int scanning(lua_State *L)
{
    const hf_parameters *set = hfi_lua_parameters(L, 1);
    const unsigned flags = (unsigned)luaL_checkinteger(L, 2);
    const double temperature = luaL_checknumber(L, 3), start = luaL_checknumber(L, 4);
    size_t n = 0, bad = 0;
    double *humidity = hfi_lua_doubles(L, 5, "humidity", &n);
    luaL_argcheck(L, humidity, 5, "humidity is missing");
    double *regain = lua_newuserdatauv(L, n * sizeof *regain, 0);
    const hf_status status =
        hf_scanning_regain_v(n, humidity, start, temperature, set, flags, regain, &bad);
    double low, high;
    if (hf_failed(status) && bad == 0 &&
        !hf_failed(hf_regain_e(humidity[0], temperature, HF_ABSORPTION, set, flags, &low)) &&
        !hf_failed(hf_regain_e(humidity[0], temperature, HF_DESORPTION, set, flags, &high))) {
        hf_message message;
        snprintf(
            message.text, sizeof message.text,
            "start_regain = %.6g lies outside the hysteresis loop, which runs from %.6g to %.6g "
            "at the first humidity",
            start, low, high);
        return hfi_lua_fail(L, status, message.text);
    }
    if (hf_failed(status))
        return hfi_lua_fail_word(L, hf_status_code(status), "%s (humidity = %f, number %I)",
                                 hf_status_text(status), humidity[bad], (LUAI_UACINT)bad + 1);
    hfi_lua_push_list(L, regain, n);
    if (status == HF_OK)
        return 1;
    lua_pushstring(L, hf_status_code(status));
    return 2;
}

void hfi_lua_open_scanning(lua_State *L)
{
    static const luaL_Reg functions[] = {{"scanning", scanning}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
}
