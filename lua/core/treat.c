/* Treatments: a userdata over hf_simulation. Names, units and defaults are the Lua half's. */
#include "core.h"

#include <hairfibre/treatment.h>
#include <hairfibre/vapour.h>

#include <math.h>
#include <stddef.h>
#include <string.h>

#define KIND "hairfibre.simulation"

volatile sig_atomic_t hfi_lua_stop;
volatile sig_atomic_t hfi_lua_busy;

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

/* A field of a C structure that a Lua table may set. */
typedef struct field {
    const char *name;
    size_t offset;
} field;

/* Reads the numbers of the table at `index` into the doubles at `base`; unknown names raise. */
static void read_fields(lua_State *L, int index, const char *what, const field *fields, void *base)
{
    luaL_checktype(L, index, LUA_TTABLE);
    lua_pushnil(L);
    while (lua_next(L, index)) {
        if (lua_type(L, -2) != LUA_TSTRING || lua_type(L, -1) != LUA_TNUMBER)
            luaL_error(L, "%s: every field is a name with a number", what);
        const char *name = lua_tostring(L, -2);
        const field *f = fields;
        while (f->name && strcmp(f->name, name) != 0)
            f++;
        if (!f->name)
            luaL_error(L, "%s has no field \"%s\"", what, name);
        const double value = lua_tonumber(L, -1);
        memcpy((char *)base + f->offset, &value, sizeof value);
        lua_pop(L, 1);
    }
}

/* All numbers as doubles; the whole ones are converted afterwards. */
typedef struct numbers {
    hf_fibre_description fibre;
    hf_room room;
    double branch, law, cells, tolerance, lumped, samples, zones, keep_profiles, max_steps;
} numbers;

static const field fibre_fields[] = {
    {"diameter", offsetof(numbers, fibre.diameter)},
    {"measured_humidity", offsetof(numbers, fibre.measured_humidity)},
    {"ellipticity", offsetof(numbers, fibre.ellipticity)},
    {"medulla", offsetof(numbers, fibre.medulla)},
    {"temperature", offsetof(numbers, fibre.temperature)},
    {"humidity", offsetof(numbers, fibre.humidity)},
    {"regain", offsetof(numbers, fibre.regain)},
    {"film", offsetof(numbers, fibre.film)},
    {"branch", offsetof(numbers, branch)},
    {"law", offsetof(numbers, law)},
    {NULL, 0},
};

static const field room_fields[] = {
    {"temperature", offsetof(numbers, room.temperature)},
    {"humidity", offsetof(numbers, room.humidity)},
    {"pressure", offsetof(numbers, room.pressure)},
    {NULL, 0},
};

static const field option_fields[] = {
    {"cells", offsetof(numbers, cells)},         {"tolerance", offsetof(numbers, tolerance)},
    {"lumped", offsetof(numbers, lumped)},       {"samples", offsetof(numbers, samples)},
    {"zones", offsetof(numbers, zones)},         {"profiles", offsetof(numbers, keep_profiles)},
    {"max_steps", offsetof(numbers, max_steps)}, {NULL, 0},
};

static size_t whole(double x) { return x >= 0 && x < 1e9 ? (size_t)x : 0; }

/* simulation(set or nil, fibre, room, options) -> object, or nil, message, code */
static int new_simulation(lua_State *L)
{
    static const hf_fibre_description usual_fibre = HF_FIBRE_DESCRIPTION_INIT;
    static const hf_room usual_room = HF_ROOM_INIT;
    static const hf_simulation_options usual = HF_SIMULATION_OPTIONS_INIT;
    lua_settop(L, 4);
    const hf_parameters *set = hfi_lua_parameters(L, 1);
    numbers n = {.fibre = usual_fibre,
                 .room = usual_room,
                 .branch = usual_fibre.branch,
                 .law = usual_fibre.diffusion_law,
                 .cells = (double)usual.cells,
                 .tolerance = usual.tolerance,
                 .samples = (double)usual.samples,
                 .zones = (double)usual.zones,
                 .keep_profiles = 1,
                 .max_steps = (double)usual.max_steps};
    read_fields(L, 2, "fibre", fibre_fields, &n);
    read_fields(L, 3, "room", room_fields, &n);
    read_fields(L, 4, "options", option_fields, &n);
    n.fibre.branch = n.branch > 0 ? HF_DESORPTION : HF_ABSORPTION;
    n.fibre.diffusion_law = (int)whole(n.law);
    const hf_simulation_options options = {.cells = whole(n.cells),
                                           .tolerance = n.tolerance,
                                           .lumped = n.lumped > 0,
                                           .samples = whole(n.samples),
                                           .zones = whole(n.zones),
                                           .keep_profiles = n.keep_profiles > 0,
                                           .max_steps = whole(n.max_steps),
                                           .stop = &hfi_lua_stop};
    hf_message message = {""};
    box *b = push_box(L);
    hf_fibre *fibre = NULL;
    hf_status status = hf_fibre_new(&fibre, &n.fibre, set, &message);
    if (status == HF_OK)
        status = hf_simulation_new(&b->simulation, fibre, &n.room, &options, &message);
    hf_fibre_free(fibre);
    return status == HF_OK ? 1 : hfi_lua_fail(L, status, message.text);
}

#define STEP(name) {#name, offsetof(hf_step, name)}
static const field step_fields[] = {
    STEP(duration),      STEP(temperature), STEP(temperature_end), STEP(humidity),
    STEP(humidity_end),  STEP(speed),       STEP(air_share),       STEP(film),
    STEP(heat_transfer), STEP(sides),       STEP(passes),          STEP(interval),
    {NULL, 0},
};

/* Reads { kind = word, numbers = { ... } } at `index`. */
static hf_step read_step(lua_State *L, int index)
{
    lua_getfield(L, index, "kind");
    const char *word = luaL_checkstring(L, -1);
    hf_step_kind kind = (hf_step_kind)0;
    while (kind < HF_STEP_KINDS && strcmp(hf_step_word(kind), word) != 0)
        kind = (hf_step_kind)(kind + 1);
    if (kind == HF_STEP_KINDS)
        luaL_error(L, "no step is called \"%s\"", word);
    lua_pop(L, 1);
    hf_step step = HF_STEP_INIT(kind, 0.0);
    lua_getfield(L, index, "numbers");
    read_fields(L, lua_gettop(L), word, step_fields, &step);
    lua_pop(L, 1);
    return step;
}

/* simulation:run(list of steps) -> true, or nil, message, code. Steps are all checked first. */
static int run(lua_State *L)
{
    hf_simulation *s = check(L, 1);
    luaL_checktype(L, 2, LUA_TTABLE);
    const size_t n = (size_t)luaL_len(L, 2);
    hf_step *steps = lua_newuserdatauv(L, (n + 1) * sizeof *steps, 0);
    for (size_t i = 0; i < n; i++) {
        lua_geti(L, 2, (lua_Integer)i + 1);
        luaL_checktype(L, -1, LUA_TTABLE);
        steps[i] = read_step(L, lua_gettop(L));
        lua_pop(L, 1);
    }
    hfi_lua_stop = 0;
    hfi_lua_busy = 1;
    const hf_status status = hf_simulation_run(s, steps, n);
    hfi_lua_busy = 0;
    if (status != HF_OK)
        return hfi_lua_fail(L, status, hf_simulation_message(s));
    lua_pushboolean(L, 1);
    return 1;
}

static int copy(lua_State *L)
{
    const hf_simulation *from = check(L, 1);
    box *b = push_box(L);
    const hf_status status = hf_simulation_copy(&b->simulation, from);
    return status == HF_OK ? 1 : hfi_lua_fail(L, status, NULL);
}

static const char *kind_word(hf_kind kind)
{
    switch (kind) {
#define WORD(id, word)                                                                             \
    case id:                                                                                       \
        return word;
        HF_KIND_LIST(WORD)
#undef WORD
    }
    return "number";
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
        hfi_lua_field_text(L, "kind", kind_word(info->kind));
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

static int extrapolated(lua_State *L)
{
    lua_pushboolean(L, hf_simulation_extrapolated(check(L, 1)));
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
        {"run", run},         {"copy", copy},       {"columns", columns},
        {"events", events},   {"zones", zones},     {"statistics", statistics},
        {"profile", profile}, {"close", release},   {"extrapolated", extrapolated},
        {NULL, NULL},
    };
    hfi_lua_metatable(L, KIND, release, methods);
    lua_pop(L, 1);
    lua_pushcfunction(L, new_simulation);
    lua_setfield(L, -2, "simulation");
    lua_pushcfunction(L, grade);
    lua_setfield(L, -2, "void_grade");
}
