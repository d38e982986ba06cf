/*
 * hairfibre: the program. An embedded Lua interpreter that carries the library, its Lua half and
 * the subcommands; all further work is in main.lua. No environment variable changes what it loads.
 */
#include "line.h"
#include "sandbox.h"

#include "../core/core.h"
#include "../core/file.h"
#include "../core/module.h"

#include <lauxlib.h>
#include <lualib.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

/* As in exit.lua. */
#define EXIT_OUTPUT      7
#define EXIT_INTERNAL    9
#define EXIT_INTERRUPTED 130

static lua_State *interpreter; /* for the signal handler */

static void stop(lua_State *L, lua_Debug *unused)
{
    (void)unused;
    lua_sethook(L, NULL, 0, 0);
    luaL_error(L, "interrupted");
}

/* A computation under way is asked to end with what it has; else the script is stopped. A second
 * interrupt then ends the program at once. */
static void on_interrupt(int signal_number)
{
    if (hfi_lua_busy && !hfi_lua_stop) {
        hfi_lua_stop = 1;
        signal(signal_number, on_interrupt);
        return;
    }
    signal(signal_number, SIG_DFL);
    hfi_interrupted = 1;
    /* Setting a hook is what Lua allows here. NOLINTNEXTLINE(bugprone-signal-handler) */
    lua_sethook(interpreter, stop, LUA_MASKCALL | LUA_MASKRET | LUA_MASKLINE | LUA_MASKCOUNT, 1);
}

/* A cluster asks before it kills. A computation under way ends with what it has. */
static void on_terminate(int signal_number)
{
    if (hfi_lua_busy && !hfi_lua_stop) {
        hfi_lua_stop = 1;
        signal(signal_number, on_terminate);
        return;
    }
    hfi_tidy(); /* unlink and kill only. NOLINT(bugprone-signal-handler) */
    signal(signal_number, SIG_DFL);
    (void)raise(signal_number);
}

/* Everything is found in package.preload; the search paths are set aside for `run --trust`. */
static void preload(lua_State *L)
{
    hfi_embedded_preload(L);
    luaL_getsubtable(L, LUA_REGISTRYINDEX, LUA_PRELOAD_TABLE);
    lua_pushcfunction(L, luaopen_hairfibre);
    lua_setfield(L, -2, "hairfibre");
    lua_pushcfunction(L, luaopen_command_system);
    lua_setfield(L, -2, "command.system");
    lua_pushcfunction(L, hfi_open_line);
    lua_setfield(L, -2, "command.line");
    lua_getglobal(L, "package");
    lua_getfield(L, -1, "path");
    lua_setfield(L, -2, "outside_path");
    lua_getfield(L, -1, "cpath");
    lua_setfield(L, -2, "outside_cpath");
    lua_pushliteral(L, "");
    lua_setfield(L, -2, "path");
    lua_pushliteral(L, "");
    lua_setfield(L, -2, "cpath");
    lua_pop(L, 2);
}

static int protected_main(lua_State *L)
{
    const int argc = (int)lua_tointeger(L, 1);
    char **argv = lua_touserdata(L, 2);
    luaL_checkversion(L);
    luaL_openlibs(L);
    preload(L);
    lua_getglobal(L, "require");
    lua_pushliteral(L, "command.main");
    lua_call(L, 1, 1);
    lua_createtable(L, argc, 0);
    for (int i = 1; i < argc; i++) {
        lua_pushstring(L, argv[i]);
        lua_rawseti(L, -2, i);
    }
    lua_call(L, 1, 1);
    return 1;
}

/* True when stdout is a pipe whose reader went away (`hairfibre models | head -1`). */
static int reader_is_gone(void)
{
    struct pollfd out = {STDOUT_FILENO, POLLOUT, 0};
    return poll(&out, 1, 0) > 0 && (out.revents & (POLLERR | POLLHUP)) != 0;
}

/* Exit code once everything is written: a full disk must not look like success. */
static int finish_output(int code)
{
    const int flushed = fflush(stdout) == 0;
    if ((flushed && !ferror(stdout)) || reader_is_gone())
        return code;
    fputs("hairfibre: cannot write the output; is the disk full?\n", stderr);
    return EXIT_OUTPUT;
}

int main(int argc, char **argv)
{
    hfi_memory memory = {0, 0};
    lua_State *L = lua_newstate(hfi_allocate, &memory);
    if (!L) {
        fputs("hairfibre: out of memory\n", stderr);
        return EXIT_INTERNAL;
    }
    interpreter = L;
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ,
           SIG_IGN); /* a file that may not grow is a failed write, which is told and tidied up */
    hfi_lua_signals_are_handled = 1;
    signal(SIGINT, on_interrupt);
    signal(SIGTERM, on_terminate);
    lua_pushcfunction(L, protected_main);
    lua_pushinteger(L, argc);
    lua_pushlightuserdata(L, argv);
    const int status = lua_pcall(L, 2, 1, 0);
    int code = EXIT_INTERNAL;
    if (hfi_interrupted) {
        fputs("hairfibre: interrupted\n", stderr);
        code = EXIT_INTERRUPTED;
    } else if (status == LUA_OK) {
        code = (int)lua_tointeger(L, -1);
    } else {
        const char *text = lua_tostring(L, -1);
        fprintf(stderr, "hairfibre: internal fault, please report it: %s\n",
                text ? text : "out of memory");
    }
    signal(SIGINT, SIG_DFL);
    signal(SIGTERM, SIG_DFL);
    lua_close(L);
    return finish_output(code);
}
