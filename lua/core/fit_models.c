/* The built-in models as Lua tables. */
#include "fit_box.h"

#include <math.h>

/* fit_models() -> list of descriptors */
int hfi_fit_models(lua_State *L)
{
    lua_createtable(L, (int)hf_model_count(), 0);
    const hf_model *m;
    for (size_t i = 0; (m = hf_model_at(i)) != NULL; i++) {
        lua_createtable(L, 0, 12);
        hfi_lua_field_text(L, "name", m->name);
        hfi_lua_field_text(L, "text", m->text);
        hfi_lua_field_text(L, "equation", m->equation);
        hfi_lua_field_text(L, "known", hf_known_word(m->known));
        hfi_lua_field_text(L, "y_name", m->y_name);
        hfi_lua_field_text(L, "y_unit", m->y_unit);
        hfi_fit_field_count(L, "columns", m->columns);
        hfi_fit_field_count(L, "index", i + 1);
        lua_pushboolean(L, m->value != NULL);
        lua_setfield(L, -2, "by_rows");
        hfi_lua_words(L, m->sources);
        lua_setfield(L, -2, "sources");
        hfi_lua_words(L, m->x_names);
        lua_setfield(L, -2, "x_names");
        hfi_lua_words(L, m->x_units);
        lua_setfield(L, -2, "x_units");
        lua_createtable(L, (int)m->parameter_count, 0);
        for (size_t j = 0; j < m->parameter_count; j++) {
            const hf_model_parameter *p = &m->parameters[j];
            lua_createtable(L, 0, 7);
            hfi_lua_field_text(L, "name", p->name);
            hfi_lua_field_text(L, "unit", p->unit);
            hfi_lua_field_text(L, "text", p->text);
            hfi_lua_field_number(L, "low", p->low);
            hfi_lua_field_number(L, "high", p->high);
            hfi_lua_field_number(L, "usual", p->usual);
            lua_pushboolean(L, p->given);
            lua_setfield(L, -2, "given");
            lua_rawseti(L, -2, (lua_Integer)j + 1);
        }
        lua_setfield(L, -2, "parameters");
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

/* model_start(index, x, y, known) -> list of starts (NaN where there is none), or nil, message, code. known: values
 * that are given already, NaN where none is. */
int hfi_fit_model_start(lua_State *L)
{
    const lua_Integer index = luaL_checkinteger(L, 1);
    const hf_model *m = index >= 1 ? hf_model_at((size_t)index - 1) : NULL;
    luaL_argcheck(L, m, 1, "there is no such model");
    size_t n = 0;
    const double *x = hfi_lua_doubles(L, 2, "x", &n);
    const double *y = hfi_lua_doubles(L, 3, "y", &n);
    size_t parameters = m->parameter_count;
    const double *known = hfi_lua_doubles(L, 4, "known", &parameters);
    luaL_argcheck(L, x && y && known, 2, "needs x, y and what is known");
    double p[HF_FIT_PARAMETERS_MAX];
    for (size_t j = 0; j < HF_FIT_PARAMETERS_MAX; j++)
        p[j] = j < m->parameter_count ? known[j] : (double)NAN;
    const hf_status status = m->starter ? m->starter(n, x, y, NULL, p) : HF_OK;
    if (status != HF_OK)
        return hfi_lua_fail(L, status, NULL);
    hfi_lua_push_list(L, p, m->parameter_count);
    return 1;
}

