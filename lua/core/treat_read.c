/* Tables of Lua as fibres, rooms, options and steps. */
#include "treat.h"

#include <stddef.h>
#include <string.h>

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

static size_t whole(double x)
{
    return x >= 0 && x < 1e9 ? (size_t)x : 0;
}

void hfi_lua_read_subject(lua_State *L, int fibre, int room, int options, hfi_lua_subject *out)
{
    const hf_simulation_options usual = out->options;
    numbers n = {.fibre = out->fibre,
                 .room = out->room,
                 .branch = out->fibre.branch,
                 .law = out->fibre.diffusion_law,
                 .cells = (double)usual.cells,
                 .tolerance = usual.tolerance,
                 .lumped = usual.lumped,
                 .samples = (double)usual.samples,
                 .zones = (double)usual.zones,
                 .keep_profiles = usual.keep_profiles,
                 .max_steps = (double)usual.max_steps};
    read_fields(L, fibre, "fibre", fibre_fields, &n);
    read_fields(L, room, "room", room_fields, &n);
    read_fields(L, options, "options", option_fields, &n);
    out->fibre = n.fibre;
    out->fibre.branch = n.branch > 0 ? HF_DESORPTION : HF_ABSORPTION;
    out->fibre.diffusion_law = (int)whole(n.law);
    out->room = n.room;
    out->options = (hf_simulation_options){.cells = whole(n.cells),
                                           .tolerance = n.tolerance,
                                           .lumped = n.lumped > 0,
                                           .samples = whole(n.samples),
                                           .zones = whole(n.zones),
                                           .keep_profiles = n.keep_profiles > 0,
                                           .max_steps = whole(n.max_steps),
                                           .stop = usual.stop};
}

#define STEP(name)                                                                                 \
    {                                                                                              \
#name, offsetof(hf_step, name)                                                             \
    }
static const field step_fields[] = {
    STEP(duration),
    STEP(temperature),
    STEP(temperature_end),
    STEP(humidity),
    STEP(humidity_end),
    STEP(speed),
    STEP(air_share),
    STEP(film),
    STEP(heat_transfer),
    STEP(sides),
    STEP(passes),
    STEP(interval),
    STEP(ph),
    STEP(ionic_strength),
    STEP(concentration),
    STEP(peroxide),
    STEP(law),
    STEP(cycles),
    STEP(stress),
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

hf_step *hfi_lua_read_steps(lua_State *L, int index, size_t *count)
{
    luaL_checktype(L, index, LUA_TTABLE);
    const size_t n = (size_t)luaL_len(L, index);
    hf_step *steps = lua_newuserdatauv(L, (n + 1) * sizeof *steps, 0);
    for (size_t i = 0; i < n; i++) {
        lua_geti(L, index, (lua_Integer)i + 1);
        luaL_checktype(L, -1, LUA_TTABLE);
        steps[i] = read_step(L, lua_gettop(L));
        lua_pop(L, 1);
    }
    *count = n;
    return steps;
}

const char *hfi_lua_kind_word(hf_kind kind)
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

void hfi_lua_push_options(lua_State *L, const hf_simulation_options *o)
{
    const struct {
        const char *name;
        size_t value;
    } count[] = {{"cells", o->cells},
                 {"samples", o->samples},
                 {"zones", o->zones},
                 {"max_steps", o->max_steps}};
    lua_createtable(L, 0, 6);
    for (size_t i = 0; i < sizeof count / sizeof count[0]; i++) {
        lua_pushinteger(L, (lua_Integer)count[i].value);
        lua_setfield(L, -2, count[i].name);
    }
    hfi_lua_field_number(L, "tolerance", o->tolerance);
    lua_pushboolean(L, o->lumped);
    lua_setfield(L, -2, "lumped");
}
