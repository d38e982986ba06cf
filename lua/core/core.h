/*
 * core: the C half of the Lua binding. C checks and computes; names, options, units of arguments
 * and output belong to the Lua half (lua/hairfibre).
 *
 * Rules here: anything from lua.h may leave by longjmp, so a resource is opened only when the full
 * userdata that owns it exists already, or between two calls of Lua. What the model cannot answer
 * comes back as nil, message, code; a caller's mistake raises.
 */
#ifndef HFI_LUA_CORE_H
#define HFI_LUA_CORE_H

#include <hairfibre/base.h>
#include <hairfibre/quantity.h>

#include <lauxlib.h>
#include <lua.h>

#include <signal.h>

/* Both leave by longjmp: said here, compilers and analysers know it. */
LUALIB_API int luaL_error(lua_State *L, const char *format, ...) __attribute__((noreturn));
LUALIB_API int luaL_argerror(lua_State *L, int argument, const char *text)
    __attribute__((noreturn));

/* Codes that come from this side of the binding; the others are those of hf_status_code. */
#define HFI_CODE_FILE "file" /* a file could not be read or written */
#define HFI_CODE_TOOL "tool" /* a program that is called is missing or failed */

/* Pushes nil, message, code and returns 3. An empty message becomes the sentence of the status. */
int hfi_lua_fail(lua_State *L, hf_status status, const char *message);

/* The same with a formatted message (formats of lua_pushfstring) and any code. */
int hfi_lua_fail_word(lua_State *L, const char *code, const char *format, ...);

/* Parameters at this stack index; nil or none gives NULL, which is the shipped set. */
const hf_parameters *hfi_lua_parameters(lua_State *L, int index);

/* Shortest decimal text that reads back as the same double, whatever the locale; `digits` above 0
 * asks for that many significant digits instead. Not finite: nan, inf, -inf. */
#define HFI_NUMBER_SIZE 40
void hfi_number_text(char text[HFI_NUMBER_SIZE], double x, int digits);

/* Numbers of the list at this stack index, in a userdata that is pushed; nil gives NULL and pushes
 * nil. Raises on anything but numbers, naming the list. *n is set by the first list and must be met
 * by the others (start with 0). */
double *hfi_lua_doubles(lua_State *L, int index, const char *name, size_t *n);

/* Pushes n numbers as a list. */
void hfi_lua_push_list(lua_State *L, const double *values, size_t n);

/* Sets a field of the table on top of the stack. */
void hfi_lua_field_text(lua_State *L, const char *name, const char *text);
void hfi_lua_field_number(lua_State *L, const char *name, double x);

/* Pushes a list of the blank-separated words of `words` (NULL: an empty list). */
void hfi_lua_words(lua_State *L, const char *words);

/* Metatable of a userdata kind: hidden, with __gc and __close the same function. On return the
 * metatable is on the stack; `methods` (may be NULL) becomes __index. */
void hfi_lua_metatable(lua_State *L, const char *kind, lua_CFunction release,
                       const luaL_Reg *methods);

/* A signal handler that finds hfi_lua_busy above 0 may set hfi_lua_stop: the computation under way ends and
 * gives what it has so far. A host whose handler does so sets hfi_lua_signals_are_handled. */
extern volatile sig_atomic_t hfi_lua_stop, hfi_lua_busy;
extern int hfi_lua_signals_are_handled;

/* A computation begins (no stop is asked for yet), or ends. In pairs, one within another at most a few deep; nothing
 * between may raise. */
void hfi_lua_begin(void);
void hfi_lua_end(void);

/* Most threads of an ensemble, whatever is asked for; 0: no bound. */
extern int hfi_lua_most_threads;

/* Tells the garbage collector of memory that an object holds outside Lua, so that heaps of objects that look small are
 * collected in time. */
void hfi_lua_weigh(lua_State *L, size_t bytes);

/* Each topic adds its functions to the table on top of the stack. */
void hfi_lua_open_status(lua_State *L);
void hfi_lua_open_descriptor(lua_State *L);
void hfi_lua_open_quantity(lua_State *L);
void hfi_lua_open_parameters(lua_State *L);
void hfi_lua_open_sources(lua_State *L);
void hfi_lua_open_units(lua_State *L);
void hfi_lua_open_numbers(lua_State *L);
void hfi_lua_open_csv(lua_State *L);
void hfi_lua_open_file(lua_State *L);
void hfi_lua_open_spawn(lua_State *L);
void hfi_lua_open_embedded(lua_State *L);
void hfi_lua_open_history(lua_State *L);
void hfi_lua_open_fatigue(lua_State *L);
void hfi_lua_open_scanning(lua_State *L);
void hfi_lua_open_statistics(lua_State *L);
void hfi_lua_open_treatment(lua_State *L);
void hfi_lua_open_uncertainty(lua_State *L);
void hfi_lua_open_ensemble(lua_State *L);
void hfi_lua_open_fit(lua_State *L);
void hfi_lua_open_import(lua_State *L);
void hfi_lua_open_checksum(lua_State *L);

#endif
