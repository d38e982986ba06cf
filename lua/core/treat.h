/* What simulations and ensembles read from Lua tables: fibre, room, options, steps. */
#ifndef HFI_LUA_TREAT_H
#define HFI_LUA_TREAT_H

#include "core.h"

#include <hairfibre/treatment.h>

typedef struct hfi_lua_subject {
    hf_fibre_description fibre;
    hf_room room;
    hf_simulation_options options;
} hfi_lua_subject;

/* Reads three tables of numbers over what `out` holds; unknown names raise. */
void hfi_lua_read_subject(lua_State *L, int fibre, int room, int options, hfi_lua_subject *out);

/* Pushes { cells, tolerance, lumped, samples, zones, max_steps }. */
void hfi_lua_push_options(lua_State *L, const hf_simulation_options *options);

/* Reads a list of { kind = word, numbers = { ... } } into a userdata that is pushed. */
hf_step *hfi_lua_read_steps(lua_State *L, int index, size_t *n);

/* Word of a kind ("temperature"), as descriptors have it. */
const char *hfi_lua_kind_word(hf_kind kind);

#endif
