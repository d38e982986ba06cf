/*
 * Numbers as text, whatever the locale of the host program. The plain C locale is put on for this
 * thread only, and only between two calls of Lua.
 */
#include "core.h"

#include <ctype.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LONGEST    100 /* longer number text is refused */
#define FIXED_SIZE 80  /* 30 digits, point, 30 decimals */

/* strtod in the C locale; NaN when that locale cannot be had. */
static double read_plain(const char *text)
{
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (plain == (locale_t)0)
        return (double)NAN;
    const locale_t before = uselocale(plain);
    const double x = strtod(text, NULL);
    uselocale(before);
    freelocale(plain);
    return x;
}

/* Length of a decimal number at the start of `s`: sign, digits, point, digits, exponent. 0: none.
 * No hexadecimal, no inf, no nan. */
static size_t decimal_length(const char *s)
{
    const char *p = s;
    size_t digits = 0;
    if (*p == '+' || *p == '-')
        p++;
    for (; isdigit((unsigned char)*p); p++)
        digits++;
    if (*p == '.')
        for (p++; isdigit((unsigned char)*p); p++)
            digits++;
    if (!digits)
        return 0;
    if (*p == 'e' || *p == 'E') {
        const char *q = p + 1;
        if (*q == '+' || *q == '-')
            q++;
        if (isdigit((unsigned char)*q)) {
            while (isdigit((unsigned char)*q))
                q++;
            p = q;
        }
    }
    return (size_t)(p - s);
}

void hfi_number_text(char text[HFI_NUMBER_SIZE], double x, int digits)
{
    if (!isfinite(x)) {
        snprintf(text, HFI_NUMBER_SIZE, "%s", isnan(x) ? "nan" : x > 0 ? "inf" : "-inf");
        return;
    }
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    const locale_t before = uselocale(plain); /* (locale_t)0 changes nothing */
    if (digits > 0) {
        snprintf(text, HFI_NUMBER_SIZE, "%.*g", digits > 17 ? 17 : digits, x);
    } else {
        for (digits = 15; digits <= 17; digits++) {
            snprintf(text, HFI_NUMBER_SIZE, "%.*g", digits, x);
            if (strtod(text, NULL) == x) /* exact equality is the point */
                break;
        }
    }
    uselocale(before);
    if (plain != (locale_t)0)
        freelocale(plain);
}

/* number(text) -> number, or nil when the text is not one plain decimal number.
 * number(text, true) -> number, rest of the text after it. */
static int number(lua_State *L)
{
    size_t length;
    const char *text = luaL_checklstring(L, 1, &length);
    const int partial = lua_toboolean(L, 2);
    const char *start = text + strspn(text, " \t");
    const size_t digits = decimal_length(start);
    const char *rest = start + digits;
    char copy[LONGEST + 1];
    if (!digits || digits > LONGEST || (!partial && rest + strspn(rest, " \t") != text + length)) {
        luaL_pushfail(L);
        return 1;
    }
    memcpy(copy, start, digits);
    copy[digits] = '\0';
    const double x = read_plain(copy);
    if (!isfinite(x)) {
        luaL_pushfail(L);
        return 1;
    }
    lua_pushnumber(L, x);
    if (!partial)
        return 1;
    lua_pushlstring(L, rest, length - (size_t)(rest - text));
    return 2;
}

/* text(x [, digits]) -> decimal text */
static int text(lua_State *L)
{
    char buffer[HFI_NUMBER_SIZE];
    const double x = luaL_checknumber(L, 1);
    hfi_number_text(buffer, x, (int)luaL_optinteger(L, 2, 0));
    lua_pushstring(L, buffer);
    return 1;
}

/* fixed(x, decimals) -> decimal text without exponent */
static int fixed(lua_State *L)
{
    char buffer[FIXED_SIZE];
    const double x = luaL_checknumber(L, 1);
    const lua_Integer decimals = luaL_checkinteger(L, 2);
    luaL_argcheck(L, decimals >= 0 && decimals <= 30, 2, "must lie between 0 and 30");
    luaL_argcheck(L, fabs(x) < 1e30, 1, "must be a number below 1e30");
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    const locale_t before = uselocale(plain);
    snprintf(buffer, sizeof buffer, "%.*f", (int)decimals, x);
    uselocale(before);
    if (plain != (locale_t)0)
        freelocale(plain);
    lua_pushstring(L, buffer);
    return 1;
}

/* join(list, separator, missing) -> text of all numbers; what is not finite reads as `missing` */
static int join(lua_State *L)
{
    luaL_Buffer out;
    char digits[HFI_NUMBER_SIZE];
    luaL_checktype(L, 1, LUA_TTABLE);
    const char *separator = luaL_checkstring(L, 2), *missing = luaL_checkstring(L, 3);
    const lua_Integer n = luaL_len(L, 1);
    luaL_buffinit(L, &out);
    for (lua_Integer i = 1; i <= n; i++) {
        lua_rawgeti(L, 1, i);
        const double x = lua_type(L, -1) == LUA_TNUMBER ? lua_tonumber(L, -1) : (double)NAN;
        lua_pop(L, 1);
        hfi_number_text(digits, x, 0);
        if (i > 1)
            luaL_addstring(&out, separator);
        luaL_addstring(&out, isfinite(x) ? digits : missing);
    }
    luaL_pushresult(&out);
    return 1;
}

void hfi_lua_open_numbers(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"number", number}, {"text", text}, {"fixed", fixed}, {"join", join}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
}
