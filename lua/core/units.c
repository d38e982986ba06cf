/*
 * Units by UDUNITS-2 (unit database read at the first use, about 4 ms). One function: the linear
 * map from a unit to another. Numbers, their text and the readings of "C", "%" and the like are
 * the business of lua/hairfibre/units.lua.
 */
#include "core.h"

#include <math.h>
#include <string.h>

#include <udunits2.h>

#ifdef HFI_PORTABLE
#include <stdio.h>
#include <unistd.h>
#endif

#define KIND "hairfibre.units"

typedef struct box {
    ut_system *system;
} box;

static int release(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    if (b->system)
        ut_free_system(b->system);
    b->system = NULL;
    return 0;
}

/* Linear map y = factor x + offset, or a word for what is wrong. No Lua in here. */
static const char *map(ut_system *system, const char *from, const char *to, double *factor,
                       double *offset)
{
    const char *wrong = NULL;
    ut_unit *a = ut_parse(system, from, UT_UTF8);
    ut_unit *b = a ? ut_parse(system, to, UT_UTF8) : NULL;
    cv_converter *converter = b ? ut_get_converter(a, b) : NULL;
    if (!a) {
        wrong = "unknown";
    } else if (!converter) {
        wrong = "mismatch";
    } else {
        const double at[3] = {cv_convert_double(converter, 0), cv_convert_double(converter, 1),
                              cv_convert_double(converter, 2)};
        *offset = at[0];
        *factor = at[1] - at[0];
        /* A logarithmic unit is not linear; a unit of time since a date has a huge offset. */
        if (!isfinite(at[0]) || !isfinite(at[1]) || *factor == 0 ||
            fabs(at[2] - at[1] - *factor) > 1e-9 * (fabs(*factor) + fabs(*offset)))
            wrong = "unknown";
        /* Differences of a large offset lose digits: a pure factor comes straight. */
        if (*offset == 0)
            *factor = at[1];
    }
    if (converter)
        cv_free(converter);
    if (b)
        ut_free(b);
    if (a)
        ut_free(a);
    return wrong;
}

/* The table of units: the one that Debian installs, or, in the portable folder, the one beside the
 * program (the folder may lie anywhere, so no path is fixed). */
static ut_system *read_table(void)
{
#ifdef HFI_PORTABLE
    char program[4000], table[4096];
    const ssize_t length = readlink("/proc/self/exe", program, sizeof program - 1);
    if (length <= 0)
        return NULL;
    program[length] = '\0';
    char *end = strrchr(program, '/');
    if (!end)
        return NULL;
    *end = '\0';
    snprintf(table, sizeof table, "%s/units/udunits2.xml", program);
    return ut_read_xml(table);
#else
    return ut_read_xml(NULL);
#endif
}

/* unit(from, to) -> factor, offset with to = factor * from + offset.
 * On failure nil, word: "unknown" (no such unit), "mismatch" (another quantity), or a sentence. */
static int unit(lua_State *L)
{
    const char *from = luaL_checkstring(L, 1), *to = luaL_checkstring(L, 2);
    box *b = lua_touserdata(L, lua_upvalueindex(1));
    double factor, offset;
    if (!b->system) {
        ut_set_error_message_handler(ut_ignore);
        b->system = read_table();
        if (!b->system) {
            luaL_pushfail(L);
            lua_pushliteral(L, "the table of units is missing: install libudunits2-data");
            return 2;
        }
    }
    const char *wrong = map(b->system, from, to, &factor, &offset);
    if (wrong) {
        luaL_pushfail(L);
        lua_pushstring(L, wrong);
        return 2;
    }
    lua_pushnumber(L, factor);
    lua_pushnumber(L, offset);
    return 2;
}

void hfi_lua_open_units(lua_State *L)
{
    hfi_lua_metatable(L, KIND, release, NULL);
    lua_pop(L, 1);
    box *b = lua_newuserdatauv(L, sizeof *b, 0);
    b->system = NULL;
    luaL_setmetatable(L, KIND);
    lua_pushcclosure(L, unit, 1);
    lua_setfield(L, -2, "unit");
}
