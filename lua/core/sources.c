/* The list of sources as Lua tables. */
#include "core.h"

static void push(lua_State *L, const hf_source *source)
{
    lua_createtable(L, 0, 11);
    hfi_lua_field_text(L, "key", source->key);
    hfi_lua_field_text(L, "type", source->type);
    hfi_lua_field_text(L, "author", source->author);
    hfi_lua_field_text(L, "title", source->title);
    hfi_lua_field_text(L, "journal", source->journal);
    hfi_lua_field_text(L, "volume", source->volume);
    hfi_lua_field_text(L, "pages", source->pages);
    hfi_lua_field_text(L, "year", source->year);
    hfi_lua_field_text(L, "doi", source->doi);
    hfi_lua_field_text(L, "note", source->note);
    hfi_lua_field_text(L, "access", source->access);
}

/* source(key) -> table or nil */
static int find(lua_State *L)
{
    const hf_source *source = hf_source_find(luaL_checkstring(L, 1));
    if (source)
        push(L, source);
    else
        luaL_pushfail(L);
    return 1;
}

/* sources() -> list in the order of the keys */
static int all(lua_State *L)
{
    const size_t count = hf_source_count();
    lua_createtable(L, (int)count, 0);
    for (size_t i = 0; i < count; i++) {
        push(L, hf_source_at(i));
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    return 1;
}

void hfi_lua_open_sources(lua_State *L)
{
    static const luaL_Reg functions[] = {{"source", find}, {"sources", all}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
}
