/*
 * Calls of quantities with numbers and lists.
 *
 * Lists are read and written element by element with lua_rawgeti/lua_rawseti, so no scratch memory
 * is needed. A usual value is put in here; a failing element is asked again through
 * hf_quantity_evaluate, which finds the sentence.
 */
#include "core.h"

#include <math.h>
#include <stdio.h>

#define FIRST 4 /* stack index of the first argument of the quantity */

/* Bits of the way a call is answered. */
#define WIDE 1 /* with low and high */
#define EACH 2 /* goes on after a failure, and gives the list of codes too */

typedef struct call {
    const hf_quantity *quantity;
    const hf_parameters *set;
    unsigned flags;
    lua_Integer length; /* of the lists; -1: only numbers */
    int is_list[HF_ARGUMENTS_MAX];
    double value[HF_ARGUMENTS_MAX]; /* numbers and usual values */
    double y[3];                    /* value, low, high */
} call;

/* A mistake of the caller, for the Lua half to raise at the right line: false, message. */
static int misuse(lua_State *L, const char *pushed)
{
    (void)pushed;
    lua_pushboolean(L, 0);
    lua_insert(L, -2);
    return 2;
}

/* Reads the arguments; 0 when all is well, otherwise the number of results to return. */
static int read_call(lua_State *L, call *c)
{
    const lua_Integer index = luaL_checkinteger(L, 1);
    c->quantity = index >= 1 ? hf_quantity_at((size_t)index - 1) : NULL;
    if (!c->quantity)
        return misuse(L, lua_pushstring(L, "no such quantity"));
    c->set = hfi_lua_parameters(L, 2);
    c->flags = (unsigned)luaL_checkinteger(L, 3);
    c->length = -1;
    const hf_quantity *q = c->quantity;
    const int count = (int)q->argument_count;
    if (lua_gettop(L) > FIRST - 1 + count)
        return misuse(L, lua_pushfstring(L, "%s takes %d argument%s, not %d", q->name, count,
                                         count == 1 ? "" : "s", lua_gettop(L) - FIRST + 1));
    lua_settop(L, FIRST - 1 + count);
    int first_list = 0;
    for (int i = 0; i < count; i++) {
        const hf_argument *a = &q->arguments[i];
        const int type = lua_type(L, FIRST + i);
        c->is_list[i] = type == LUA_TTABLE;
        c->value[i] = type == LUA_TNUMBER ? lua_tonumber(L, FIRST + i) : a->usual;
        if (type == LUA_TTABLE) {
            const lua_Integer n = (lua_Integer)lua_rawlen(L, FIRST + i);
            if (c->length >= 0 && n != c->length)
                return misuse(L, lua_pushfstring(L,
                                                 "lists of unequal length: %s has %I values, "
                                                 "%s has %I",
                                                 q->arguments[first_list].name,
                                                 (LUAI_UACINT)c->length, a->name, (LUAI_UACINT)n));
            if (c->length < 0)
                first_list = i;
            c->length = n;
        } else if (type == LUA_TNIL) {
            if (isnan(a->usual) && q->evaluate)
                return misuse(L, lua_pushfstring(L, "%s: %s is missing", q->name, a->name));
        } else if (type != LUA_TNUMBER) {
            return misuse(L, lua_pushfstring(L, "%s must be a number or a list, not a %s", a->name,
                                             luaL_typename(L, FIRST + i)));
        }
    }
    return 0;
}

/* Reads element i of every list; 0 when all are numbers. A text is handed back to the Lua half as
 * false, nil, argument, element, so that lists of plain numbers cost nothing. */
static int read_element(lua_State *L, call *c, lua_Integer i)
{
    for (int k = 0; k < (int)c->quantity->argument_count; k++) {
        if (!c->is_list[k])
            continue;
        const int type = lua_rawgeti(L, FIRST + k, i);
        if (type == LUA_TNUMBER) {
            c->value[k] = lua_tonumber(L, -1);
            lua_pop(L, 1);
        } else if (type == LUA_TSTRING) {
            lua_settop(L, 0);
            lua_pushboolean(L, 0);
            lua_pushnil(L);
            lua_pushinteger(L, k + 1);
            lua_pushinteger(L, i);
            return 4;
        } else {
            return misuse(L, lua_pushfstring(L, "%s[%I] must be a number, not a %s",
                                             c->quantity->arguments[k].name, (LUAI_UACINT)i,
                                             luaL_typename(L, -1)));
        }
    }
    return 0;
}

/* One state. NaN must not pass for "the usual value", which hf_quantity_evaluate would make of it.
 */
static hf_status answer(call *c, int how)
{
    const hf_quantity *q = c->quantity;
    if (!q->evaluate)
        return HF_ENOMODEL;
    for (size_t k = 0; k < q->argument_count; k++)
        if (isnan(c->value[k]))
            return HF_EINVAL;
    if (how & WIDE)
        return hf_quantity_range(q, c->value, c->set, c->flags, &c->y[0], &c->y[1], &c->y[2], NULL);
    return q->evaluate(c->value, c->set, c->flags, &c->y[0]);
}

/* Sentence for the state in `c`, after a failure or an extrapolation; on the stack. */
static const char *explain(lua_State *L, call *c, lua_Integer element)
{
    const hf_quantity *q = c->quantity;
    hf_message message = {""};
    double y;
    for (size_t k = 0; k < q->argument_count && !message.text[0] && q->evaluate; k++)
        if (isnan(c->value[k]))
            snprintf(message.text, sizeof message.text, "%s must be a finite number",
                     q->arguments[k].name);
    if (!message.text[0] &&
        hf_quantity_evaluate(q, c->value, c->set, c->flags, &y, &message) == HF_OK)
        message.text[0] = '\0';
    if (c->length >= 0 && q->evaluate)
        return lua_pushfstring(L, "%s (element %I of the list)", message.text,
                               (LUAI_UACINT)element);
    return lua_pushstring(L, message.text);
}

static int fail(lua_State *L, call *c, hf_status status, lua_Integer element)
{
    return hfi_lua_fail(L, status, explain(L, c, element));
}

static int run_number(lua_State *L, call *c, int how)
{
    const int outputs = how & WIDE ? 3 : 1;
    const hf_status status = answer(c, how);
    if (hf_failed(status))
        return fail(L, c, status, 0);
    for (int k = 0; k < outputs; k++)
        lua_pushnumber(L, c->y[k]);
    if (status == HF_OK)
        return outputs;
    lua_pushstring(L, hf_status_code(status));
    explain(L, c, 0);
    return outputs + 2;
}

static int run_list(lua_State *L, call *c, int how)
{
    const int outputs = how & WIDE ? 3 : 1, out = lua_gettop(L) + 1;
    for (int k = 0; k < outputs + (how & EACH ? 1 : 0); k++)
        lua_createtable(L, c->length < 1 << 24 ? (int)c->length : 0, 0);
    lua_Integer beyond = 0;
    hf_status worst = HF_OK;
    for (lua_Integer i = 1; i <= c->length; i++) {
        const int wrong = read_element(L, c, i);
        if (wrong)
            return wrong;
        const hf_status status = answer(c, how);
        if (how & EACH) {
            lua_pushstring(L, hf_status_code(status));
            lua_rawseti(L, out + outputs, i);
            if (hf_failed(status))
                c->y[0] = c->y[1] = c->y[2] = (double)NAN;
        } else if (hf_failed(status)) {
            return fail(L, c, status, i);
        }
        if (status > worst) {
            worst = status;
            beyond = i;
        }
        for (int k = 0; k < outputs; k++) {
            lua_pushnumber(L, c->y[k]);
            lua_rawseti(L, out + k, i);
        }
    }
    if (how & EACH)
        return outputs + 1;
    if (worst == HF_OK)
        return outputs;
    lua_pushstring(L, hf_status_code(worst));
    (void)read_element(L, c, beyond);
    explain(L, c, beyond);
    return outputs + 2;
}

static int run(lua_State *L, int how)
{
    call c;
    const int wrong = read_call(L, &c);
    if (wrong)
        return wrong;
    if (c.length >= 0 && (c.quantity->evaluate || how & EACH))
        return run_list(L, &c, how);
    return run_number(L, &c, how);
}

/* evaluate(index, set or nil, flags, ...) -> value or list [, "extrapolated", sentence].
 * Each argument is a number, nil (the usual value) or a list of numbers. Failures: nil, message,
 * code. Mistakes of the caller: false, message; a text in a list: false, nil, argument, element. */
static int evaluate(lua_State *L)
{
    return run(L, 0);
}

/* range(...) -> value, low, high [, "extrapolated", sentence]; lists give three lists */
static int range(lua_State *L)
{
    return run(L, WIDE);
}

/* each(...) -> list of values, list of codes; needs a list. A failure is NaN with its code. */
static int each(lua_State *L)
{
    return run(L, EACH);
}

/* each_range(...) -> lists of values, lows, highs, codes; likewise */
static int each_range(lua_State *L)
{
    return run(L, EACH | WIDE);
}

void hfi_lua_open_quantity(lua_State *L)
{
    static const luaL_Reg functions[] = {{"evaluate", evaluate},
                                         {"range", range},
                                         {"each", each},
                                         {"each_range", each_range},
                                         {NULL, NULL}};
    luaL_setfuncs(L, functions, 0);
    lua_pushinteger(L, HF_EXTRAPOLATE);
    lua_setfield(L, -2, "EXTRAPOLATE");
}
