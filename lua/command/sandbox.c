/*
 * Limits on a script, in three layers:
 *   memory   the allocator refuses what would pass the limit; Lua then raises "not enough memory";
 *   time     a count hook raises an error once the time is over. New coroutines inherit the hook.
 *            A script that catches the error gets it again after the next few instructions;
 *   alarm    a script that still goes on GRACE seconds later (a text pattern that never ends, say)
 *            ends with the whole program. Files appear by renaming, so none is left half written.
 */
#define _XOPEN_SOURCE 700 /* realpath */

#include "sandbox.h"

#include "../core/file.h"

#include <errno.h>
#include <lauxlib.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define HOOK_EVERY 1000 /* instructions; about ten microseconds */
#define GRACE      2u   /* s */
#define TIME_MAX   1e6  /* s */
#define LIMIT_EXIT 6    /* as in exit.lua */

volatile sig_atomic_t hfi_interrupted;

static double deadline; /* s on the monotonic clock; 0: none */
static int time_is_over;

void *hfi_allocate(void *memory, void *block, size_t old_size, size_t new_size)
{
    hfi_memory *m = memory;
    if (!block)
        old_size = 0; /* Lua passes a type code there */
    if (new_size == 0) {
        free(block);
        m->used -= old_size;
        return NULL;
    }
    if (m->limit && new_size > old_size &&
        (m->used > m->limit || new_size - old_size > m->limit - m->used))
        return NULL;
    void *moved = realloc(block, new_size);
    if (moved)
        m->used = m->used - old_size + new_size;
    return moved;
}

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void look(lua_State *L, lua_Debug *unused)
{
    (void)unused;
    if (hfi_interrupted)
        luaL_error(L, "interrupted");
    if (now() < deadline)
        return;
    time_is_over = 1;
    luaL_error(L, "the time limit is reached");
}

static void give_up(int signal_number)
{
    static const char text[] =
        "hairfibre: the script did not stop at its time limit and was ended\n";
    (void)signal_number;
    if (write(STDERR_FILENO, text, sizeof text - 1) < 0)
        _exit(LIMIT_EXIT);
    _exit(LIMIT_EXIT);
}

/* limit_memory(bytes) -> bytes in use; 0 lifts the limit */
static int limit_memory(lua_State *L)
{
    const lua_Integer bytes = luaL_checkinteger(L, 1);
    luaL_argcheck(L, bytes >= 0, 1, "must not be negative");
    void *memory;
    lua_getallocf(L, &memory);
    hfi_memory *m = memory;
    m->limit = (size_t)bytes;
    lua_pushinteger(L, (lua_Integer)m->used);
    return 1;
}

/* limit_time(seconds); 0 lifts the limit */
static int limit_time(lua_State *L)
{
    const double seconds = luaL_checknumber(L, 1);
    luaL_argcheck(L, seconds >= 0 && seconds <= TIME_MAX, 1, "must lie between 0 and 1e6 s");
    if (seconds > 0) {
        deadline = now() + seconds;
        time_is_over = 0;
        signal(SIGALRM, give_up);
        alarm((unsigned)ceil(seconds) + GRACE);
        lua_sethook(L, look, LUA_MASKCOUNT, HOOK_EVERY);
    } else {
        lua_sethook(L, NULL, 0, 0);
        alarm(0);
        deadline = 0;
    }
    return 0;
}

/* was_stopped() -> "time", "interrupt" or nil */
static int was_stopped(lua_State *L)
{
    if (hfi_interrupted)
        lua_pushliteral(L, "interrupt");
    else if (time_is_over)
        lua_pushliteral(L, "time");
    else
        luaL_pushfail(L);
    return 1;
}

/* is_terminal(1 or 2) */
static int is_terminal(lua_State *L)
{
    const lua_Integer fd = luaL_checkinteger(L, 1);
    lua_pushboolean(L, fd >= 0 && fd <= 2 && isatty((int)fd));
    return 1;
}

/* real_path(path) -> absolute path without symbolic links, or nil, reason */
static int real_path(lua_State *L)
{
    const char *path = luaL_checkstring(L, 1);
    char found[PATH_MAX];
    if (!realpath(path, found)) {
        luaL_pushfail(L);
        lua_pushstring(L, hfi_error_text(errno));
        return 2;
    }
    lua_pushstring(L, found);
    return 1;
}

/* is_link(path): a symbolic link, wherever it leads */
static int is_link(lua_State *L)
{
    struct stat found;
    lua_pushboolean(L, lstat(luaL_checkstring(L, 1), &found) == 0 && S_ISLNK(found.st_mode));
    return 1;
}

/* make_folder(path) -> true, or nil, reason; parents too. A folder that exists is fine. */
static int make_folder(lua_State *L)
{
    size_t length;
    const char *given = luaL_checklstring(L, 1, &length);
    char path[PATH_MAX];
    luaL_argcheck(L, length > 0 && length < sizeof path, 1, "is empty or too long");
    memcpy(path, given, length + 1);
    for (size_t i = 1; i <= length; i++) {
        if (path[i] != '/' && path[i] != '\0')
            continue;
        const char kept = path[i];
        path[i] = '\0';
        struct stat found;
        if (mkdir(path, 0777) != 0 &&
            (errno != EEXIST || stat(path, &found) != 0 || !S_ISDIR(found.st_mode))) {
            luaL_pushfail(L);
            lua_pushstring(L, hfi_error_text(errno == EEXIST ? ENOTDIR : errno));
            return 2;
        }
        path[i] = kept;
    }
    lua_pushboolean(L, 1);
    return 1;
}

int luaopen_command_system(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"limit_memory", limit_memory}, {"limit_time", limit_time},
        {"was_stopped", was_stopped},   {"is_terminal", is_terminal},
        {"real_path", real_path},       {"is_link", is_link},
        {"make_folder", make_folder},   {NULL, NULL},
    };
    luaL_newlib(L, functions);
    return 1;
}
