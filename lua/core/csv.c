/* A comma-separated text as rows of cells, each with the line it starts in. The rules are those of import_row.h. */
#include "core.h"
#include "import_row.h"

#include <stdlib.h>
#include <string.h>

#define KIND "hairfibre.csv"

typedef struct box {
    hfi_text text;
    hfi_rows rows;
} box;

static int release(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    hfi_rows_close(&b->rows);
    hfi_text_close(&b->text);
    return 0;
}

/* csv(text, delimiter) -> { { cell, ..., line = n }, ... }, empty lines left out */
static int csv(lua_State *L)
{
    size_t length;
    const char *text = luaL_checklstring(L, 1, &length);
    const char *delimiter = luaL_optstring(L, 2, ",");
    luaL_argcheck(L, strlen(delimiter) == 1 && *delimiter != '"', 2, "must be one character");
    lua_settop(L, 2);
    box *b = lua_newuserdatauv(L, sizeof *b, 0);
    memset(b, 0, sizeof *b);
    b->text.fd = -1;
    luaL_setmetatable(L, KIND);
    b->text.text = malloc(length + 1);
    if (!b->text.text || !hfi_rows_open(&b->rows, &b->text, *delimiter))
        return hfi_lua_fail(L, HF_ENOMEM, NULL);
    memcpy(b->text.text, text, length);
    b->text.end = length;
    b->text.raw_end = 1;
    b->rows.comments = 0;
    lua_newtable(L);
    for (lua_Integer n = 0;;) {
        const hfi_row row = hfi_rows_next(&b->rows);
        if (row == HFI_ROW_END)
            return 1;
        if (row == HFI_ROW_NO_MEMORY || row == HFI_ROW_ERROR)
            return hfi_lua_fail(L, HF_ENOMEM, NULL);
        if (row == HFI_ROW_QUOTE || row == HFI_ROW_LONG)
            return hfi_lua_fail_word(
                L, hf_status_code(HF_EDATA), "line %I: %s", (LUAI_UACINT)b->rows.first,
                row == HFI_ROW_LONG ? "the line is too long"
                                    : "a quotation mark is not closed, or stands inside a cell");
        if (row == HFI_ROW_BLANK && b->rows.count <= 1)
            continue;
        lua_createtable(L, (int)b->rows.count, 1);
        for (size_t i = 0; i < b->rows.count; i++) {
            lua_pushlstring(L, b->rows.cells[i].text, b->rows.cells[i].length);
            lua_rawseti(L, -2, (lua_Integer)i + 1);
        }
        lua_pushinteger(L, (lua_Integer)b->rows.first);
        lua_setfield(L, -2, "line");
        lua_rawseti(L, -2, ++n);
    }
}

void hfi_lua_open_csv(lua_State *L)
{
    static const luaL_Reg functions[] = {{"csv", csv}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
    hfi_lua_metatable(L, KIND, release, NULL);
    lua_pop(L, 1);
}
