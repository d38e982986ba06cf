/*
 * Statistics: numbers in, a table of fields out, or nil, message, code. Names, options and defaults
 * belong to hairfibre.statistics. One file a topic; each puts its functions into the table on top.
 */
#ifndef HFI_LUA_STATISTICS_H
#define HFI_LUA_STATISTICS_H

#include "core.h"

void hfi_stat_open_shares(lua_State *L);
void hfi_stat_open_ranks(lua_State *L);
void hfi_stat_open_strands(lua_State *L);

/* Fields of the table on top; a number that is none leaves its field out. */
void hfi_stat_number(lua_State *L, const char *name, double x);
void hfi_stat_whole(lua_State *L, const char *name, long x);
void hfi_stat_truth(lua_State *L, const char *name, int x);

/* One number, or nil, message, code. */
int hfi_stat_single(lua_State *L, hf_status status, double x);

long hfi_stat_count(lua_State *L, int index);

#endif
