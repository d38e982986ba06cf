/*
 * Runs gnuplot on a script: no shell, no user text on the command line, a time limit.
 *
 * Its standard input, output and errors are files without a name on the disk. With files instead of pipes nothing
 * can block, and no signal is raised when gnuplot ends early. The picture is handed back as bytes: what writes it
 * does so once, when all is known of it.
 */
#define _XOPEN_SOURCE 700
#include "core.h"
#include "file.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define MISSING                                                                                    \
    "gnuplot is not installed: install the Debian package gnuplot-nox (apt install gnuplot-nox)"
#define SPARE_FOLDER                                                                               \
    P_tmpdir "/.hairfibre-picture" /* for a picture that goes to a pipe or device */
#define LAST_BYTES 600             /* of stderr that are shown */

extern char **environ;

/* Opens a file without a name, in the folder of the picture: 0 or an errno value. */
static int open_nameless(const char *beside, int *fd)
{
    hfi_new_file file;
    const int error = hfi_new_file_open(&file, beside);
    *fd = error ? -1 : hfi_new_file_detach(&file);
    return error ? error : *fd < 0 ? EACCES : 0;
}

/* Waits for the child at most `seconds`; then ends it. Returns 1 when time ran out. */
static int wait_for(pid_t child, double seconds, int *status)
{
    const struct timespec pause = {0, 2000000};
    struct timespec start, t;
    clock_gettime(CLOCK_MONOTONIC, &start);
    for (;;) {
        const pid_t done = waitpid(child, status, WNOHANG);
        if (done == child)
            return 0;
        if (done < 0 && errno != EINTR) {
            *status = 1 << 8;
            return 0;
        }
        clock_gettime(CLOCK_MONOTONIC, &t);
        if ((double)(t.tv_sec - start.tv_sec) + 1e-9 * (double)(t.tv_nsec - start.tv_nsec) >
            seconds) {
            kill(child, SIGKILL);
            while (waitpid(child, status, 0) < 0 && errno == EINTR)
                continue;
            return 1;
        }
        nanosleep(&pause, NULL);
    }
}

/* Last lines of what gnuplot wrote to stderr, in one line. */
static void last_lines(int fd, char text[LAST_BYTES + 1])
{
    const off_t size = lseek(fd, 0, SEEK_END);
    lseek(fd, size > LAST_BYTES ? size - LAST_BYTES : 0, SEEK_SET);
    ssize_t got = read(fd, text, LAST_BYTES);
    while (got > 0 && (text[got - 1] == '\n' || text[got - 1] == ' '))
        got--;
    text[got > 0 ? got : 0] = '\0';
    for (char *c = text; *c; c++)
        if ((unsigned char)*c < ' ')
            *c = ' ';
}

/* The job, without Lua: 0 and an open file with the picture, an errno value, or -1 with gnuplot's own words. */
static int draw(const char *script, size_t length, const char *beside, double seconds, char **env,
                int *picture, char said[LAST_BYTES + 1])
{
    static char name[] = "gnuplot", option[] = "-d";
    char *arguments[] = {name, option, NULL};
    int in = -1, out = -1, complaints = -1;
    posix_spawn_file_actions_t actions;
    pid_t child = 0;
    int status = 0;
    int error = open_nameless(beside, &in);
    if (!error)
        error = open_nameless(beside, &out);
    if (!error)
        error = open_nameless(beside, &complaints);
    if (!error)
        error = hfi_write_all(in, script, length);
    if (!error && lseek(in, 0, SEEK_SET) != 0)
        error = errno;
    if (!error)
        error = posix_spawn_file_actions_init(&actions);
    if (!error) {
        posix_spawn_file_actions_adddup2(&actions, in, STDIN_FILENO);
        posix_spawn_file_actions_adddup2(&actions, out, STDOUT_FILENO);
        posix_spawn_file_actions_adddup2(&actions, complaints, STDERR_FILENO);
        error = posix_spawnp(&child, name, &actions, NULL, arguments, env);
        posix_spawn_file_actions_destroy(&actions);
        if (error == ENOENT) {
            snprintf(said, LAST_BYTES + 1, "%s", MISSING);
            error = -1;
        }
    }
    if (!error) {
        hfi_child = child;
        const int late = wait_for(child, seconds, &status);
        hfi_child = 0;
        if (late)
            snprintf(said, LAST_BYTES + 1, "gnuplot was stopped after %.0f s", seconds);
        else if (WIFEXITED(status) && WEXITSTATUS(status) == 127)
            snprintf(said, LAST_BYTES + 1, "%s", MISSING);
        else if (status != 0 || lseek(out, 0, SEEK_END) == 0)
            last_lines(complaints, said);
        error = late || status != 0 || lseek(out, 0, SEEK_END) == 0 ? -1 : 0;
    }
    if (in >= 0)
        close(in);
    if (complaints >= 0)
        close(complaints);
    if (!error && lseek(out, 0, SEEK_SET) == 0) {
        *picture = out;
        return 0;
    }
    if (out >= 0)
        close(out);
    return error ? error : EIO;
}

/* bytes(descriptor) -> all bytes of an open file */
static int bytes(lua_State *L)
{
    const int fd = (int)lua_tointeger(L, 1);
    luaL_Buffer out;
    luaL_buffinit(L, &out);
    for (;;) {
        char *room = luaL_prepbuffsize(&out, 65536);
        const ssize_t got = read(fd, room, 65536);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return luaL_error(L, "the picture cannot be read back: %s", hfi_error_text(errno));
        if (got == 0)
            break;
        luaL_addsize(&out, (size_t)got);
    }
    luaL_pushresult(&out);
    return 1;
}

/* A copy of the environment with a locale that is the same everywhere; kept alive on the stack. */
static char **plain_environment(lua_State *L)
{
    static char locale[] = "LC_ALL=C.UTF-8";
    size_t count = 0, kept = 0;
    while (environ && environ[count])
        count++;
    char **copy = lua_newuserdatauv(L, (count + 2) * sizeof *copy, 0);
    for (size_t i = 0; i < count; i++)
        if (strncmp(environ[i], "LC_", 3) != 0 && strncmp(environ[i], "LANG", 4) != 0 &&
            strncmp(environ[i], "GNUTERM=", 8) != 0)
            copy[kept++] = environ[i];
    copy[kept++] = locale;
    copy[kept] = NULL;
    return copy;
}

/* spawn_gnuplot(script, path beside which its files may lie [, seconds]) -> bytes of the picture, or nil, message, "tool" or
 * "file" */
static int spawn_gnuplot(lua_State *L)
{
    size_t length;
    char said[LAST_BYTES + 1] = "";
    const char *script = luaL_checklstring(L, 1, &length), *path = luaL_checkstring(L, 2);
    const double seconds = luaL_optnumber(L, 3, 30);
    char **env = plain_environment(L);
    struct stat there;
    const int direct = stat(path, &there) == 0 && !S_ISREG(there.st_mode);
    int picture = -1;
    const int error =
        draw(script, length, direct ? SPARE_FOLDER : path, seconds, env, &picture, said);
    if (error > 0)
        return hfi_lua_fail_word(L, HFI_CODE_FILE, "cannot write %s: %s", path,
                                 hfi_error_text(error));
    if (error < 0)
        return hfi_lua_fail_word(L, HFI_CODE_TOOL, "the picture could not be drawn: %s",
                                 said[0] ? said : "gnuplot failed without a word");
    /* Both fit on the stack; only what runs in bytes may raise. */
    lua_pushcfunction(L, bytes);
    lua_pushinteger(L, picture);
    const int status = lua_pcall(L, 1, 1, 0);
    close(picture);
    return status == LUA_OK ? 1 : lua_error(L);
}

void hfi_lua_open_spawn(lua_State *L)
{
    static const luaL_Reg functions[] = {{"spawn_gnuplot", spawn_gnuplot}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
}
