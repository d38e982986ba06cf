/*
 * The model of a fit: a function of Lua, or a built-in one with a stop.
 *
 * A function of Lua is called in protected mode, so that nothing leaves through the solver: an error is kept, the
 * fit is stopped with HF_ESTOPPED, and the error is given back (a text) or raised again (anything else) once the
 * solver has returned. Such a fit runs in one thread.
 */
#include "fit_box.h"

#include <math.h>

hfi_fit_box *hfi_fit_check(lua_State *L)
{
    hfi_fit_box *b = luaL_checkudata(L, 1, HFI_FIT);
    luaL_argcheck(L, b->fit, 1, "this fit is closed");
    return b;
}

/* ---- the model as a function of Lua -------------------------------------------------------------- */

typedef struct request {
    hfi_fit_box *b;
    size_t n;
    const double *x, *p;
    double *y;
    int answered;
} request;

static void push_row(lua_State *L, const request *r, size_t i)
{
    const size_t k = r->b->columns;
    if (k == 1) {
        lua_pushnumber(L, r->x[i]);
        return;
    }
    lua_createtable(L, (int)k, 0);
    for (size_t c = 0; c < k; c++) {
        lua_pushnumber(L, r->x[i * k + c]);
        lua_rawseti(L, -2, (lua_Integer)c + 1);
    }
}

/* A number, or an answer that the model does not have (nil, not finite). Anything else raises. */
static int take(lua_State *L, double *y)
{
    if (lua_isnil(L, -1))
        return 0;
    if (lua_type(L, -1) != LUA_TNUMBER)
        luaL_error(L, "the model must give a number (nil where it has no answer), not a %s",
                   luaL_typename(L, -1));
    *y = lua_tonumber(L, -1);
    return isfinite(*y);
}

static int ask(lua_State *L)
{
    request *r = lua_touserdata(L, 1);
    /* The list of parameters keeps its place; names and numbers both lead to the values. */
    lua_pushvalue(L, 3);
    for (size_t j = 0; j < r->b->parameters; j++) {
        lua_pushnumber(L, r->p[j]);
        lua_rawseti(L, 3, (lua_Integer)j + 1);
        lua_rawgeti(L, 4, (lua_Integer)j + 1);
        lua_pushnumber(L, r->p[j]);
        lua_rawset(L, 3);
    }
    lua_settop(L, 4);
    if (!r->b->whole) {
        for (size_t i = 0; i < r->n; i++) {
            lua_pushvalue(L, 2);
            push_row(L, r, i);
            lua_pushvalue(L, 3);
            lua_call(L, 2, 1);
            if (!take(L, &r->y[i]))
                return 0;
            lua_settop(L, 4);
        }
        r->answered = 1;
        return 0;
    }
    lua_pushvalue(L, 2);
    lua_createtable(L, (int)r->n, 0);
    for (size_t i = 0; i < r->n; i++) {
        push_row(L, r, i);
        lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    lua_pushvalue(L, 3);
    lua_call(L, 2, 1);
    if (lua_isnil(L, 5))
        return 0;
    if (lua_type(L, 5) != LUA_TTABLE || (size_t)lua_rawlen(L, 5) != r->n)
        return luaL_error(L, "the model must give a list of %I numbers, one for each x",
                          (LUAI_UACINT)r->n);
    for (size_t i = 0; i < r->n; i++) {
        lua_rawgeti(L, 5, (lua_Integer)i + 1);
        if (!take(L, &r->y[i]))
            return 0;
        lua_settop(L, 5);
    }
    r->answered = 1;
    return 0;
}

hf_status hfi_fit_call_all(size_t n, const double *x, const double *p, void *user, double *y)
{
    hfi_fit_box *b = user;
    lua_State *L = b->L;
    request r = {b, n, x, p, y, 0};
    if (hfi_lua_stop || b->failed || !lua_checkstack(L, 8))
        return HF_ESTOPPED;
    lua_pushcfunction(L, ask);
    lua_pushlightuserdata(L, &r);
    lua_getiuservalue(L, b->self, HFI_FIT_FUNCTION);
    lua_getiuservalue(L, b->self, HFI_FIT_LIST);
    lua_getiuservalue(L, b->self, HFI_FIT_NAMES);
    if (lua_pcall(L, 4, 0, 0) != LUA_OK) {
        lua_replace(L, b->error);
        b->failed = 1;
        return HF_ESTOPPED;
    }
    return r.answered ? HF_OK : HF_ERANGE;
}

/* ---- built-in models, with a stop ------------------------------------------------------------------ */

hf_status hfi_fit_model_value(const double *x, const double *p, void *user, double *y)
{
    const hfi_fit_box *b = user;
    return hfi_lua_stop ? HF_ESTOPPED : b->model->value(x, p, NULL, y);
}

hf_status hfi_fit_model_values(size_t n, const double *x, const double *p, void *user, double *y)
{
    const hfi_fit_box *b = user;
    return hfi_lua_stop ? HF_ESTOPPED : b->model->values(n, x, p, NULL, y);
}

hf_status hfi_fit_model_gradient(const double *x, const double *p, void *user, double *g)
{
    const hfi_fit_box *b = user;
    return b->model->gradient(x, p, NULL, g);
}

hf_status hfi_fit_model_starter(size_t n, const double *x, const double *y, void *user, double *p)
{
    const hfi_fit_box *b = user;
    return b->model->starter(n, x, y, NULL, p);
}

/* ---- around every call ----------------------------------------------------------------------------- */

hfi_fit_box *hfi_fit_enter(lua_State *L)
{
    hfi_fit_box *b = hfi_fit_check(L);
    if (b->L)
        luaL_error(L, "this fit is being computed: its model must not call it");
    lua_pushnil(L);
    b->error = lua_gettop(L);
    b->self = 1;
    b->failed = 0;
    b->L = L;
    if (b->model)
        hfi_lua_begin();
    else if (!hfi_lua_busy)
        hfi_lua_stop = 0;
    return b;
}

/* Ends a computation; raises again what the function raised, unless that is a text. */
void hfi_fit_leave(hfi_fit_box *b)
{
    lua_State *L = b->L;
    if (b->model)
        hfi_lua_end();
    b->L = NULL;
    if (b->failed && lua_type(L, b->error) != LUA_TSTRING) {
        lua_pushvalue(L, b->error);
        lua_error(L);
    }
}

int hfi_fit_failure(lua_State *L, const hfi_fit_box *b, hf_status status, const char *message)
{
    if (b->failed)
        return hfi_lua_fail_word(L, "model", "the model failed: %s", lua_tostring(L, b->error));
    return hfi_lua_fail(L, status, message);
}
