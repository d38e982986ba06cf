/* Limits on a script run by the command: memory, time, and where it may read and write. */
#ifndef HFI_COMMAND_SANDBOX_H
#define HFI_COMMAND_SANDBOX_H

#include <lua.h>
#include <signal.h>
#include <stddef.h>

/* Memory of one interpreter. `limit` 0: no limit. */
typedef struct hfi_memory {
    size_t used, limit;
} hfi_memory;

/* Set by the handler of SIGINT, read by the hook of a script under a time limit. */
extern volatile sig_atomic_t hfi_interrupted;

/* Allocator of the interpreter (lua_Alloc); `memory` is an hfi_memory. */
void *hfi_allocate(void *memory, void *block, size_t old_size, size_t new_size);

/* Module "command.system": limits on the running interpreter and questions to the system. */
int luaopen_command_system(lua_State *L);

#endif
