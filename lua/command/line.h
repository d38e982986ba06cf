/* Module "command.line" of the program: typed lines with history and completion. */
#ifndef HFI_LINE_H
#define HFI_LINE_H

#include <lua.h>

int hfi_open_line(lua_State *L);

#endif
