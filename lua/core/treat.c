/* Treatments: a userdata over hf_simulation. Names, units and defaults are the Lua half's. */
#include "treat.h"

#include <hairfibre/vapour.h>

#include <math.h>

#define KIND "hairfibre.simulation"

typedef struct box {
    hf_simulation *simulation;
} box;

static int release(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    hf_simulation_free(b->simulation);
    b->simulation = NULL;
    return 0;
}

static hf_simulation *check(lua_State *L, int index)
{
    box *b = luaL_checkudata(L, index, KIND);
    luaL_argcheck(L, b->simulation, index, "this simulation is closed");
    return b->simulation;
}

static box *push_box(lua_State *L)
{
    box *b = lua_newuserdatauv(L, sizeof *b, 0);
    b->simulation = NULL;
    luaL_setmetatable(L, KIND);
    return b;
}

/* simulation(set or nil, fibre, room, options) -> object, or nil, message, code */
static int new_simulation(lua_State *L)
{
    hfi_lua_subject subject = {HF_FIBRE_DESCRIPTION_INIT, HF_ROOM_INIT, HF_SIMULATION_OPTIONS_INIT};
    lua_settop(L, 4);
    const hf_parameters *set = hfi_lua_parameters(L, 1);
    subject.options.stop = &hfi_lua_stop;
    hfi_lua_read_subject(L, 2, 3, 4, &subject);
    hf_message message = {""};
    box *b = push_box(L);
    hf_fibre *fibre = NULL;
    hf_status status = hf_fibre_new(&fibre, &subject.fibre, set, &message);
    if (status == HF_OK)
        status =
            hf_simulation_new(&b->simulation, fibre, &subject.room, &subject.options, &message);
    hf_fibre_free(fibre);
    return status == HF_OK ? 1 : hfi_lua_fail(L, status, message.text);
}

/* simulation:run(list of steps) -> true, or nil, message, code. Steps are all checked first. */
static int run(lua_State *L)
{
    hf_simulation *s = check(L, 1);
    size_t n;
    const hf_step *steps = hfi_lua_read_steps(L, 2, &n);
    hfi_lua_begin();
    const hf_status status = hf_simulation_run(s, steps, n);
    hfi_lua_end();
    if (status != HF_OK)
        return hfi_lua_fail(L, status, hf_simulation_message(s));
    hfi_lua_weigh(L, hf_simulation_samples(s) * HF_COLUMNS * sizeof(double));
    lua_pushboolean(L, 1);
    return 1;
}

/* simulation:options() -> those in use */
static int options(lua_State *L)
{
    hfi_lua_push_options(L, hf_simulation_get_options(check(L, 1)));
    return 1;
}

static int copy(lua_State *L)
{
    const hf_simulation *from = check(L, 1);
    box *b = push_box(L);
    const hf_status status = hf_simulation_copy(&b->simulation, from);
    return status == HF_OK ? 1 : hfi_lua_fail(L, status, NULL);
}

/* simulation:columns() -> { { name =, unit =, kind =, text =, values = list }, ... } */
static int columns(lua_State *L)
{
    const hf_simulation *s = check(L, 1);
    const size_t n = hf_simulation_samples(s);
    lua_createtable(L, HF_COLUMNS, 0);
    for (int c = 0; c < HF_COLUMNS; c++) {
        const hf_column_info *info = hf_column_at((size_t)c);
        lua_createtable(L, 0, 5);
        hfi_lua_field_text(L, "name", info->name);
        hfi_lua_field_text(L, "unit", info->unit);
        hfi_lua_field_text(L, "kind", hfi_lua_kind_word(info->kind));
        hfi_lua_field_text(L, "text", info->text);
        hfi_lua_push_list(L, hf_simulation_column(s, (hf_column)c), n);
        lua_setfield(L, -2, "values");
        lua_rawseti(L, -2, c + 1);
    }
    return 1;
}

/* simulation:events() -> { { what =, time =, step = }, ... } */
static int events(lua_State *L)
{
    const hf_simulation *s = check(L, 1);
    hf_event event;
    lua_newtable(L);
    for (size_t i = 0; hf_simulation_event(s, i, &event) == HF_OK; i++) {
        lua_createtable(L, 0, 3);
        hfi_lua_field_text(L, "what", hf_event_word(event.kind));
        hfi_lua_field_number(L, "time", event.time);
        lua_pushinteger(L, (lua_Integer)event.step);
        lua_setfield(L, -2, "step");
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

static void field_count(lua_State *L, const char *name, size_t x)
{
    lua_pushinteger(L, (lua_Integer)x);
    lua_setfield(L, -2, name);
}

static int statistics(lua_State *L)
{
    hf_simulation_statistics q;
    hf_simulation_get_statistics(check(L, 1), &q);
    lua_createtable(L, 0, 10);
    field_count(L, "steps", q.steps);
    field_count(L, "rejected", q.rejected);
    field_count(L, "rates", q.rates);
    field_count(L, "jacobians", q.jacobians);
    field_count(L, "factors", q.factors);
    field_count(L, "solves", q.solves);
    field_count(L, "samples", q.samples);
    field_count(L, "bytes", q.bytes);
    hfi_lua_field_number(L, "water_error", q.water_error);
    hfi_lua_field_number(L, "energy_error", q.energy_error);
    return 1;
}

/* simulation:profile(sample) -> radii, regains, temperatures; or nil, message, code */
static int profile(lua_State *L)
{
    const hf_simulation *s = check(L, 1);
    const lua_Integer sample = luaL_checkinteger(L, 2);
    luaL_argcheck(L, sample >= 1, 2, "samples count from 1");
    const size_t n = hf_simulation_cells(s);
    double *block = lua_newuserdatauv(L, 3 * n * sizeof *block, 0);
    const hf_status status =
        hf_simulation_profile(s, (size_t)sample - 1, block, block + n, block + 2 * n);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, status == HF_EDATA ? "profiles were not kept" : NULL);
    for (size_t i = 0; i < 3; i++)
        hfi_lua_push_list(L, block + i * n, n);
    return 3;
}

/* simulation:zones() -> { { radius =, growth =, channels = { list } }, ... } as they are now */
static int zones(lua_State *L)
{
    const hf_simulation *s = check(L, 1);
    lua_newtable(L);
    for (size_t z = 0; z < hf_simulation_zones(s); z++) {
        lua_createtable(L, 0, 3);
        hfi_lua_field_number(L, "radius", hf_simulation_zone_radius(s, z));
        hfi_lua_field_number(L, "growth", hf_simulation_zone_growth(s, z));
        lua_createtable(L, HF_CHANNELS, 0);
        for (int c = 0; c < HF_CHANNELS; c++) {
            lua_pushnumber(L, hf_simulation_zone_channel(s, z, (hf_channel)c));
            lua_rawseti(L, -2, c + 1);
        }
        lua_setfield(L, -2, "channels");
        lua_rawseti(L, -2, (lua_Integer)z + 1);
    }
    return 1;
}

/* simulation:sulfur() -> the state of the sulfur now, mol of half-cystine per kg */
static int sulfur(lua_State *L)
{
    hf_sulfur now;
    const hf_status status = hf_simulation_sulfur(check(L, 1), &now);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    lua_createtable(L, 0, 4);
    hfi_lua_field_number(L, "cystine", now.cystine);
    hfi_lua_field_number(L, "thiol", now.thiol);
    hfi_lua_field_number(L, "cysteic", now.cysteic);
    hfi_lua_field_number(L, "lanthionine", now.lanthionine);
    return 1;
}

/* simulation:extrapolated() -> list of sentences, empty when nothing was */
static int extrapolated(lua_State *L)
{
    const int bits = hf_simulation_extrapolated(check(L, 1));
    lua_newtable(L);
    for (int bit = 1, n = 0; bit <= bits; bit *= 2)
        if (bits & bit) {
            lua_pushstring(L, hf_beyond_text(bit));
            lua_rawseti(L, -2, ++n);
        }
    return 1;
}

/* void_grade(growth, set or nil) -> plain words */
static int grade(lua_State *L)
{
    const double growth = luaL_checknumber(L, 1);
    lua_settop(L, 2);
    lua_pushstring(L, hf_void_grade(growth, hfi_lua_parameters(L, 2)));
    return 1;
}

void hfi_lua_open_treatment(lua_State *L)
{
    static const luaL_Reg methods[] = {
        {"run", run},
        {"copy", copy},
        {"columns", columns},
        {"options", options},
        {"events", events},
        {"zones", zones},
        {"statistics", statistics},
        {"profile", profile},
        {"sulfur", sulfur},
        {"close", release},
        {"extrapolated", extrapolated},
        {NULL, NULL},
    };
    hfi_lua_metatable(L, KIND, release, methods);
    lua_pop(L, 1);
    lua_pushcfunction(L, new_simulation);
    lua_setfield(L, -2, "simulation");
    lua_pushcfunction(L, grade);
    lua_setfield(L, -2, "void_grade");
}
