/*
 * Lua under an allocator that fails: every task is run with the k-th request and all after it
 * refused, k = 1, 2, ... until it succeeds. Nothing may crash, leak (seen by the address sanitizer)
 * or stay broken: the same interpreter goes on from failure to success.
 */
#include "check.h"

#include "../../lua/core/module.h"

#include <lauxlib.h>
#include <lualib.h>
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

static lua_State *new_state(allowance *a)
{
    *a = (allowance){UNLIMITED, 0, 0};
    lua_State *L = lua_newstate(allocate, a);
    assert_non_null(L);
    return L;
}

static void test_tasks(void **state)
{
    (void)state;
    allowance a;
    lua_State *L = new_state(&a);
    lua_pushcfunction(L, open_all);
    assert_int_equal(lua_pcall(L, 0, 0, 0), LUA_OK);
    for (size_t i = 0; i < sizeof tasks / sizeof *tasks; i++) {
        long k = 0;
        int result;
        do {
            lua_settop(L, 0);
            lua_gc(L, LUA_GCCOLLECT);
            lua_pushcfunction(L, run_chunk);
            union {
                const char *text;
                void *pointer;
            } task = {tasks[i]};
            lua_pushlightuserdata(L, task.pointer);
            a.left = k;
            result = lua_pcall(L, 1, 0, 0);
            a.left = UNLIMITED;
            if (result != LUA_OK)
                check_failure(L, tasks[i], k);
            /* Every request of small tasks, and a fair part of large ones. */
            k += 1 + k / 256;
            assert_true(k < 1000000);
        } while (result != LUA_OK);
    }
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
    };
    return cmocka_run_group_tests_name("lua memory", tests, NULL, NULL);
}
