/* Descriptors of the quantities as Lua tables. */
#include "core.h"

#include <math.h>

static const char *kind_word(hf_kind kind)
{
    switch (kind) {
#define CASE(name, word)                                                                           \
    case name:                                                                                     \
        return word;
        HF_KIND_LIST(CASE)
#undef CASE
    }
    return "number";
}

/* A bound or usual value: what is not a number is left out, infinity stays. */
static void field_bound(lua_State *L, const char *name, double x)
{
    if (!isnan(x))
        hfi_lua_field_number(L, name, x);
}

static void push_argument(lua_State *L, const hf_argument *a)
{
    lua_createtable(L, 0, 10);
    hfi_lua_field_text(L, "name", a->name);
    hfi_lua_field_text(L, "unit", a->unit);
    hfi_lua_field_text(L, "text", a->text);
    hfi_lua_field_text(L, "kind", kind_word(a->kind));
    field_bound(L, "usual", a->usual);
    field_bound(L, "domain_low", a->domain_low);
    field_bound(L, "domain_high", a->domain_high);
    field_bound(L, "valid_low", a->valid_low);
    field_bound(L, "valid_high", a->valid_high);
    if (a->kind == HF_KIND_CHOICE) {
        hfi_lua_words(L, a->choices);
        lua_setfield(L, -2, "choices");
    }
}

static void push_quantity(lua_State *L, const hf_quantity *q, size_t index)
{
    lua_createtable(L, 0, 16);
    lua_pushinteger(L, (lua_Integer)index + 1);
    lua_setfield(L, -2, "index");
    hfi_lua_field_text(L, "name", q->name);
    hfi_lua_field_text(L, "unit", q->unit);
    hfi_lua_field_text(L, "text", q->text);
    hfi_lua_field_text(L, "kind", kind_word(q->kind));
    hfi_lua_field_text(L, "room", q->room);
    hfi_lua_field_text(L, "equation", q->equation ? q->equation : "");
    hfi_lua_field_text(L, "leaves_out", q->leaves_out ? q->leaves_out : "");
    hfi_lua_words(L, q->sources);
    lua_setfield(L, -2, "sources");
    hfi_lua_field_text(L, "known", hf_known_word(q->known));
    hfi_lua_words(L, q->parameters);
    lua_setfield(L, -2, "parameters");
    hfi_lua_field_number(L, "equation_spread", q->equation_spread);
    lua_createtable(L, 0, 2);
    lua_pushboolean(L, (q->cautions & HF_CAUTION_HEAT) != 0);
    lua_setfield(L, -2, "heat");
    lua_pushboolean(L, (q->cautions & HF_CAUTION_CHEMICAL) != 0);
    lua_setfield(L, -2, "chemical");
    lua_setfield(L, -2, "cautions");
    lua_pushboolean(L, q->evaluate != NULL);
    lua_setfield(L, -2, "has_model");
    lua_createtable(L, (int)q->argument_count, 0);
    for (size_t i = 0; i < q->argument_count; i++) {
        push_argument(L, &q->arguments[i]);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    lua_setfield(L, -2, "arguments");
}

/* quantities() -> list of descriptors, made anew at each call */
static int quantities(lua_State *L)
{
    const hf_quantity *q;
    lua_newtable(L);
    for (size_t i = 0; (q = hf_quantity_at(i)) != NULL; i++) {
        push_quantity(L, q, i);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

void hfi_lua_open_descriptor(lua_State *L)
{
    static const luaL_Reg functions[] = {{"quantities", quantities}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
}
