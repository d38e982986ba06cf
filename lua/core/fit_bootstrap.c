/* Bootstrap of a fit. */
#include "fit_box.h"

#define BOOTSTRAP "hairfibre.bootstrap"

typedef struct replicas {
    hf_bootstrap *bootstrap;
} replicas;

static int release(lua_State *L)
{
    replicas *r = luaL_checkudata(L, 1, BOOTSTRAP);
    hf_bootstrap_free(r->bootstrap);
    r->bootstrap = NULL;
    return 0;
}

/* fit:bootstrap(kind, replicates, seed, level) -> { count, failures, intervals = { { low, high,
 * standard_error }, ... }, values = one list a parameter }, or nil, message, code */
int hfi_fit_bootstrap(lua_State *L)
{
    static const char *const kinds[] = {"parametric", "cases", NULL};
    const int kind = luaL_checkoption(L, 2, NULL, kinds);
    const lua_Integer replicates = luaL_checkinteger(L, 3), seed = luaL_checkinteger(L, 4);
    const double level = luaL_checknumber(L, 5);
    luaL_argcheck(L, replicates >= 2 && replicates <= 1000000, 3, "must lie between 2 and 1000000");
    const size_t p = hfi_fit_count_of(L, hfi_fit_check(L), 0);
    replicas *r = lua_newuserdatauv(L, sizeof *r, 0);
    r->bootstrap = NULL;
    luaL_setmetatable(L, BOOTSTRAP);
    hfi_fit_box *b = hfi_fit_enter(L);
    const hf_status status =
        hf_bootstrap_new(&r->bootstrap, b->fit, kind ? HF_BOOTSTRAP_CASES : HF_BOOTSTRAP_PARAMETRIC,
                         (size_t)replicates, (unsigned long)seed);
    hfi_fit_leave(b);
    if (status != HF_OK)
        return hfi_fit_failure(
            L, b, status,
            status == HF_EDATA
                ? "fewer than half of the replicates could be fitted, or the fit has no "
                  "standard deviation"
                : NULL);
    const size_t n = hf_bootstrap_count(r->bootstrap);
    const double *values = hf_bootstrap_values(r->bootstrap);
    lua_createtable(L, 0, 4);
    hfi_fit_field_count(L, "count", n);
    hfi_fit_field_count(L, "failures", hf_bootstrap_failures(r->bootstrap));
    lua_createtable(L, (int)p, 0);
    lua_createtable(L, (int)p, 0);
    for (size_t j = 0; j < p; j++) {
        hf_interval interval;
        double error;
        if (hf_bootstrap_interval(r->bootstrap, j, level, &interval, &error) == HF_OK) {
            hfi_fit_push_interval(L, &interval);
            hfi_lua_field_number(L, "standard_error", error);
            lua_rawseti(L, -3, (lua_Integer)j + 1);
        }
        lua_createtable(L, (int)n, 0);
        for (size_t i = 0; i < n; i++) {
            lua_pushnumber(L, values[i * p + j]);
            lua_rawseti(L, -2, (lua_Integer)i + 1);
        }
        lua_rawseti(L, -2, (lua_Integer)j + 1);
    }
    lua_setfield(L, -3, "values");
    lua_setfield(L, -2, "intervals");
    return 1;
}

void hfi_fit_open_bootstrap(lua_State *L)
{
    hfi_lua_metatable(L, BOOTSTRAP, release, NULL);
    lua_pop(L, 1);
}
