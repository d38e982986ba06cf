#define _XOPEN_SOURCE 700 /* setitimer */
#include "lua_kit.h"

#include "../../lua/command/sandbox.h"
#include "../../lua/core/module.h"

#include <lualib.h>
#include <setjmp.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/time.h>

#define MEMORY_MOST ((size_t)300 << 20)
#define LINES_MOST  2000000L /* of Lua for one input */
#define SECONDS_MOST                                                                               \
    5 /* of the processor, for a script that is in a call which does not come back */

/* libFuzzer takes these as further counters when the section is there. */
__attribute__((section("__libfuzzer_extra_counters"), used)) static uint8_t lines_seen[1 << 15];

static lua_State *state;
static hfi_memory memory;
static long lines_left;

static void on_line(lua_State *L, lua_Debug *ar)
{
    if (lua_getinfo(L, "S", ar) && ar->source[0] == '=') {
        /* The name of the source lives as long as the interpreter. */
        const uint64_t key =
            ((uint64_t)(uintptr_t)ar->source + (uint64_t)ar->currentline) * 0x9E3779B97F4A7C15u;
        uint8_t *seen = &lines_seen[(key >> 40) % sizeof lines_seen];
        *seen = (uint8_t)(*seen + (*seen < 255));
    }
    if (--lines_left <= 0)
        luaL_error(L, "enough of this input");
}

static int open_kit(lua_State *L)
{
    luaL_openlibs(L);
    hfi_embedded_preload(L);
    luaL_getsubtable(L, LUA_REGISTRYINDEX, LUA_PRELOAD_TABLE);
    lua_pushcfunction(L, luaopen_hairfibre);
    lua_setfield(L, -2, "hairfibre");
    lua_pushcfunction(L, luaopen_command_system);
    lua_setfield(L, -2, "command.system");
    lua_settop(L, 0);
    if (luaL_dofile(L, "tests/fuzz/kit.lua"))
        return lua_error(L);
    lua_setfield(L, LUA_REGISTRYINDEX, "kit");
    return 0;
}

lua_State *fz_lua(const char *name)
{
    if (!state) {
        memory = (hfi_memory){0, 0};
        state = lua_newstate(hfi_allocate, &memory);
        lua_pushcfunction(state, open_kit);
        if (lua_pcall(state, 0, 0, 0) != LUA_OK)
            fz_fail("kit.lua: %s", lua_tostring(state, -1));
        memory.limit = memory.used + MEMORY_MOST;
    }
    lua_settop(state, 0);
    lua_getfield(state, LUA_REGISTRYINDEX, "kit");
    if (lua_getfield(state, -1, name) != LUA_TFUNCTION)
        fz_fail("kit.lua has no %s", name);
    return state;
}

void fz_lua_call(lua_State *L, int n)
{
    lines_left = LINES_MOST;
    lua_sethook(L, on_line, LUA_MASKLINE, 0);
    const int status = lua_pcall(L, n, 0, 0);
    lua_sethook(L, NULL, 0, 0);
    const char *text = status == LUA_OK ? "" : lua_tostring(L, -1);
    if (!text)
        fz_fail("an error that is no text");
    /* Broken off somewhere: what the handler had put on may not have been taken off. */
    if (status == LUA_ERRMEM || strstr(text, "not enough memory") ||
        strstr(text, "enough of this input")) {
        lua_close(state);
        state = NULL;
    } else if (status != LUA_OK) {
        fz_fail("%s", text);
    }
}

int fz_lua_text(const char *name, const uint8_t *bytes, size_t count)
{
    lua_State *L = fz_lua(name);
    lua_pushlstring(L, (const char *)bytes, count);
    fz_lua_call(L, 1);
    return 0;
}

static sigjmp_buf out_of_time;

static void enough(int signal_number)
{
    (void)signal_number;
    siglongjmp(out_of_time, 1);
}

static void ring_after(int seconds)
{
    struct itimerval timer = {{0, 0}, {0, 0}};
    timer.it_value.tv_sec = seconds;
    setitimer(ITIMER_VIRTUAL, &timer, NULL);
}

int fz_lua_script(const uint8_t *bytes, size_t count)
{
    signal(SIGVTALRM, enough);
    if (sigsetjmp(out_of_time, 1) == 0) {
        ring_after(SECONDS_MOST);
        fz_lua_text("script", bytes, count);
    } else {
        state = NULL; /* left as it is: half-way through something */
    }
    ring_after(0);
    return 0;
}
