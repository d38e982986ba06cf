/*
 * Import: a data file as a userdata. The Lua half (lua/hairfibre/import.lua) looks at its head, decides what the
 * file is, and has the rows read here into columns of numbers.
 *
 *   local r = core.import(path)              or nil, message, "file"
 *   r:guess()                                word of the encoding, why, true when the head is the whole file
 *   r:decode(word)                           before what follows; once
 *   r:rows(delimiter, most)                  rows of the head: { { cell, ..., line =, fault = }, ... }
 *   r:read { skip =, cells =, ... }          all rows to columns; once
 *   r:line(i)                                line of the used row i
 */
#include "core.h"
#include "file.h"
#include "import_table.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define KIND "hairfibre.import"

static const char *const encodings[] = {"utf-8", "utf-16le", "utf-16be", "latin-1", "binary", NULL};

typedef struct box {
    hfi_table table;
    hfi_text view; /* the head alone, for a look at its rows */
    hfi_rows rows;
    int viewing, decoded, read;
} box;

/* The lines of the used rows may stay. */
static void clear(box *b, int keep_lines)
{
    uint32_t *lines = keep_lines ? b->table.lines : NULL;
    if (b->viewing)
        hfi_rows_close(&b->rows);
    b->viewing = 0;
    free(b->view.text);
    b->view.text = NULL;
    if (lines)
        b->table.lines = NULL;
    hfi_table_clear(&b->table);
    hfi_text_close(&b->table.text);
    b->table.lines = lines;
}

static int release(lua_State *L)
{
    clear(luaL_checkudata(L, 1, KIND), 0);
    return 0;
}

static int fail_to_read(lua_State *L, const char *path, int error)
{
    if (error == ENOMEM)
        return hfi_lua_fail(L, HF_ENOMEM, NULL);
    return hfi_lua_fail_word(L, HFI_CODE_FILE, "cannot read %s: %s", path, hfi_error_text(error));
}

/* import(path) */
static int open_file(lua_State *L)
{
    const char *path = luaL_checkstring(L, 1);
    box *b = lua_newuserdatauv(L, sizeof *b, 1);
    memset(b, 0, sizeof *b);
    b->table.text.fd = b->view.fd = -1;
    luaL_setmetatable(L, KIND);
    lua_pushvalue(L, 1);
    lua_setiuservalue(L, -2, 1);
    const int error = hfi_text_open(&b->table.text, path);
    return error ? fail_to_read(L, path, error) : 1;
}

static const char *path_of(lua_State *L)
{
    lua_getiuservalue(L, 1, 1);
    return lua_tostring(L, -1);
}

static int guess(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    const char *why = "";
    luaL_argcheck(L, b->table.text.raw, 1, "this file is closed");
    lua_pushstring(L, encodings[hfi_text_guess(&b->table.text, &why)]);
    lua_pushstring(L, why);
    lua_pushboolean(L, b->table.text.raw_end);
    return 3;
}

static int decode(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    const int encoding = luaL_checkoption(L, 2, NULL, encodings);
    luaL_argcheck(L, b->table.text.raw && !b->decoded && encoding != HFI_BINARY, 1,
                  "this file is decoded already");
    b->decoded = 1;
    hfi_text_decode(&b->table.text, (hfi_encoding)encoding);
    return 0;
}

static char delimiter_at(lua_State *L, int index)
{
    size_t length;
    const char *s = luaL_checklstring(L, index, &length);
    luaL_argcheck(L,
                  length == 1 && *s != '"' && *s != '\n' && *s != '\r' && (unsigned char)*s < 128,
                  index, "must be one plain character");
    return *s;
}

/* The decoded head up to the end of its last whole line. */
static int make_view(box *b)
{
    const hfi_text *t = &b->table.text;
    size_t n = t->end - t->start;
    if (!t->raw_end)
        while (n && t->text[t->start + n - 1] != '\n' && t->text[t->start + n - 1] != '\r')
            n--;
    if (!b->view.text)
        b->view.text = malloc(n + 1);
    if (!b->view.text)
        return 0;
    memcpy(b->view.text, t->text + t->start, n);
    b->view.start = 0;
    b->view.end = n;
    b->view.raw_end = 1;
    return 1;
}

static int rows(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    const char delimiter = delimiter_at(L, 2);
    const lua_Integer most = luaL_checkinteger(L, 3);
    luaL_argcheck(L, b->decoded && !b->read, 1, "this file is not decoded, or read already");
    if (b->viewing)
        hfi_rows_close(&b->rows);
    b->viewing = 0;
    if (!make_view(b))
        return hfi_lua_fail(L, HF_ENOMEM, NULL);
    b->viewing = 1;
    if (!hfi_rows_open(&b->rows, &b->view, delimiter))
        return hfi_lua_fail(L, HF_ENOMEM, NULL);
    lua_newtable(L);
    for (lua_Integer n = 0; n < most;) {
        const hfi_row row = hfi_rows_next(&b->rows);
        if (row == HFI_ROW_END)
            break;
        if (row == HFI_ROW_NO_MEMORY)
            return hfi_lua_fail(L, HF_ENOMEM, NULL);
        if (row == HFI_ROW_BLANK)
            continue;
        lua_createtable(L, (int)b->rows.count, 2);
        for (size_t i = 0; i < b->rows.count; i++) {
            lua_pushlstring(L, b->rows.cells[i].text, b->rows.cells[i].length);
            lua_rawseti(L, -2, (lua_Integer)i + 1);
        }
        hfi_lua_field_number(L, "line", (double)b->rows.first);
        hfi_lua_field_number(L, "next", (double)b->rows.line);
        if (row != HFI_ROW)
            hfi_lua_field_text(L, "fault",
                               row == HFI_ROW_COMMENT ? "comment"
                               : row == HFI_ROW_QUOTE ? "quote"
                                                      : "long");
        if (row == HFI_ROW_COMMENT) {
            lua_pushlstring(L, b->rows.shown, b->rows.shown_length);
            lua_setfield(L, -2, "text");
        }
        lua_rawseti(L, -2, ++n);
    }
    return 1;
}

/* ---- all rows ------------------------------------------------------------------------------------------ */

static lua_Number number_field(lua_State *L, const char *name, lua_Number usual)
{
    lua_getfield(L, -1, name);
    const lua_Number x = luaL_optnumber(L, -1, usual);
    lua_pop(L, 1);
    return x;
}

static void read_columns(lua_State *L, hfi_table *t)
{
    lua_getfield(L, 2, "columns");
    luaL_checktype(L, -1, LUA_TTABLE);
    const lua_Integer n = luaL_len(L, -1);
    luaL_argcheck(L, n >= 1 && n <= HFI_ROW_CELLS, 2, "needs columns");
    t->columns = calloc((size_t)n, sizeof *t->columns);
    if (!t->columns)
        luaL_error(L, "not enough memory");
    t->column_count = (size_t)n;
    for (lua_Integer i = 0; i < n; i++) {
        hfi_column *c = &t->columns[i];
        lua_rawgeti(L, -1, i + 1);
        luaL_checktype(L, -1, LUA_TTABLE);
        const lua_Number at = number_field(L, "at", 0);
        luaL_argcheck(L, at >= 1 && at <= (lua_Number)t->cells, 2, "a column lies outside the row");
        c->at = (size_t)at - 1;
        c->factor = number_field(L, "factor", 1);
        c->offset = number_field(L, "offset", 0);
        c->low = number_field(L, "low", -HUGE_VAL);
        c->high = number_field(L, "high", HUGE_VAL);
        c->wet = (lua_getfield(L, -1, "wet"), lua_toboolean(L, -1));
        c->words = (lua_getfield(L, -2, "words"), lua_toboolean(L, -1));
        c->blank = (lua_getfield(L, -3, "blank"), lua_toboolean(L, -1));
        lua_getfield(L, -4, "clock");
        const char *clock = luaL_optstring(L, -1, "");
        luaL_argcheck(L, strlen(clock) < sizeof c->clock, 2, "no form of times");
        strcpy(c->clock, clock);
        lua_pop(L, 5);
    }
    lua_pop(L, 1);
}

static void push_excluded(lua_State *L, const hfi_excluded *e)
{
    static const char *const words[] = {
#define X(name, word) word,
        HFI_WHY_LIST(X)
#undef X
    };
    lua_createtable(L, 0, 6);
    lua_pushinteger(L, (lua_Integer)e->line);
    lua_setfield(L, -2, "line");
    if (e->column != HFI_NO_COLUMN) {
        lua_pushinteger(L, (lua_Integer)e->column + 1);
        lua_setfield(L, -2, "column");
    }
    hfi_lua_field_text(L, "why", words[e->why]);
    hfi_lua_field_text(L, "text", e->text);
    lua_pushinteger(L, (lua_Integer)e->count);
    lua_setfield(L, -2, "count");
    hfi_lua_field_number(L, "value", e->value);
}

static void integer(lua_State *L, const char *name, uint64_t x)
{
    lua_pushinteger(L, (lua_Integer)x);
    lua_setfield(L, -2, name);
}

static void push_decimal(lua_State *L, const hfi_decimal *d)
{
    static const char *const how[] = {"open", "usual", "shown", "stated"};
    const char sign[2] = {d->sign, '\0'};
    lua_createtable(L, 0, 4);
    if (d->sign)
        hfi_lua_field_text(L, "sign", sign);
    hfi_lua_field_text(L, "how", how[d->how]);
    integer(L, "line", d->line);
    hfi_lua_field_text(L, "text", d->text);
    lua_setfield(L, -2, "decimal");
}

static void push_columns(lua_State *L, hfi_table *t)
{
    const int n = t->used < 1u << 27 ? (int)t->used : 0;
    lua_createtable(L, (int)t->column_count, 0);
    for (size_t i = 0; i < t->column_count; i++) {
        hfi_column *c = &t->columns[i];
        lua_createtable(L, n, 0);
        if (c->words) {
            const int list = lua_gettop(L);
            lua_createtable(L, (int)t->word_count, 0);
            for (size_t w = 0; w < t->word_count; w++) {
                lua_pushstring(L, t->words[w]);
                lua_rawseti(L, -2, (lua_Integer)w + 1);
            }
            for (size_t row = 0; row < t->used; row++) {
                lua_rawgeti(L, -1, (lua_Integer)c->indices[row] + 1);
                lua_rawseti(L, list, (lua_Integer)row + 1);
            }
            lua_pop(L, 1);
        } else {
            for (size_t row = 0; row < t->used; row++) {
                lua_pushnumber(L, c->values[row]);
                lua_rawseti(L, -2, (lua_Integer)row + 1);
            }
        }
        lua_rawseti(L, -2, (lua_Integer)i + 1);
        free(c->values); /* one column at a time is held twice */
        free(c->indices);
        c->values = NULL;
        c->indices = NULL;
    }
    lua_setfield(L, -2, "values");
    lua_createtable(L, (int)t->column_count, 0);
    for (size_t i = 0; i < t->column_count; i++) {
        lua_pushnumber(L, t->columns[i].largest);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    lua_setfield(L, -2, "largest");
}

static void push_result(lua_State *L, hfi_table *t)
{
    lua_createtable(L, 0, 12);
    push_columns(L, t);
    lua_createtable(L, (int)t->excluded_count, 0);
    for (size_t i = 0; i < t->excluded_count; i++) {
        push_excluded(L, &t->excluded[i]);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    lua_setfield(L, -2, "excluded");
    lua_createtable(L, 0, 2);
    push_decimal(L, &t->decimal);
    lua_getfield(L, -1, "decimal");
    lua_setfield(L, -3, "decimal");
    lua_pop(L, 1);
    integer(L, "rows", t->used);
    integer(L, "all_excluded", t->all_excluded);
    integer(L, "blank", t->blank);
    integer(L, "comments", t->comments);
    integer(L, "broken", t->text.broken);
    lua_pushboolean(L, t->unended);
    lua_setfield(L, -2, "unended");
}

/* read { skip =, cells =, delimiter =, decimal = { sign =, how = }, most =, most_shown =, columns = { { at =, words =,
 * factor =, offset =, low =, high =, wet = }, ... } } -> table; or nil, word of the stop, what stood there */
static int read_all(lua_State *L)
{
    static const char *const stops[] = {"",      "memory",    "file",     "many",
                                        "words", "ambiguous", "conflict", "stopped"};
    static const char *const hows[] = {"open", "usual", "shown", "stated", NULL};
    box *b = luaL_checkudata(L, 1, KIND);
    hfi_table *t = &b->table;
    luaL_checktype(L, 2, LUA_TTABLE);
    luaL_argcheck(L, b->decoded && !b->read, 1, "this file is not decoded, or read already");
    lua_settop(L, 2);
    b->read = 1;
    t->skip = (uint64_t)number_field(L, "skip", 0);
    t->cells = (size_t)number_field(L, "cells", 1);
    t->most = (size_t)number_field(L, "most", 2e7);
    t->most_shown = (size_t)number_field(L, "most_shown", 1000);
    lua_getfield(L, 2, "decimal");
    luaL_checktype(L, -1, LUA_TTABLE);
    lua_getfield(L, 3, "how");
    t->decimal.how = (hfi_decimal_how)luaL_checkoption(L, -1, "open", hows);
    lua_getfield(L, 3, "sign");
    t->decimal.sign = luaL_optstring(L, -1, "")[0];
    lua_getfield(L, 3, "line");
    t->decimal.line = (uint64_t)luaL_optinteger(L, -1, 0);
    lua_getfield(L, 3, "text");
    const char *text = luaL_optstring(L, -1, "");
    strncpy(t->decimal.text, text, HFI_NUMBER_LONGEST);
    lua_settop(L, 2);
    lua_getfield(L, 2, "delimiter");
    const char delimiter = delimiter_at(L, 3);
    lua_settop(L, 2);
    read_columns(L, t);
    t->reading = 1;
    hfi_stop stop = hfi_rows_open(&t->rows, &t->text, delimiter) ? HFI_STOP_NONE : HFI_STOP_MEMORY;
    if (stop == HFI_STOP_NONE) {
        hfi_lua_begin();
        stop = hfi_table_read(t);
        hfi_lua_end();
    }
    char digits[2 * SHA256_DIGEST_SIZE + 1];
    if (stop == HFI_STOP_READ || (stop == HFI_STOP_NONE && hfi_text_sum(&t->text, digits)))
        return fail_to_read(L, path_of(L), t->text.error);
    if (stop == HFI_STOP_NONE) {
        push_result(L, t);
        integer(L, "bytes", t->text.bytes);
        hfi_lua_field_text(L, "checksum", digits);
        clear(b, 1);
        return 1;
    }
    luaL_pushfail(L);
    lua_pushstring(L, stops[stop]);
    push_excluded(L, &t->trouble);
    push_decimal(L, &t->decimal);
    integer(L, "rows", t->used);
    return 3;
}

/* Line of a used row. */
static int line(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    const lua_Integer i = luaL_checkinteger(L, 2);
    if (!b->table.lines || i < 1 || (size_t)i > b->table.used)
        luaL_pushfail(L);
    else
        lua_pushinteger(L, b->table.lines[i - 1]);
    return 1;
}

/* number_form(text) -> "none", "whole", "decimal" or "ambiguous", and the decimal sign */
static int number_form(lua_State *L)
{
    static const char *const words[] = {"none", "whole", "decimal", "ambiguous"};
    size_t n;
    char sign;
    const char *s = luaL_checklstring(L, 1, &n);
    lua_pushstring(L, words[hfi_number_form_of(s, n, &sign)]);
    if (!sign)
        return 1;
    lua_pushlstring(L, &sign, 1);
    return 2;
}

void hfi_lua_open_import(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"import", open_file}, {"number_form", number_form}, {NULL, NULL}};
    static const luaL_Reg methods[] = {{"guess", guess},   {"decode", decode}, {"rows", rows},
                                       {"read", read_all}, {"line", line},     {"close", release},
                                       {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
    hfi_lua_metatable(L, KIND, release, methods);
    lua_pop(L, 1);
}
