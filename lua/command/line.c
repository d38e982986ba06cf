/* Lines typed at a terminal: GNU readline with history and completion, for command/prompt.lua. */
#include "line.h"

#include <lauxlib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <readline/history.h>
#include <readline/readline.h>

/* readline calls back without an argument, so the state and the list under way stay here. */
static lua_State *state;
static int answers;      /* registry reference of the list of completions */
static lua_Integer next; /* entry of it to be given next */

/* Gives the entries of the list one by one, as readline asks for them. */
static char *entry(const char *text, int again)
{
    (void)text;
    if (again)
        next++;
    char *copy = NULL;
    lua_rawgeti(state, LUA_REGISTRYINDEX, answers);
    if (lua_rawgeti(state, -1, next) == LUA_TSTRING)
        copy = strdup(lua_tostring(state, -1));
    lua_pop(state, 2);
    return copy;
}

/* Asks the Lua function for what may follow; an error there means no completion. */
static char **complete(const char *text, int start, int end)
{
    (void)start;
    (void)end;
    rl_attempted_completion_over = 1;
    rl_completion_append_character = '\0';
    lua_getfield(state, LUA_REGISTRYINDEX, "hairfibre.complete");
    lua_pushstring(state, text);
    lua_pushstring(state, rl_line_buffer);
    if (lua_pcall(state, 2, 1, 0) != LUA_OK || !lua_istable(state, -1)) {
        lua_pop(state, 1);
        return NULL;
    }
    answers = luaL_ref(state, LUA_REGISTRYINDEX);
    next = 1;
    char **list = rl_completion_matches(text, entry);
    luaL_unref(state, LUA_REGISTRYINDEX, answers);
    return list;
}

/* read(prompt) -> line, or nil at the end of input. */
static int read_line(lua_State *L)
{
    const char *prompt = luaL_checkstring(L, 1);
    state = L;
    char *line = readline(prompt);
    if (!line) {
        lua_pushnil(L);
        return 1;
    }
    if (*line)
        add_history(line);
    lua_pushstring(L, line);
    free(line);
    return 1;
}

/* complete(function(word, line) -> list) sets what completion asks. */
static int set_complete(lua_State *L)
{
    luaL_checktype(L, 1, LUA_TFUNCTION);
    lua_settop(L, 1);
    lua_setfield(L, LUA_REGISTRYINDEX, "hairfibre.complete");
    rl_readline_name = "hairfibre";
    rl_attempted_completion_function = complete;
    rl_completer_word_break_characters = " \t\n\"'`@$><=;|&{}()[],+-*/%^#~";
    return 0;
}

/* load(path), save(path, lines): the history between sessions; failure is no matter. */
static int load_history(lua_State *L)
{
    lua_pushboolean(L, read_history(luaL_checkstring(L, 1)) == 0);
    return 1;
}

static int save_history(lua_State *L)
{
    const char *path = luaL_checkstring(L, 1);
    stifle_history((int)luaL_checkinteger(L, 2));
    lua_pushboolean(L, write_history(path) == 0);
    return 1;
}

int hfi_open_line(lua_State *L)
{
    static const luaL_Reg functions[] = {
        {"read", read_line},    {"complete", set_complete},
        {"load", load_history}, {"save", save_history},
        {NULL, NULL},
    };
    luaL_newlib(L, functions);
    return 1;
}
