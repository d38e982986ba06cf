/* Files: sentences for errors, and files that appear by renaming. No Lua in here. */
#ifndef HFI_LUA_FILE_H
#define HFI_LUA_FILE_H

#include <limits.h>
#include <stddef.h>

#include <sys/types.h>

/* A file being written. Where the system can, it has no name until it is complete, so that not even a kill leaves
 * anything behind; elsewhere it has a temporary name beside its final place. */
typedef struct hfi_new_file {
    char target[PATH_MAX];
    char temporary[PATH_MAX];
    int fd;
    int direct;   /* a terminal, pipe or device is written in place */
    int nameless; /* `temporary` is not there yet */
    int place;    /* among those that hfi_tidy takes away */
} hfi_new_file;

/* Sentence for an errno value, the same in every locale. */
const char *hfi_error_text(int error);

/* 0, or an errno value. */
int hfi_new_file_open(hfi_new_file *file, const char *path);
int hfi_write_all(int fd, const char *bytes, size_t count);

/* Closes, and renames when `keep`; otherwise removes. 0, or an errno value. */
int hfi_new_file_close(hfi_new_file *file, int keep);

/* Leaves the file open but without a name: its descriptor, which is the caller's from now on. */
int hfi_new_file_detach(hfi_new_file *file);

/* For a signal handler that is about to end the program: removes what is half written and has a name, and ends the
 * program that is drawing a picture. */
void hfi_tidy(void);

/* The program that hfi_tidy ends; 0: none. */
extern volatile pid_t hfi_child;

#endif
