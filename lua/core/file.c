/* Reading a whole file, and writing one so that it appears complete or not at all. */
/* O_TMPFILE; realpath. NOLINTNEXTLINE(bugprone-reserved-identifier) */
#define _GNU_SOURCE
#include "file.h"
#include "core.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define KIND  "hairfibre.file"
#define TRIES 100
#define NAMED 8 /* files with temporary names at a time that a signal handler knows */

volatile pid_t hfi_child;

/* Temporary names of the files being written, for hfi_tidy. */
static const char *volatile named[NAMED];

const char *hfi_error_text(int error)
{
    switch (error) {
    case ENOENT:
        return "there is no such file or folder";
    case ENOTDIR:
        return "a part of the path is not a folder";
    case EISDIR:
        return "it is a folder, not a file";
    case EACCES:
    case EPERM:
        return "permission is denied";
    case EROFS:
        return "the disk is read-only";
    case ENOSPC:
#ifdef EDQUOT
    case EDQUOT:
#endif
        return "the disk is full";
    case EFBIG:
        return "the file would be larger than it may be";
    case ENAMETOOLONG:
        return "the name is too long";
    case EMFILE:
    case ENFILE:
        return "too many files are open";
    case ENOMEM:
        return "out of memory";
    case EPIPE:
        return "the reader went away";
    default:
        return "the system refuses";
    }
}

int hfi_write_all(int fd, const char *bytes, size_t count)
{
    while (count) {
        const ssize_t done = write(fd, bytes, count);
        if (done < 0 && errno == EINTR)
            continue;
        if (done < 0)
            return errno;
        bytes += done;
        count -= (size_t)done;
    }
    return 0;
}

static int remember(const char *path)
{
    for (int i = 0; i < NAMED; i++)
        if (!named[i]) {
            named[i] = path;
            return i;
        }
    return -1;
}

static void forget(int place)
{
    if (place >= 0)
        named[place] = NULL;
}

void hfi_tidy(void)
{
    for (int i = 0; i < NAMED; i++)
        if (named[i])
            unlink(named[i]);
    if (hfi_child > 0)
        kill(hfi_child, SIGKILL);
}

/* The link through which a file without a name gets one. */
static void link_of(int fd, char path[64])
{
    snprintf(path, 64, "/proc/self/fd/%d", fd);
}

/* A file without a name in the folder of the target; -1 where the system or the disk knows none. */
static int open_nameless(const hfi_new_file *file, int folder)
{
#ifdef O_TMPFILE
    char path[PATH_MAX], link[64];
    struct stat found;
    snprintf(path, sizeof path, "%.*s", folder, folder ? file->target : "");
    const int fd = open(folder ? path : ".", O_TMPFILE | O_RDWR | O_CLOEXEC, 0666);
    if (fd < 0)
        return -1;
    link_of(fd, link);
    if (lstat(link, &found) == 0)
        return fd;
    close(fd);
#else
    (void)file, (void)folder;
#endif
    return -1;
}

static int temporary_name(hfi_new_file *file, int folder, int i)
{
    const int n = snprintf(file->temporary, sizeof file->temporary, "%.*s.hairfibre-%ld-%d.tmp",
                           folder, file->target, (long)getpid(), i);
    return n < 0 || (size_t)n >= sizeof file->temporary ? ENAMETOOLONG : 0;
}

static int folder_of(const hfi_new_file *file)
{
    const char *slash = strrchr(file->target, '/');
    return slash ? (int)(slash - file->target) + 1 : 0;
}

int hfi_new_file_open(hfi_new_file *file, const char *path)
{
    struct stat found;
    file->fd = file->place = -1;
    file->direct = file->nameless = 0;
    if (strlen(path) >= sizeof file->target)
        return ENAMETOOLONG;
    strcpy(file->target, path);
    if (stat(path, &found) == 0) {
        if (S_ISDIR(found.st_mode))
            return EISDIR;
        if (!S_ISREG(found.st_mode)) {
            file->direct = 1;
            file->fd = open(path, O_WRONLY | O_CLOEXEC);
            return file->fd < 0 ? errno : 0;
        }
        /* Renaming onto a symbolic link would replace the link: write where it leads. */
        char real[PATH_MAX];
        if (realpath(path, real))
            strcpy(file->target, real);
        if (access(file->target, W_OK) != 0)
            return errno;
    }
    const int folder = folder_of(file);
    const char *name = file->target + folder;
    if (strlen(name) > NAME_MAX) /* told now, not when all is written */
        return ENAMETOOLONG;
    file->fd = open_nameless(file, folder);
    file->nameless = file->fd >= 0;
    for (int i = 0; i < TRIES && file->fd < 0; i++) {
        const int error = temporary_name(file, folder, i);
        if (error)
            return error;
        file->fd = open(file->temporary, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (file->fd < 0 && errno != EEXIST)
            return errno;
        if (file->fd >= 0)
            file->place = remember(file->temporary);
    }
    return file->fd < 0 ? EEXIST : 0;
}

/* Gives a file without a name its final one, by way of a temporary one when that is taken: a link replaces nothing,
 * renaming does. 0, or an errno value. */
static int give_name(hfi_new_file *file)
{
    char link[64];
    link_of(file->fd, link);
    if (linkat(AT_FDCWD, link, AT_FDCWD, file->target, AT_SYMLINK_FOLLOW) == 0)
        return 0;
    int error = errno;
    for (int i = 0; i < TRIES && error == EEXIST; i++) {
        error = temporary_name(file, folder_of(file), i);
        if (!error && linkat(AT_FDCWD, link, AT_FDCWD, file->temporary, AT_SYMLINK_FOLLOW) != 0)
            error = errno;
    }
    if (!error && rename(file->temporary, file->target) != 0) {
        error = errno;
        unlink(file->temporary);
    }
    return error;
}

int hfi_new_file_close(hfi_new_file *file, int keep)
{
    if (file->fd < 0)
        return 0;
    /* On the disk before it gets its name: a cut of the power must not leave a name without bytes. A file system that
     * cannot says EINVAL. */
    int error = keep && !file->direct && fsync(file->fd) != 0 && errno != EINVAL ? errno : 0;
    if (file->nameless && keep && !error)
        error = give_name(file);
    if (close(file->fd) != 0 && !error)
        error = errno;
    file->fd = -1;
    if (file->direct || file->nameless)
        return error;
    if (keep && !error && rename(file->temporary, file->target) != 0)
        error = errno;
    if (!keep || error)
        unlink(file->temporary);
    forget(file->place);
    return error;
}

int hfi_new_file_detach(hfi_new_file *file)
{
    if (!file->direct && !file->nameless)
        unlink(file->temporary);
    forget(file->place);
    return file->fd;
}

/* Writes what the function at index 2 gives, a text a call until nil. 0, an errno, or -1 when it failed: its message is
 * on the stack. */
static int write_pieces(lua_State *L, int fd)
{
    for (;;) {
        size_t length;
        lua_pushvalue(L, 2);
        if (lua_pcall(L, 0, 1, 0) != LUA_OK)
            return -1;
        const char *text = lua_tolstring(L, -1, &length);
        const int error = text ? hfi_write_all(fd, text, length) : 0;
        lua_pop(L, 1);
        if (!text || error)
            return error;
    }
}

/* write(path, text or function) -> true, or nil, message, "file". A function is called for one piece after the
 * other until it gives nil. */
static int write_file(lua_State *L)
{
    size_t length = 0;
    hfi_new_file file;
    const int pieces = lua_isfunction(L, 2);
    const char *path = luaL_checkstring(L, 1);
    const char *text = pieces ? "" : luaL_checklstring(L, 2, &length);
    int error = hfi_new_file_open(&file, path);
    if (!error)
        error = pieces ? write_pieces(L, file.fd) : hfi_write_all(file.fd, text, length);
    const int closed = hfi_new_file_close(&file, !error);
    if (error == -1)
        return lua_error(L);
    if (!error)
        error = closed;
    if (error)
        return hfi_lua_fail_word(L, HFI_CODE_FILE, "cannot write %s: %s", path,
                                 hfi_error_text(error));
    lua_pushboolean(L, 1);
    return 1;
}

typedef struct box {
    int fd;
} box;

static int release(lua_State *L)
{
    box *b = luaL_checkudata(L, 1, KIND);
    if (b->fd >= 0)
        close(b->fd);
    b->fd = -1;
    return 0;
}

/* read(path) -> all bytes of the file, or nil, message, "file" */
static int read_file(lua_State *L)
{
    const char *path = luaL_checkstring(L, 1);
    box *b = lua_newuserdatauv(L, sizeof *b, 0);
    b->fd = -1;
    luaL_setmetatable(L, KIND);
    luaL_Buffer out;
    luaL_buffinit(L, &out);
    int error = 0;
    b->fd = open(path, O_RDONLY | O_CLOEXEC);
    while (b->fd >= 0) {
        char *room = luaL_prepbuffsize(&out, 65536);
        const ssize_t got = read(b->fd, room, 65536);
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0) {
            error = got < 0 ? errno : 0;
            break;
        }
        luaL_addsize(&out, (size_t)got);
    }
    if (b->fd < 0)
        error = errno;
    else
        close(b->fd);
    b->fd = -1;
    if (error)
        return hfi_lua_fail_word(L, HFI_CODE_FILE, "cannot read %s: %s", path,
                                 hfi_error_text(error));
    luaL_pushresult(&out);
    return 1;
}

void hfi_lua_open_file(lua_State *L)
{
    static const luaL_Reg functions[] = {{"write", write_file}, {"read", read_file}, {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
    hfi_lua_metatable(L, KIND, release, NULL);
    lua_pop(L, 1);
}
