/* The built-in models as Lua tables. */
#include "fit_box.h"

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
