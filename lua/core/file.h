/* Files: sentences for errors, and files that appear by renaming. No Lua in here. */
#ifndef HFI_LUA_FILE_H
#define HFI_LUA_FILE_H

#include <limits.h>
#include <stddef.h>

/* A file being written beside its final place. */
typedef struct hfi_new_file {
    char target[PATH_MAX];
    char temporary[PATH_MAX];
    int fd;
    int direct; /* a terminal, pipe or device is written in place */
} hfi_new_file;

/* Sentence for an errno value, the same in every locale. */
const char *hfi_error_text(int error);

/* 0, or an errno value. */
int hfi_new_file_open(hfi_new_file *file, const char *path);
int hfi_write_all(int fd, const char *bytes, size_t count);

/* Closes, and renames when `keep`; otherwise removes. 0, or an errno value. */
int hfi_new_file_close(hfi_new_file *file, int keep);

#endif
