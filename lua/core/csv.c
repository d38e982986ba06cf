/*
 * Comma-separated text by libcsv: rows of cells with the line each starts in.
 *
 * The text is fed line by line, so that the number of the line is known when libcsv reports a cell.
 * The parser lives in a userdata: an error raised inside a callback frees it through __gc.
 */
#include "core.h"

#include <csv.h>
#include <string.h>

#define KIND "hairfibre.csv"

typedef struct box {
    struct csv_parser parser;
    int open;
    lua_State *L;
    int table;           /* stack index of the list of rows; the open row lies above it */
    lua_Integer rows;    /* rows closed so far */
    lua_Integer cells;   /* cells of the open row; 0: none is open */
    lua_Integer line;    /* line being fed */
    lua_Integer started; /* line in which the open row started */
} box;

static int release(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    if (b->open)
        csv_free(&b->parser);
    b->open = 0;
    return 0;
}

static void on_cell(void *bytes, size_t length, void *data)
{
    box *b = data;
    if (b->cells++ == 0)
        lua_newtable(b->L);
    lua_pushlstring(b->L, bytes ? bytes : "", length);
    lua_rawseti(b->L, -2, b->cells);
}

static void on_row(int terminator, void *data)
{
    box *b = data;
    (void)terminator;
    if (b->cells == 0)
        return;
    lua_pushinteger(b->L, b->started);
    lua_setfield(b->L, -2, "line");
    lua_rawseti(b->L, b->table, ++b->rows);
    b->cells = 0;
}

static int broken(lua_State *L, box *b)
{
    if (csv_error(&b->parser) == CSV_ENOMEM)
        return hfi_lua_fail(L, HF_ENOMEM, NULL);
    return hfi_lua_fail_word(L, hf_status_code(HF_EDATA),
                             "line %I: a quotation mark is not closed, or stands inside a cell",
                             (LUAI_UACINT)b->started);
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
    luaL_setmetatable(L, KIND);
    lua_newtable(L);
    b->L = L;
    b->table = lua_gettop(L);
    if (csv_init(&b->parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        return hfi_lua_fail(L, HF_ENOMEM, NULL);
    b->open = 1;
    csv_set_delim(&b->parser, (unsigned char)*delimiter);
    int row_open = 0;
    for (size_t at = 0; at < length;) {
        size_t end = at;
        while (end < length && text[end] != '\n' && text[end] != '\r')
            end++;
        const int blank = strspn(text + at, " \t") >= end - at;
        if (end < length)
            end += text[end] == '\r' && end + 1 < length && text[end + 1] == '\n' ? 2 : 1;
        b->line++;
        if (!row_open)
            b->started = b->line;
        const lua_Integer before = b->rows;
        if (csv_parse(&b->parser, text + at, end - at, on_cell, on_row, b) != end - at)
            return broken(L, b);
        /* A row goes on over the end of a line only inside quotation marks. */
        row_open = b->rows == before && (row_open || !blank);
        at = end;
    }
    if (csv_fini(&b->parser, on_cell, on_row, b) != 0)
        return broken(L, b);
    lua_settop(L, b->table);
    csv_free(&b->parser);
    b->open = 0;
    return 1;
}

void hfi_lua_open_csv(lua_State *L)
{
    static const luaL_Reg functions[] = {{"csv", csv}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
    hfi_lua_metatable(L, KIND, release, NULL);
    lua_pop(L, 1);
}
