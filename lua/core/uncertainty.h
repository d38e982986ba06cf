/* What analyses of quantities and of treatments give to Lua. */
#ifndef HFI_LUA_UNCERTAINTY_H
#define HFI_LUA_UNCERTAINTY_H

#include "core.h"

#include <hairfibre/uncertainty.h>

/* Read options of an analysis from the table at this index. */
hf_sensitivity_options hfi_lua_sensitivity_options(lua_State *L, int index);
hf_screening_options hfi_lua_screening_options(lua_State *L, int index);

/* Push a list of factors with their indices or effects, and a summary; returns 2. */
int hfi_lua_push_indices(lua_State *L, const hf_factor *factor, const hf_index *index, size_t n,
                         const hf_sensitivity *summary);
int hfi_lua_push_effects(lua_State *L, const hf_factor *factor, const hf_effect *effect, size_t n,
                         const hf_sensitivity *summary);

#endif
