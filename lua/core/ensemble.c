/* Ensembles: a userdata over hf_ensemble. Files, units and words are the Lua half's. */
#include "treat.h"
#include "uncertainty.h"

#include <hairfibre/ensemble.h>

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define KIND "hairfibre.ensemble"

int hfi_lua_most_threads;

typedef struct box {
    hf_ensemble *ensemble;
} box;

static int release(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    hf_ensemble_free(b->ensemble);
    b->ensemble = NULL;
    return 0;
}

static hf_ensemble *check(lua_State *L, int index)
{
    box *b = luaL_checkudata(L, index, KIND);
    luaL_argcheck(L, b->ensemble, index, "this ensemble is closed");
    return b->ensemble;
}

static double number_field(lua_State *L, int index, const char *name, double usual)
{
    lua_getfield(L, index, name);
    const double x = lua_isnil(L, -1) ? usual : luaL_checknumber(L, -1);
    lua_pop(L, 1);
    return x;
}

static size_t count_field(lua_State *L, int index, const char *name, size_t usual)
{
    const double x = number_field(L, index, name, (double)usual);
    return x >= 0 && x < 9e15 ? (size_t)x : 0;
}

/* populations() -> { { name, text, source, place, known, area, area_spread, ellipticity, ellipticity_spread,
 * medulla_low, medulla_high }, ... } */
static int populations(lua_State *L)
{
    const hf_population *p;
    lua_newtable(L);
    for (size_t i = 0; (p = hf_population_at(i)) != NULL; i++) {
        lua_createtable(L, 0, 11);
        hfi_lua_field_text(L, "name", p->name);
        hfi_lua_field_text(L, "text", p->text);
        hfi_lua_field_text(L, "source", p->source);
        hfi_lua_field_text(L, "place", p->place);
        hfi_lua_field_text(L, "known", hf_known_word(p->known));
        hfi_lua_field_number(L, "area", p->area);
        hfi_lua_field_number(L, "area_spread", p->area_spread);
        hfi_lua_field_number(L, "ellipticity", p->ellipticity);
        hfi_lua_field_number(L, "ellipticity_spread", p->ellipticity_spread);
        hfi_lua_field_number(L, "medulla_low", p->medulla_low);
        hfi_lua_field_number(L, "medulla_high", p->medulla_high);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

/* Field population of the plan: a table of numbers, or nil. */
static int read_population(lua_State *L, int plan, hf_population *out)
{
    lua_getfield(L, plan, "population");
    const int given = lua_istable(L, -1), at = lua_gettop(L);
    if (given)
        *out = (hf_population){.name = "",
                               .text = "",
                               .source = "",
                               .place = "",
                               .known = HF_ASSUMED,
                               .area = number_field(L, at, "area", (double)NAN),
                               .area_spread = number_field(L, at, "area_spread", 0),
                               .ellipticity = number_field(L, at, "ellipticity", 1),
                               .ellipticity_spread = number_field(L, at, "ellipticity_spread", 0),
                               .medulla_low = number_field(L, at, "medulla_low", 0),
                               .medulla_high = number_field(L, at, "medulla_high", 0)};
    lua_pop(L, 1);
    return given;
}

/* A plan read from set, fibre, room, options, steps and plan at 1 .. 6. */
static const hf_parameters *read_plan(lua_State *L, hf_ensemble_plan *plan,
                                      hf_population *population)
{
    const hf_ensemble_plan usual = HF_ENSEMBLE_PLAN_INIT;
    *plan = usual;
    luaL_checktype(L, 6, LUA_TTABLE);
    const hf_parameters *set = hfi_lua_parameters(L, 1);
    hfi_lua_subject subject = {plan->fibre, plan->room, plan->simulation};
    hfi_lua_read_subject(L, 2, 3, 4, &subject);
    plan->fibre = subject.fibre;
    plan->room = subject.room;
    plan->simulation = subject.options;
    plan->steps = hfi_lua_read_steps(L, 5, &plan->step_count);
    plan->population = read_population(L, 6, population) ? population : NULL;
    plan->within_head = number_field(L, 6, "within_head", (double)NAN);
    plan->strands = count_field(L, 6, "strands", 0);
    plan->part = count_field(L, 6, "part", 1);
    plan->parts = count_field(L, 6, "parts", 1);
    plan->seed = (uint64_t)count_field(L, 6, "seed", 1);
    plan->pull = number_field(L, 6, "pull", (double)NAN);
    lua_getfield(L, 6, "draw_parameters");
    plan->draw_parameters = lua_toboolean(L, -1);
    lua_pop(L, 1);
    return set;
}

/* ensemble(set or nil, fibre, room, options, steps, plan) -> object, or nil, message, code. plan: strands, part,
 * parts, seed, population, within_head, draw_parameters, pull */
static int new_ensemble(lua_State *L)
{
    hf_ensemble_plan plan;
    hf_population population;
    lua_settop(L, 6);
    const hf_parameters *set = read_plan(L, &plan, &population);
    hf_message message = {""};
    box *b = lua_newuserdatauv(L, sizeof *b, 0);
    b->ensemble = NULL;
    luaL_setmetatable(L, KIND);
    const hf_status status = hf_ensemble_new(&b->ensemble, &plan, set, &message);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message.text);
    hfi_lua_weigh(L, hf_ensemble_count(b->ensemble) * HF_STRAND_COLUMNS * sizeof(double));
    return 1;
}

/* decide(the six of ensemble, place of the column, options) -> list of factors, summary as of sobol or morris; or nil,
 * message, code. options: method "morris", or as of sobol */
static int decide(lua_State *L)
{
    hf_ensemble_plan plan;
    hf_population population;
    lua_settop(L, 8);
    luaL_checktype(L, 8, LUA_TTABLE);
    const lua_Integer place = luaL_checkinteger(L, 7);
    const hf_strand_column answer = (hf_strand_column)(place >= 1 ? place - 1 : HF_STRAND_COLUMNS);
    lua_getfield(L, 8, "method");
    const char *method = lua_tostring(L, -1);
    const int screens = method && strcmp(method, "morris") == 0;
    lua_pop(L, 1);
    hf_sensitivity_options o = HF_SENSITIVITY_OPTIONS_INIT;
    hf_screening_options screening = HF_SCREENING_OPTIONS_INIT;
    if (screens)
        screening = hfi_lua_screening_options(L, 8);
    else
        o = hfi_lua_sensitivity_options(L, 8);
    const hf_parameters *set = read_plan(L, &plan, &population);
    hf_factor *factor = lua_newuserdatauv(L, HF_INPUTS_MAX * sizeof *factor, 0);
    hf_index *index = lua_newuserdatauv(L, HF_INPUTS_MAX * sizeof *index, 0);
    hf_effect *effect = lua_newuserdatauv(L, HF_INPUTS_MAX * sizeof *effect, 0);
    hf_sensitivity summary;
    hf_message message = {""};
    size_t n = 0;
    hf_status status = hf_strand_factors(&plan, set, answer, factor, &n, &message);
    hfi_lua_begin();
    if (status == HF_OK && screens)
        status = hf_strand_morris_effects(&plan, set, answer, &screening, &hfi_lua_stop, effect,
                                          &summary, &message);
    else if (status == HF_OK)
        status = hf_strand_sobol_indices(&plan, set, answer, &o, &hfi_lua_stop, index, &summary,
                                         &message);
    hfi_lua_end();
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message.text);
    return screens ? hfi_lua_push_effects(L, factor, effect, n, &summary)
                   : hfi_lua_push_indices(L, factor, index, n, &summary);
}

/* One line that is written over, for a person at a terminal. */
static void show_progress(const hf_progress *p, void *user)
{
    (void)user;
    char remaining[32] = "";
    if (p->remaining >= 90)
        snprintf(remaining, sizeof remaining, ", %.0f min left", p->remaining / 60);
    else if (isfinite(p->remaining))
        snprintf(remaining, sizeof remaining, ", %.0f s left", p->remaining);
    fprintf(stderr, "\r%zu of %zu strands, %.0f per second%s        %s", p->done, p->count, p->rate,
            remaining, p->done == p->count ? "\n" : "");
    fflush(stderr);
}

/* ensemble:run(threads, seconds, progress) -> true, or nil, message, code: "stopped" on request, "time" when the
 * seconds are over */
static int run(lua_State *L)
{
    hf_ensemble *e = check(L, 1);
    hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
    const lua_Integer threads = luaL_optinteger(L, 2, 0);
    luaL_argcheck(L, threads >= 0 && threads <= 4096, 2, "threads must lie between 0 and 4096");
    control.threads = (int)threads;
    if (hfi_lua_most_threads > 0 && control.threads > hfi_lua_most_threads)
        control.threads = hfi_lua_most_threads;
    control.seconds = luaL_optnumber(L, 3, 0);
    control.stop = &hfi_lua_stop;
    control.progress = lua_toboolean(L, 4) && isatty(STDERR_FILENO) ? show_progress : NULL;
    hfi_lua_begin();
    const hf_status status = hf_ensemble_run(e, &control);
    hfi_lua_end();
    if (status == HF_ESTOPPED && !hfi_lua_stop)
        return hfi_lua_fail_word(L, "time",
                                 "the time for this stretch is over; what is done is kept");
    if (status != HF_OK)
        return hfi_lua_fail(L, status,
                            status == HF_ESTOPPED ? "stopped; what is done is kept" : NULL);
    lua_pushboolean(L, 1);
    return 1;
}

/* ensemble:first(), :count(), :done() */
static int first(lua_State *L)
{
    lua_pushinteger(L, (lua_Integer)hf_ensemble_first(check(L, 1)) + 1);
    return 1;
}

static int count(lua_State *L)
{
    lua_pushinteger(L, (lua_Integer)hf_ensemble_count(check(L, 1)));
    return 1;
}

static int done(lua_State *L)
{
    lua_pushinteger(L, (lua_Integer)hf_ensemble_done(check(L, 1)));
    return 1;
}

/* ensemble:digest() -> 16 hexadecimal digits */
static int digest(lua_State *L)
{
    char text[17];
    hf_ensemble_digest(check(L, 1), text);
    lua_pushstring(L, text);
    return 1;
}

/* ensemble:options() -> { cells, tolerance, lumped, samples, zones, max_steps } in use */
static int options(lua_State *L)
{
    hfi_lua_push_options(L, &hf_ensemble_get_plan(check(L, 1))->simulation);
    return 1;
}

/* ensemble:message() -> sentence about the first strand that failed, or "" */
static int message(lua_State *L)
{
    lua_pushstring(L, hf_ensemble_message(check(L, 1)));
    return 1;
}

/* strand_columns() -> { { name, unit, kind, text }, ... } */
static int strand_columns(lua_State *L)
{
    lua_createtable(L, HF_STRAND_COLUMNS, 0);
    for (size_t c = 0; c < HF_STRAND_COLUMNS; c++) {
        const hf_column_info *info = hf_strand_column_at(c);
        lua_createtable(L, 0, 4);
        hfi_lua_field_text(L, "name", info->name);
        hfi_lua_field_text(L, "unit", info->unit);
        hfi_lua_field_text(L, "kind", hfi_lua_kind_word(info->kind));
        hfi_lua_field_text(L, "text", info->text);
        lua_rawseti(L, -2, (lua_Integer)c + 1);
    }
    return 1;
}

/* ensemble:column(place) -> list over the strands that are done */
static int column(lua_State *L)
{
    const hf_ensemble *e = check(L, 1);
    const lua_Integer place = luaL_checkinteger(L, 2);
    const double *values = place >= 1 ? hf_ensemble_column(e, (hf_strand_column)(place - 1)) : NULL;
    luaL_argcheck(L, values, 2, "no such column");
    const size_t n = hf_ensemble_count(e), kept = hf_ensemble_done(e);
    lua_Integer at = 0;
    lua_createtable(L, kept < 1 << 24 ? (int)kept : 0, 0);
    for (size_t i = 0; i < n; i++)
        if (hf_ensemble_is_done(e, i)) {
            lua_pushnumber(L, values[i]);
            lua_rawseti(L, -2, ++at);
        }
    return 1;
}

/* ensemble:put(list of numbers) -> true, or nil, message, code */
static int put(lua_State *L)
{
    hf_ensemble *e = check(L, 1);
    double row[HF_STRAND_COLUMNS];
    luaL_checktype(L, 2, LUA_TTABLE);
    for (int c = 0; c < HF_STRAND_COLUMNS; c++) {
        lua_rawgeti(L, 2, c + 1);
        row[c] = lua_type(L, -1) == LUA_TNUMBER ? lua_tonumber(L, -1) : (double)NAN;
        lua_pop(L, 1);
    }
    const hf_status status = hf_ensemble_put(e, row);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, "a strand that is not of this part");
    lua_pushboolean(L, 1);
    return 1;
}

void hfi_lua_open_ensemble(lua_State *L)
{
    static const luaL_Reg methods[] = {
        {"run", run},         {"first", first},     {"count", count},   {"done", done},
        {"digest", digest},   {"message", message}, {"column", column}, {"put", put},
        {"options", options}, {"close", release},   {NULL, NULL},
    };
    static const luaL_Reg functions[] = {
        {"ensemble", new_ensemble},         {"decide", decide}, {"populations", populations},
        {"strand_columns", strand_columns}, {NULL, NULL},
    };
    luaL_setfuncs(L, functions, 0);
    hfi_lua_metatable(L, KIND, release, methods);
    lua_pop(L, 1);
}
