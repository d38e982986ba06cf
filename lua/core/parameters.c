/* Parameter sets: a userdata over hf_parameters, and the catalogue as Lua tables. */
#include "core.h"

#define KIND "hairfibre.parameters"

typedef struct box {
    hf_parameters *set;
} box;

static int release(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    hf_parameters_free(b->set);
    b->set = NULL;
    return 0;
}

/* What a set holds outside Lua, roughly: the value, the row and a mark for each parameter. */
static int heavy(lua_State *L)
{
    hfi_lua_weigh(L, hf_parameter_count() * (sizeof(double) + sizeof(void *) + 1));
    return 1;
}

static hf_parameters *check(lua_State *L, int index)
{
    box *b = luaL_checkudata(L, index, KIND);
    luaL_argcheck(L, b->set, index, "these parameters are closed");
    return b->set;
}

const hf_parameters *hfi_lua_parameters(lua_State *L, int index)
{
    return lua_isnoneornil(L, index) ? NULL : check(L, index);
}

/* Pushes an empty box, to be filled afterwards. */
static box *push_box(lua_State *L)
{
    box *b = lua_newuserdatauv(L, sizeof *b, 0);
    b->set = NULL;
    luaL_setmetatable(L, KIND);
    return b;
}

/* parameters([name]) -> object, or nil, message, code */
static int new_set(lua_State *L)
{
    const char *name = luaL_optstring(L, 1, NULL);
    box *b = push_box(L);
    const hf_status status = hf_parameters_new(&b->set, name);
    if (status == HF_ENAME)
        return hfi_lua_fail_word(L, hf_status_code(status), "no set of parameters is called \"%s\"",
                                 name);
    return status == HF_OK ? heavy(L) : hfi_lua_fail(L, status, NULL);
}

/* set:copy() */
static int copy(lua_State *L)
{
    const hf_parameters *from = check(L, 1);
    box *b = push_box(L);
    const hf_status status = hf_parameters_copy(&b->set, from);
    return status == HF_OK ? heavy(L) : hfi_lua_fail(L, status, NULL);
}

/* set:set(name, value) -> the object, or nil, message, code */
static int set_value(lua_State *L)
{
    hf_parameters *set = check(L, 1);
    const char *name = luaL_checkstring(L, 2);
    luaL_checktype(L, 3, LUA_TNUMBER);
    const hf_status status = hf_parameters_set(set, name, lua_tonumber(L, 3));
    if (status != HF_OK)
        return hfi_lua_fail(L, status, hf_parameters_message(set));
    lua_settop(L, 1);
    return 1;
}

/* set:set_fitted(names, values, covariance row after row, label) -> the object, or nil, message, code */
static int set_fitted(lua_State *L)
{
    hf_parameters *set = check(L, 1);
    luaL_checktype(L, 2, LUA_TTABLE);
    size_t n = (size_t)lua_rawlen(L, 2), cells = n * n;
    luaL_argcheck(L, n >= 1 && n <= HF_FITTED_MAX, 2, "needs 1 to 20 names");
    const char *names[HF_FITTED_MAX];
    for (size_t i = 0; i < n; i++) {
        lua_rawgeti(L, 2, (lua_Integer)i + 1);
        names[i] = luaL_checkstring(L, -1); /* stays in the table */
        lua_pop(L, 1);
    }
    const double *values = hfi_lua_doubles(L, 3, "values", &n);
    const double *covariance = hfi_lua_doubles(L, 4, "covariance", &cells);
    luaL_argcheck(L, values && covariance, 3, "needs values and covariance");
    const hf_status status =
        hf_parameters_set_fitted(set, n, names, values, covariance, luaL_checkstring(L, 5));
    if (status != HF_OK)
        return hfi_lua_fail(L, status, hf_parameters_message(set));
    lua_settop(L, 1);
    return 1;
}

/* set:fitted() -> nil, or { names, values, covariance row after row, label } */
static int fitted(lua_State *L)
{
    const hf_parameters *set = check(L, 1);
    const hf_fitted f = hf_parameters_fitted(set);
    if (f.count == 0)
        return 0;
    lua_createtable(L, 0, 4);
    lua_createtable(L, (int)f.count, 0);
    lua_createtable(L, (int)f.count, 0);
    for (size_t i = 0; i < f.count; i++) {
        const char *name = hf_parameter_at(f.row[i])->name;
        double value = 0;
        if (hf_parameters_get(set, name, &value) != HF_OK)
            value = 0;
        lua_pushnumber(L, value);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
        lua_pushstring(L, name);
        lua_rawseti(L, -3, (lua_Integer)i + 1);
    }
    lua_setfield(L, -3, "values");
    lua_setfield(L, -2, "names");
    hfi_lua_push_list(L, f.covariance, f.count * f.count);
    lua_setfield(L, -2, "covariance");
    hfi_lua_field_text(L, "label", f.label);
    return 1;
}

/* set:set_name(name) -> the object */
static int set_name(lua_State *L)
{
    hf_parameters *set = check(L, 1);
    const char *name = luaL_checkstring(L, 2);
    luaL_argcheck(L, hf_parameters_set_name(set, name) == HF_OK, 2,
                  "a name has 1 to 63 printable letters");
    lua_settop(L, 1);
    return 1;
}

/* set:base() -> name of the shipped set it started from */
static int base_of(lua_State *L)
{
    lua_pushstring(L, hf_parameters_base(check(L, 1)));
    return 1;
}

/* set:get(name) -> number, or nil, message, code */
static int get_value(lua_State *L)
{
    const hf_parameters *set = check(L, 1);
    const char *name = luaL_checkstring(L, 2);
    double value;
    const hf_status status = hf_parameters_get(set, name, &value);
    if (status != HF_OK)
        return hfi_lua_fail_word(L, hf_status_code(status), "no parameter is called \"%s\"", name);
    lua_pushnumber(L, value);
    return 1;
}

/* set:changed() -> names that the user changed, in the order of the catalogue */
static int changed(lua_State *L)
{
    const hf_parameters *set = check(L, 1);
    lua_Integer n = 0;
    lua_newtable(L);
    for (size_t i = 0; i < hf_parameter_count(); i++)
        if (hf_parameters_is_changed(set, i)) {
            lua_pushstring(L, hf_parameter_at(i)->name);
            lua_rawseti(L, -2, ++n);
        }
    return 1;
}

/* set:name() -> name of the set it started from */
static int name_of(lua_State *L)
{
    lua_pushstring(L, hf_parameters_name(check(L, 1)));
    return 1;
}

/* set:digest() -> 16 hexadecimal digits */
static int digest(lua_State *L)
{
    char text[17];
    hf_parameters_digest(check(L, 1), text);
    lua_pushstring(L, text);
    return 1;
}

static int to_text(lua_State *L)
{
    const box *b = luaL_checkudata(L, 1, KIND);
    if (!b->set) {
        lua_pushliteral(L, "parameters (closed)");
        return 1;
    }
    int count = 0;
    for (size_t i = 0; i < hf_parameter_count(); i++)
        count += hf_parameters_is_changed(b->set, i) != 0;
    lua_pushfstring(L, "parameters %s, %d changed", hf_parameters_name(b->set), count);
    return 1;
}

static void push_row(lua_State *L, const hf_parameters *set, size_t index)
{
    hf_parameter row;
    if (hf_parameters_row(set, index, &row) != HF_OK) {
        luaL_pushfail(L);
        return;
    }
    lua_createtable(L, 0, 13);
    hfi_lua_field_text(L, "name", row.name);
    hfi_lua_field_text(L, "unit", row.unit);
    hfi_lua_field_number(L, "value", row.value);
    hfi_lua_field_text(L, "distribution", hf_distribution_word(row.distribution));
    hfi_lua_field_number(L, "spread", row.spread);
    hfi_lua_field_number(L, "low", row.low);
    hfi_lua_field_number(L, "high", row.high);
    hfi_lua_field_text(L, "source", row.source);
    hfi_lua_field_text(L, "place", row.place);
    hfi_lua_field_text(L, "conditions", row.conditions);
    hfi_lua_field_text(L, "known", hf_known_word(row.known));
    hfi_lua_field_text(L, "text", row.text);
    lua_pushboolean(L, hf_parameters_is_changed(set, index));
    lua_setfield(L, -2, "changed");
    const hf_fitted f = hf_parameters_fitted(set);
    int together = 0;
    for (size_t k = 0; k < f.count; k++)
        together |= f.row[k] == index;
    lua_pushboolean(L, together);
    lua_setfield(L, -2, "fitted");
}

/* rows([set]) or set:rows() -> the catalogue as it holds in this set */
static int rows(lua_State *L)
{
    const hf_parameters *set = hfi_lua_parameters(L, 1);
    const size_t count = hf_parameter_count();
    lua_createtable(L, (int)count, 0);
    for (size_t i = 0; i < count; i++) {
        push_row(L, set, i);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

/* sets() -> { {name =, text =}, ... } */
static int sets(lua_State *L)
{
    const hf_set *head;
    lua_newtable(L);
    for (size_t i = 0; (head = hf_set_at(i)) != NULL; i++) {
        lua_createtable(L, 0, 2);
        hfi_lua_field_text(L, "name", head->name);
        hfi_lua_field_text(L, "text", head->text);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

/* is_parameters(x) -> boolean */
static int is_parameters(lua_State *L)
{
    const box *b = luaL_testudata(L, 1, KIND);
    lua_pushboolean(L, b && b->set);
    return 1;
}

void hfi_lua_open_parameters(lua_State *L)
{
    static const luaL_Reg methods[] = {
        {"set", set_value}, {"get", get_value},     {"changed", changed},
        {"name", name_of},  {"digest", digest},     {"copy", copy},
        {"rows", rows},     {"close", release},     {"set_fitted", set_fitted},
        {"fitted", fitted}, {"set_name", set_name}, {"base", base_of},
        {NULL, NULL}};
    static const luaL_Reg functions[] = {{"parameters", new_set},
                                         {"rows", rows},
                                         {"sets", sets},
                                         {"is_parameters", is_parameters},
                                         {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
    hfi_lua_metatable(L, KIND, release, methods);
    lua_pushcfunction(L, to_text);
    lua_setfield(L, -2, "__tostring");
    /* The Lua half adds texts with units and spelling help to the methods. */
    lua_getfield(L, -1, "__index");
    lua_setfield(L, -3, "parameters_methods");
    lua_pop(L, 1);
}
