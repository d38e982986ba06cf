/*
 * Lua under an allocator that fails: every task is run with the k-th request and all after it
 * refused, k = 1, 2, ... until it succeeds. Nothing may crash, leak (seen by the address sanitizer)
 * or stay broken: the same interpreter goes on from failure to success.
 */
#include "check.h"

#include "../../lua/core/module.h"

#include <lauxlib.h>
#include <lualib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define UNLIMITED (-1L)

typedef struct allowance {
    long left;   /* requests still granted; UNLIMITED: all */
    long asked;  /* requests for more memory since the last reset */
    long blocks; /* blocks not yet given back */
} allowance;

static void *allocate(void *data, void *block, size_t old_size, size_t new_size)
{
    allowance *a = data;
    if (new_size == 0) {
        a->blocks -= block != NULL;
        free(block);
        return NULL;
    }
    if (!block || new_size > old_size) {
        a->asked++;
        if (a->left == 0)
            return NULL;
        if (a->left > 0)
            a->left--;
    }
    void *moved = realloc(block, new_size);
    a->blocks += !block && moved;
    return moved;
}

/* Both run under lua_pcall, so that every request inside may fail. */
static int open_all(lua_State *L)
{
    luaL_openlibs(L);
    luaL_requiref(L, "hairfibre", luaopen_hairfibre, 0);
    lua_pop(L, 1);
    /* Lua's own buffers make their metatable at first use, and keep a half-made one (5.4.4). */
    luaL_Buffer buffer;
    luaL_buffinitsize(L, &buffer, 100000);
    luaL_pushresultsize(&buffer, 0);
    lua_pop(L, 1);
    return 0;
}

static int run_chunk(lua_State *L)
{
    const char *text = lua_touserdata(L, 1);
    if (luaL_loadstring(L, text) != LUA_OK)
        return lua_error(L);
    lua_call(L, 0, 0);
    return 0;
}

/* A failure must be about memory, whether it was raised or came back as nil, message, code. */
static void check_failure(lua_State *L, const char *task, long k)
{
    const char *message = lua_tostring(L, -1);
    if (!message || !strstr(message, "memory"))
        fail_msg("%s\nwith %ld requests: %s", task, k, message ? message : "no message");
    lua_pop(L, 1);
}

static const char *const tasks[] = {
    "local hf = require 'hairfibre' assert(hf.saturation_pressure(300))",
    "local hf = require 'hairfibre' assert(hf.saturation_pressure{ 300, '50 degC', 400 })",
    "local hf = require 'hairfibre' assert(hf.regain{ humidity = '65 %', set = 'bleached' })",
    "local hf = require 'hairfibre' assert(hf.strict.range('regain', 0.5))",
    "local hf = require 'hairfibre'"
    "  local set = hf.strict.parameters('wool', { ['sorption.absorption.k'] = 0.7 })"
    "  assert(hf.regain{ humidity = 0.5, set = set:copy() } and #set:changed() == 1)",
    "local hf = require 'hairfibre' assert(#hf.quantities() > 0)",
    "local core = require 'hairfibre.core' assert(core.unit('m', 'mm') == 1000)",
    "local core = require 'hairfibre.core' assert(#core.csv('a,b\\n1,\"2\\n3\"\\n') == 2)",
    "local core = require 'hairfibre.core' assert(not core.csv('a,b\\n1,\"2\\n'))",
    "local core = require 'hairfibre.core' assert(#core.read('tests/unit/check.h') > 100)",
    "local core = require 'hairfibre.core' assert(core.write('/dev/null', 'x'))",
    "local core = require 'hairfibre.core' assert(core.text(0.1) == '0.1')",
    "local hf = require 'hairfibre'"
    "  local r = assert(hf.damage{ time = { 0, 10 }, temperature = '200 degC', regain = 0.1,"
    "    passes = { 1, 5 }, running = true }) assert(#r == 2 and r:text() and r:csv())",
    "local hf = require 'hairfibre'"
    "  assert(hf.tabulate('regain', { humidity = { 0.1, 0.2 }, range = true }):json())",
    "local hf = require 'hairfibre' assert(hf.scanning{ humidity = { 0.8, 0.6 },"
    "  start_regain = 0.2, temperature = 298.15 })",
};

/* One or more for each part of the library; all begin with the library at hand. */
static const char *const heavy[] = {
    "local r = assert(hf.treat(hf.fibre{}, { hf.soak{ duration = 1 }, hf.blot{} }, { cells = 20,"
    "  tolerance = 1e-2, samples = 2, lumped = true }))"
    "  assert(#r:text() > 0 and #r:zones().void_growth > 0 and r:since(1))",
    "local r = assert(hf.ensemble{ population = 'asian', strands = 2, lumped = true, cells = 20, "
    "threads = 1,"
    "  tolerance = 1e-2, progress = false, treatment = { hf.soak{ duration = 1 } } })"
    "  assert(#r:csv() > 0 and r:share('voids'))",
    "local f = assert(hf.fit{ model = 'gab', x = { 0.1, 0.3, 0.5, 0.6, 0.7, 0.8 },"
    "  y = { 0.04, 0.07, 0.1, 0.12, 0.15, 0.2 }, starts = 1 }) assert(#f:report() > 0 and "
    "#f:json() > 0)",
    "assert(hf.claim{ quantity = 'regain', says = '15 %', at = { humidity = '65 %' } })",
    "assert(hf.uncertainty('regain', { humidity = 0.5, draws = 16 }))",
    "assert(hf.rivals('regain', { humidity = 0.5 }))",
    "assert(hf.sensitivity('regain', { humidity = 0.5, samples = 32 }))",
    "assert(hf.fisher_exact{ table = { { 8, 4 }, { 2, 10 } } }) assert(hf.holm{ 0.01, 0.2 })",
    "assert(hf.count_read{ 'examples/data/strands_evening_invented.csv' }:text())",
    "assert(hf.import{ file = 'examples/data/plate_log_invented.csv', x = 1, y = 2 }:text())",
    "assert(hf.read('examples/data/plate_log_invented.csv'))",
    "local f = hf.plot.figure{ title = 'x', x = { label = 'x' }, marks = { { x = 1.5, text = 'm' } "
    "},"
    "  lines = { { name = 'a', x = { 1, 2 }, y = { 1, 3 } } } }"
    "  assert(#f:script('svg') > 0 and #f:csv() > 0 and #f:preview{ ascii = true } > 0)",
    "assert(hf.plot.rings{ radii = { 1, 2 }, values = { 1, 2 } })",
    "local r = hf.tabulate('regain', { humidity = { 0.1, 0.5 } })"
    "  assert(hf.report{ title = 'x', parts = { r } })",
    "assert(#hf.reference.run(hf.reference.load('source{ key = \"own-judgement\", place = \"p\","
    "  known = \"assumed\" } row{ \"regain\", humidity = 0.5, expect = 0.12, within = 0.1 }', "
    "'mine')) == 1)",
    "assert(hf.arrhenius_fan{})",
    "assert(hf.miner_sum{ cycles = { 1 }, life = { 2 } })",
};

static lua_State *new_state(allowance *a)
{
    *a = (allowance){UNLIMITED, 0, 0};
    lua_State *L = lua_newstate(allocate, a);
    assert_non_null(L);
    return L;
}

/* Every request of a small task, and a fair part of those of a large one: steps grow by 1/`share`. */
static void starve(allowance *a, lua_State *L, const char *task, long share)
{
    long k = 0;
    int result;
    do {
        lua_settop(L, 0);
        lua_gc(L, LUA_GCCOLLECT);
        lua_pushcfunction(L, run_chunk);
        union {
            const char *text;
            void *pointer;
        } both = {task};
        lua_pushlightuserdata(L, both.pointer);
        a->left = k;
        result = lua_pcall(L, 1, 0, 0);
        a->left = UNLIMITED;
        if (result != LUA_OK)
            check_failure(L, task, k);
        k += 1 + k / share;
        assert_true(k < 1000000);
    } while (result != LUA_OK);
}

static void test_tasks(void **state)
{
    (void)state;
    allowance a;
    lua_State *L = new_state(&a);
    lua_pushcfunction(L, open_all);
    assert_int_equal(lua_pcall(L, 0, 0, 0), LUA_OK);
    for (size_t i = 0; i < sizeof tasks / sizeof *tasks; i++)
        starve(&a, L, tasks[i], 256);
    lua_close(L);
    assert_int_equal(a.blocks, 0);
}

static void test_every_part(void **state)
{
    (void)state;
    allowance a;
    lua_State *L = new_state(&a);
    lua_pushcfunction(L, open_all);
    assert_int_equal(lua_pcall(L, 0, 0, 0), LUA_OK);
    for (size_t i = 0; i < sizeof heavy / sizeof *heavy; i++) {
        char text[1024];
        assert_true((size_t)snprintf(text, sizeof text, "local hf = require 'hairfibre' %s",
                                     heavy[i]) < sizeof text);
        starve(&a, L, text, 24);
    }
    lua_close(L);
    assert_int_equal(a.blocks, 0);
}

static void run(lua_State *L, const char *text)
{
    if (luaL_dostring(L, text) != LUA_OK)
        fail_msg("%s", lua_tostring(L, -1));
}

/* Every function of Lua: one chunk a line of starved.lua. */
static void test_every_function(void **state)
{
    (void)state;
    allowance a;
    lua_State *L = new_state(&a);
    lua_pushcfunction(L, open_all);
    assert_int_equal(lua_pcall(L, 0, 0, 0), LUA_OK);
    run(L, "part = os.tmpname() assert(require 'hairfibre'.ensemble{ population = 'asian', strands "
           "= 2,"
           "  lumped = true, cells = 20, tolerance = 1e-2, treatment = { require 'hairfibre'.soak{ "
           "duration = 1 } },"
           "  save = part .. '.csv' }) os.remove(part) part = part .. '.csv'");
    FILE *file = fopen("tests/unit/starved.lua", "r");
    assert_non_null(file);
    char line[1024], text[1100];
    int chunks = 0;
    while (fgets(line, sizeof line, file)) {
        assert_non_null(strchr(line, '\n'));
        if (line[0] == '-')
            continue;
        snprintf(text, sizeof text, "local hf = require 'hairfibre' %s", line);
        run(L, text); /* with memory enough it must succeed */
        starve(&a, L, text, 12);
        chunks++;
    }
    fclose(file);
    assert_true(chunks > 25);
    run(L, "os.remove(part) os.remove((part:gsub('csv$', 'json')))");
    lua_close(L);
    assert_int_equal(a.blocks, 0);
}

/* Opening the library takes many thousand requests: about two hundred places are tried. */
static void test_opening(void **state)
{
    (void)state;
    allowance a;
    int result = LUA_ERRMEM;
    for (long k = 0; result != LUA_OK; k += 1 + k / 24) {
        lua_State *L = new_state(&a);
        lua_pushcfunction(L, open_all);
        a.left = k;
        result = lua_pcall(L, 0, 0, 0);
        a.left = UNLIMITED;
        if (result != LUA_OK)
            check_failure(L, "require 'hairfibre'", k);
        lua_close(L);
        assert_int_equal(a.blocks, 0);
        assert_true(k < 10000000);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_opening),
        cmocka_unit_test(test_tasks),
        cmocka_unit_test(test_every_part),
        cmocka_unit_test(test_every_function),
    };
    return cmocka_run_group_tests_name("lua memory", tests, NULL, NULL);
}
