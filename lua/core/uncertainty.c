/* Propagation, rivals and sensitivity of quantities. Names and units are the Lua half's. */
#include "uncertainty.h"

#include <math.h>
#include <string.h>

static const hf_quantity *check_quantity(lua_State *L, int index)
{
    const lua_Integer i = luaL_checkinteger(L, index);
    const hf_quantity *q = i >= 1 ? hf_quantity_at((size_t)i - 1) : NULL;
    luaL_argcheck(L, q, index, "no such quantity");
    return q;
}

static void field_count(lua_State *L, const char *name, size_t x)
{
    lua_pushinteger(L, (lua_Integer)x);
    lua_setfield(L, -2, name);
}

/* Arguments as a table by place; a missing one takes its usual value. */
static void read_arguments(lua_State *L, int index, const hf_quantity *q, double *out)
{
    luaL_checktype(L, index, LUA_TTABLE);
    for (size_t i = 0; i < q->argument_count; i++) {
        lua_rawgeti(L, index, (lua_Integer)i + 1);
        out[i] = lua_isnil(L, -1) ? (double)NAN : luaL_checknumber(L, -1);
        lua_pop(L, 1);
    }
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

static const char *text_field(lua_State *L, int index, const char *name)
{
    lua_getfield(L, index, name);
    const char *text = lua_tostring(L, -1); /* the table keeps it alive */
    lua_pop(L, 1);
    return text;
}

static hf_distribution distribution_of(lua_State *L, const char *word)
{
    static const char *const words[] = {
#define WORD(id, text, meaning) text,
        HF_DISTRIBUTION_LIST(WORD)
#undef WORD
    };
    for (size_t i = 0; word && i < sizeof words / sizeof words[0]; i++)
        if (strcmp(words[i], word) == 0)
            return (hf_distribution)i;
    luaL_error(L, "no distribution is called \"%s\"", word ? word : "?");
    return HF_FIXED;
}

/* Field spreads of the options: { { argument = place, distribution =, spread =, low =, high = }, ... } */
static size_t read_spreads(lua_State *L, int options, hf_spread *out)
{
    size_t n = 0;
    lua_getfield(L, options, "spreads");
    if (lua_istable(L, -1)) {
        const size_t count = (size_t)lua_rawlen(L, -1);
        const int list = lua_gettop(L);
        for (; n < count && n < HF_ARGUMENTS_MAX; n++) {
            lua_rawgeti(L, list, (lua_Integer)n + 1);
            luaL_checktype(L, -1, LUA_TTABLE);
            const int one = lua_gettop(L);
            out[n] = (hf_spread){count_field(L, one, "argument", 0) - 1,
                                 distribution_of(L, text_field(L, one, "distribution")),
                                 number_field(L, one, "spread", 0),
                                 number_field(L, one, "low", (double)NAN),
                                 number_field(L, one, "high", (double)NAN)};
            lua_pop(L, 1);
        }
    }
    lua_pop(L, 1);
    return n;
}

static hf_draw_method read_method(lua_State *L, int options)
{
    const char *word = text_field(L, options, "method");
    for (int m = 0; word && m < HF_DRAW_METHODS; m++)
        if (strcmp(hf_draw_method_word((hf_draw_method)m), word) == 0)
            return (hf_draw_method)m;
    return word ? HF_DRAW_METHODS : HF_DRAW_SOBOL;
}

static void push_percentiles(lua_State *L, const hf_percentiles *p)
{
    lua_createtable(L, 0, 7);
    field_count(L, "n", p->n);
    field_count(L, "missing", p->missing);
    hfi_lua_field_number(L, "mean", p->mean);
    hfi_lua_field_number(L, "deviation", p->deviation);
    hfi_lua_field_number(L, "mean_error", p->mean_error);
    hfi_lua_push_list(L, p->value, HF_PERCENTILES);
    lua_setfield(L, -2, "value");
    hfi_lua_push_list(L, p->error, HF_PERCENTILES);
    lua_setfield(L, -2, "error");
}

/* percentiles(list [, blocks]) -> { n, missing, mean, deviation, mean_error, value = 5, error = 5 } at 2.5, 25, 50,
 * 75 and 97.5 %, or nil, message, code */
static int percentiles(lua_State *L)
{
    size_t n = 0;
    hf_percentiles p;
    const lua_Integer blocks = luaL_optinteger(L, 2, 1);
    const double *values = hfi_lua_doubles(L, 1, "values", &n);
    const hf_status status = hf_percentiles_of(n, values, blocks > 0 ? (size_t)blocks : 0, &p);
    if (status != HF_OK)
        return hfi_lua_fail(L, status,
                            status == HF_EDATA ? "percentiles need 8 numbers at least" : NULL);
    push_percentiles(L, &p);
    return 1;
}

/* share(events, n) -> share, low, high of a 95 % interval, or nil, message, code */
static int share(lua_State *L)
{
    const lua_Integer events = luaL_checkinteger(L, 1), n = luaL_checkinteger(L, 2);
    hf_share_interval s;
    const hf_status status =
        events < 0 || n < 0 ? HF_EINVAL : hf_share_of_draws_e((size_t)events, (size_t)n, &s);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, "a share needs one draw at least");
    lua_pushnumber(L, s.share);
    lua_pushnumber(L, s.low);
    lua_pushnumber(L, s.high);
    return 3;
}

/* propagate(index, set or nil, flags, arguments, options) -> { value, status, reason, inputs, failures,
 * extrapolated, blocks, method, values = list, percentiles = table or nil }, or nil, message, code. options:
 * draws, seed, method, parameters = boolean, spreads. */
static int propagate(lua_State *L)
{
    const hf_quantity *q = check_quantity(L, 1);
    const hf_parameters *set = hfi_lua_parameters(L, 2);
    const unsigned flags = (unsigned)luaL_checkinteger(L, 3);
    double argument[HF_ARGUMENTS_MAX];
    hf_spread spreads[HF_ARGUMENTS_MAX];
    luaL_checktype(L, 5, LUA_TTABLE);
    read_arguments(L, 4, q, argument);
    hf_propagation_options o = HF_PROPAGATION_OPTIONS_INIT;
    o.draws = count_field(L, 5, "draws", o.draws);
    o.seed = (uint64_t)count_field(L, 5, "seed", (size_t)o.seed);
    o.method = read_method(L, 5);
    o.spread_count = read_spreads(L, 5, spreads);
    o.spreads = spreads;
    lua_getfield(L, 5, "parameters");
    o.parameters = lua_isnil(L, -1) || lua_toboolean(L, -1);
    lua_pop(L, 1);
    const size_t room = o.draws < 1u << 24 ? o.draws : 0;
    double *values = lua_newuserdatauv(L, (room + 1) * sizeof *values, 0);
    hf_propagation r;
    hf_message message = {""};
    const hf_status status = hf_propagate(q, argument, set, flags, &o, values, &r, &message);
    if (hf_failed(status))
        return hfi_lua_fail(L, status, message.text);
    lua_createtable(L, 0, 10);
    hfi_lua_field_number(L, "value", r.value);
    hfi_lua_field_text(L, "status", hf_status_code(status));
    hfi_lua_field_text(L, "reason", message.text);
    field_count(L, "inputs", r.inputs);
    field_count(L, "draws", o.draws);
    field_count(L, "failures", r.failures);
    field_count(L, "extrapolated", r.extrapolated);
    field_count(L, "blocks", r.blocks);
    hfi_lua_field_text(L, "method", hf_draw_method_word(r.method));
    hfi_lua_push_list(L, values, o.draws);
    lua_setfield(L, -2, "values");
    hf_percentiles p;
    if (hf_percentiles_of(o.draws, values, r.blocks, &p) == HF_OK) {
        push_percentiles(L, &p);
        lua_setfield(L, -2, "percentiles");
    }
    return 1;
}

/* rivals(index, set or nil, flags, arguments) -> { { quantity, text, source, value or nil, status, reason }, ... };
 * those that give what was asked are left out */
static int rivals(lua_State *L)
{
    const hf_quantity *q = check_quantity(L, 1);
    const hf_parameters *set = hfi_lua_parameters(L, 2);
    const unsigned flags = (unsigned)luaL_checkinteger(L, 3);
    double argument[HF_ARGUMENTS_MAX];
    read_arguments(L, 4, q, argument);
    lua_newtable(L);
    lua_Integer n = 0;
    const hf_rival *rival;
    for (size_t i = 0; (rival = hf_rival_at(q, i)) != NULL; i++) {
        double y;
        hf_message message = {""};
        const hf_status status = hf_rival_evaluate(rival, q, argument, set, flags, &y, &message);
        if (status == HF_EDATA)
            continue;
        lua_createtable(L, 0, 6);
        hfi_lua_field_text(L, "quantity", rival->quantity);
        hfi_lua_field_text(L, "text", rival->text);
        hfi_lua_field_text(L, "source", rival->source);
        hfi_lua_field_text(L, "status", hf_status_code(status));
        hfi_lua_field_text(L, "reason", message.text);
        if (!hf_failed(status))
            hfi_lua_field_number(L, "value", y);
        lua_rawseti(L, -2, ++n);
    }
    return 1;
}

/* rival_changes(index) -> { { quantity, text, source, changes = { name = value } or nil }, ... }: every rival of a
 * quantity, with what it puts into the catalogue */
static int rival_changes(lua_State *L)
{
    const hf_quantity *q = check_quantity(L, 1);
    const hf_rival *rival;
    lua_newtable(L);
    for (size_t i = 0; (rival = hf_rival_at(q, i)) != NULL; i++) {
        lua_createtable(L, 0, 4);
        hfi_lua_field_text(L, "quantity", rival->quantity);
        hfi_lua_field_text(L, "text", rival->text);
        hfi_lua_field_text(L, "source", rival->source);
        if (rival->change_count) {
            lua_createtable(L, 0, (int)rival->change_count);
            for (size_t k = 0; k < rival->change_count; k++)
                hfi_lua_field_number(L, rival->change[k].parameter, rival->change[k].value);
            lua_setfield(L, -2, "changes");
        }
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

/* What an analysis works on: read from index, set, arguments, options at 1 .. 4. */
typedef struct subject {
    const hf_quantity *quantity;
    const hf_parameters *set;
    double argument[HF_ARGUMENTS_MAX];
    hf_spread spreads[HF_ARGUMENTS_MAX];
    size_t spread_count;
} subject;

static subject read_subject(lua_State *L)
{
    subject s = {.quantity = check_quantity(L, 1), .set = hfi_lua_parameters(L, 2)};
    luaL_checktype(L, 4, LUA_TTABLE);
    read_arguments(L, 3, s.quantity, s.argument);
    s.spread_count = read_spreads(L, 4, s.spreads);
    return s;
}

/* Pushes { name, unit, value, spread, distribution }. */
static void push_factor(lua_State *L, const hf_factor *f)
{
    lua_createtable(L, 0, 12);
    hfi_lua_field_text(L, "name", f->name);
    hfi_lua_field_text(L, "unit", f->unit);
    hfi_lua_field_number(L, "value", f->value);
    hfi_lua_field_number(L, "spread", f->spread);
    hfi_lua_field_text(L, "distribution", hf_distribution_word(f->distribution));
}

static void push_summary(lua_State *L, const hf_sensitivity *s)
{
    lua_createtable(L, 0, 5);
    hfi_lua_field_number(L, "mean", s->mean);
    hfi_lua_field_number(L, "deviation", s->deviation);
    field_count(L, "evaluations", s->evaluations);
    field_count(L, "failures", s->failures);
    hfi_lua_field_text(L, "method", hf_draw_method_word(s->method));
}

static hf_factor *push_factors_block(lua_State *L, const subject *s, size_t *count,
                                     hf_status *status, hf_message *message)
{
    hf_factor *factor = lua_newuserdatauv(L, HF_INPUTS_MAX * sizeof *factor, 0);
    *status = hf_quantity_factors(s->quantity, s->argument, s->set, s->spreads, s->spread_count,
                                  factor, count, message);
    return factor;
}

hf_sensitivity_options hfi_lua_sensitivity_options(lua_State *L, int index)
{
    hf_sensitivity_options o = HF_SENSITIVITY_OPTIONS_INIT;
    o.samples = count_field(L, index, "samples", o.samples);
    o.seed = (uint64_t)count_field(L, index, "seed", (size_t)o.seed);
    o.method = read_method(L, index);
    o.bootstrap = count_field(L, index, "bootstrap", o.bootstrap);
    o.level = number_field(L, index, "level", o.level);
    return o;
}

hf_screening_options hfi_lua_screening_options(lua_State *L, int index)
{
    hf_screening_options o = HF_SCREENING_OPTIONS_INIT;
    o.tours = count_field(L, index, "tours", o.tours);
    o.levels = count_field(L, index, "levels", o.levels);
    o.seed = (uint64_t)count_field(L, index, "seed", (size_t)o.seed);
    return o;
}

int hfi_lua_push_indices(lua_State *L, const hf_factor *factor, const hf_index *index, size_t n,
                         const hf_sensitivity *summary)
{
    lua_createtable(L, (int)n, 0);
    for (size_t i = 0; i < n; i++) {
        push_factor(L, &factor[i]);
        hfi_lua_field_number(L, "first", index[i].first);
        hfi_lua_field_number(L, "first_low", index[i].first_low);
        hfi_lua_field_number(L, "first_high", index[i].first_high);
        hfi_lua_field_number(L, "total", index[i].total);
        hfi_lua_field_number(L, "total_low", index[i].total_low);
        hfi_lua_field_number(L, "total_high", index[i].total_high);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    push_summary(L, summary);
    return 2;
}

int hfi_lua_push_effects(lua_State *L, const hf_factor *factor, const hf_effect *effect, size_t n,
                         const hf_sensitivity *summary)
{
    lua_createtable(L, (int)n, 0);
    for (size_t i = 0; i < n; i++) {
        push_factor(L, &factor[i]);
        hfi_lua_field_number(L, "mean", effect[i].mean);
        hfi_lua_field_number(L, "size", effect[i].size);
        hfi_lua_field_number(L, "deviation", effect[i].deviation);
        hfi_lua_field_number(L, "size_error", effect[i].size_error);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    push_summary(L, summary);
    return 2;
}

/* sobol(index, set or nil, arguments, options) -> list of factors with first, first_low, first_high, total,
 * total_low, total_high; summary. Or nil, message, code. options: samples, seed, method, bootstrap, level, spreads */
static int sobol(lua_State *L)
{
    const subject s = read_subject(L);
    const hf_sensitivity_options o = hfi_lua_sensitivity_options(L, 4);
    hf_message message = {""};
    hf_status status;
    size_t n;
    const hf_factor *factor = push_factors_block(L, &s, &n, &status, &message);
    hf_index *index = lua_newuserdatauv(L, HF_INPUTS_MAX * sizeof *index, 0);
    hf_sensitivity summary;
    if (status == HF_OK)
        status = hf_quantity_sobol_indices(s.quantity, s.argument, s.set, s.spreads, s.spread_count,
                                           &o, index, &summary, &message);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message.text);
    return hfi_lua_push_indices(L, factor, index, n, &summary);
}

/* morris(index, set or nil, arguments, options) -> list of factors with mean, size, deviation, size_error; summary.
 * Or nil, message, code. options: tours, levels, seed, spreads */
static int morris(lua_State *L)
{
    const subject s = read_subject(L);
    const hf_screening_options o = hfi_lua_screening_options(L, 4);
    hf_message message = {""};
    hf_status status;
    size_t n;
    const hf_factor *factor = push_factors_block(L, &s, &n, &status, &message);
    hf_effect *effect = lua_newuserdatauv(L, HF_INPUTS_MAX * sizeof *effect, 0);
    hf_sensitivity summary;
    if (status == HF_OK)
        status = hf_quantity_morris_effects(s.quantity, s.argument, s.set, s.spreads,
                                            s.spread_count, &o, effect, &summary, &message);
    if (status != HF_OK)
        return hfi_lua_fail(L, status, message.text);
    return hfi_lua_push_effects(L, factor, effect, n, &summary);
}

void hfi_lua_open_uncertainty(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"percentiles", percentiles},
        {"share", share},
        {"propagate", propagate},
        {"rivals", rivals},
        {"rival_changes", rival_changes},
        {"sobol", sobol},
        {"morris", morris},
        {NULL, NULL},
    };
    luaL_setfuncs(L, functions, 0);
}
