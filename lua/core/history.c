/* Damage channels along a history of time, temperature and water. */
#include "core.h"

#include <hairfibre/bonds.h>

#include <string.h>

/* channels() -> { { name =, unit =, low =, high =, energy = { names }, text = }, ... } */
static int channels(lua_State *L)
{
    const hf_channel_info *info;
    lua_newtable(L);
    for (size_t i = 0; (info = hf_channel_at(i)) != NULL; i++) {
        lua_createtable(L, 0, 6);
        hfi_lua_field_text(L, "name", info->name);
        hfi_lua_field_text(L, "unit", info->unit);
        hfi_lua_field_number(L, "low", info->temperature_low);
        hfi_lua_field_number(L, "high", info->temperature_high);
        hfi_lua_field_number(L, "counted_from", info->counted_from);
        hfi_lua_words(L, info->energy);
        lua_setfield(L, -2, "energy");
        hfi_lua_field_text(L, "text", info->text);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

/* Field holding a list of one list a channel. */
static void field_lists(lua_State *L, const char *name, double *const lists[HF_CHANNELS], size_t n)
{
    lua_createtable(L, HF_CHANNELS, 0);
    for (int i = 0; i < HF_CHANNELS; i++) {
        hfi_lua_push_list(L, lists[i], n);
        lua_rawseti(L, -2, i + 1);
    }
    lua_setfield(L, -2, name);
}

static void field_numbers(lua_State *L, const char *name, const double values[HF_CHANNELS])
{
    hfi_lua_push_list(L, values, HF_CHANNELS);
    lua_setfield(L, -2, name);
}

/* history(set or nil, passes, times, temperatures, regains or nil, humidities or nil, running)
 * -> { remaining =, exposure =, exposure_error =, outside =, extrapolated = } with one entry a
 *    channel; with `running` also first = and last =, lists of what is left at each sample.
 * Or nil, message, code, number of the sample at fault. */
static int history(lua_State *L)
{
    size_t n = 0, bad = 0;
    hf_message message = {""};
    hf_damage damage;
    hf_damage_columns columns;
    lua_settop(L, 7);
    const hf_parameters *set = hfi_lua_parameters(L, 1);
    const lua_Integer passes = luaL_checkinteger(L, 2);
    luaL_argcheck(L, passes >= 1, 2, "must be 1 or more");
    const int running = lua_toboolean(L, 7);
    const double *time = hfi_lua_doubles(L, 3, "time", &n);
    const double *temperature = hfi_lua_doubles(L, 4, "temperature", &n);
    const double *regain = hfi_lua_doubles(L, 5, "regain", &n);
    const double *humidity = hfi_lua_doubles(L, 6, "humidity", &n);
    const hf_history given = {n, time, temperature, regain, humidity, (size_t)passes};
    memset(&columns, 0, sizeof columns);
    if (running) {
        double *block = lua_newuserdatauv(L, (size_t)2 * HF_CHANNELS * n * sizeof *block, 0);
        for (size_t i = 0; i < HF_CHANNELS; i++) {
            columns.first[i] = block + 2 * i * n;
            columns.last[i] = block + (2 * i + 1) * n;
        }
    }
    const hf_status status =
        hf_damage_along_history_e(&given, set, &damage, running ? &columns : NULL, &bad, &message);
    if (hf_failed(status)) {
        hfi_lua_fail(L, status, message.text);
        lua_pushinteger(L, (lua_Integer)bad + 1);
        return 4;
    }
    lua_createtable(L, 0, 7);
    field_numbers(L, "remaining", damage.remaining);
    field_numbers(L, "exposure", damage.exposure);
    field_numbers(L, "exposure_error", damage.exposure_error);
    field_numbers(L, "outside", damage.outside);
    lua_createtable(L, HF_CHANNELS, 0);
    for (int i = 0; i < HF_CHANNELS; i++) {
        lua_pushboolean(L, (damage.extrapolated >> i & 1u) != 0);
        lua_rawseti(L, -2, i + 1);
    }
    lua_setfield(L, -2, "extrapolated");
    if (running) {
        field_lists(L, "first", columns.first, n);
        field_lists(L, "last", columns.last, n);
    }
    return 1;
}

void hfi_lua_open_history(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"channels", channels}, {"history", history}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
}
