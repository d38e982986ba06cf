/*
 * Limits on a script, in three layers:
 *   memory   the allocator refuses what would pass the limit; Lua then raises "not enough memory". What the C
 *            library takes beside it is bounded by the system: the process may grow by the limit and a margin, and a
 *            call that wants more answers "out of memory";
 *   time     a count hook raises an error once the time is over. New coroutines inherit the hook.
 *            A script that catches the error gets it again after the next few instructions;
 *   alarm    a script that still goes on GRACE seconds later (a text pattern that never ends, say)
 *            ends with the whole program. Files appear by renaming, so none is left half written.
 */
#define _XOPEN_SOURCE 700 /* realpath */

#include "sandbox.h"

#include "../core/core.h"
#include "../core/file.h"

#include <errno.h>
#include <lauxlib.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

#define HOOK_EVERY 1000 /* instructions; about ten microseconds */
#define GRACE      2    /* s */
#define TIME_MAX   1e6  /* s */
#define LIMIT_EXIT 6    /* as in exit.lua */

/* The process may take this much more than the script's limit, and this for each thread: stacks are counted whole. */
#define MARGIN        ((rlim_t)64 << 20)
#define THREAD_MARGIN ((rlim_t)12 << 20)

/* Sanitizers hold memory in ways of their own. */
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define SANITIZED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#define SANITIZED 1
#endif
#endif

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
    hfi_tidy(); /* unlink and kill only. NOLINT(bugprone-signal-handler) */
    if (write(STDERR_FILENO, text, sizeof text - 1) < 0)
        _exit(LIMIT_EXIT);
    _exit(LIMIT_EXIT);
}

/* Bytes of data that the process holds; 0 when the system does not say. */
static rlim_t data_held(void)
{
    unsigned long pages = 0;
#ifndef SANITIZED
    FILE *file = fopen("/proc/self/statm", "r");
    if (!file)
        return 0;
    if (fscanf(file, "%*u %*u %*u %*u %*u %lu", &pages) != 1)
        pages = 0;
    fclose(file);
#endif
    return (rlim_t)pages * (rlim_t)sysconf(_SC_PAGESIZE);
}

/* Bounds what the whole process holds; 0 lifts the bound. Threads are no more than processors meanwhile. */
static void limit_process(rlim_t more)
{
    static struct rlimit before;
    static int limited;
    if (limited)
        setrlimit(RLIMIT_DATA, &before);
    limited = 0;
    hfi_lua_most_threads = 0;
    const rlim_t held = more ? data_held() : 0;
    if (!held || getrlimit(RLIMIT_DATA, &before) != 0)
        return;
    const long processors = sysconf(_SC_NPROCESSORS_ONLN);
    hfi_lua_most_threads = processors > 0 ? (int)processors : 1;
    struct rlimit now = before;
    const rlim_t most = held + more + MARGIN + THREAD_MARGIN * (rlim_t)hfi_lua_most_threads;
    if (now.rlim_cur == RLIM_INFINITY || most < now.rlim_cur)
        now.rlim_cur = most;
    limited = setrlimit(RLIMIT_DATA, &now) == 0;
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
    limit_process(m->limit > m->used ? m->limit - m->used : 0);
    lua_pushinteger(L, (lua_Integer)m->used);
    return 1;
}

static void ring_after(double seconds)
{
    struct itimerval timer = {{0, 0}, {0, 0}};
    timer.it_value.tv_sec = (time_t)seconds;
    timer.it_value.tv_usec = (suseconds_t)(1e6 * (seconds - floor(seconds)));
    setitimer(ITIMER_REAL, &timer, NULL);
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
        ring_after(seconds + GRACE);
        lua_sethook(L, look, LUA_MASKCOUNT, HOOK_EVERY);
    } else {
        lua_sethook(L, NULL, 0, 0);
        ring_after(0);
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
