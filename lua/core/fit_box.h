/*
 * Fits: a userdata over hf_fit, in pieces. fit_model.c answers for the model, fit_new.c makes one, fit.c runs it
 * and gives answers, fit_bootstrap.c re-fits, fit_models.c lists the built-in models, fit_life.c does lives and strengths.
 */
#ifndef HFI_LUA_FIT_BOX_H
#define HFI_LUA_FIT_BOX_H

#include "core.h"

#include <hairfibre/inference.h>

#define HFI_FIT "hairfibre.fit"

/* User values of the box. */
enum { HFI_FIT_FUNCTION = 1, HFI_FIT_LIST, HFI_FIT_NAMES, HFI_FIT_USER_VALUES = HFI_FIT_NAMES };

typedef struct hfi_fit_box {
    hf_fit *fit;
    const hf_model *model; /* NULL: a function of Lua */
    lua_State *L;          /* of the call under way */
    int self;              /* stack index of the box in it */
    int error;             /* stack index where an error of the function is kept */
    int failed;
    int whole; /* the function answers all rows at once */
    size_t columns, parameters;
} hfi_fit_box;

/* The box at stack index 1; raises when it is closed. */
hfi_fit_box *hfi_fit_check(lua_State *L);

/* Around a computation: between the two the solver runs. Leaving raises again what the function raised, unless that
 * is a text; hfi_fit_failure gives a text back. */
hfi_fit_box *hfi_fit_enter(lua_State *L);
void hfi_fit_leave(hfi_fit_box *box);
int hfi_fit_failure(lua_State *L, const hfi_fit_box *box, hf_status status, const char *message);

/* Callbacks of a function of Lua (all rows) and of a built-in model; `user` is the box. */
hf_status hfi_fit_call_all(size_t n, const double *x, const double *b, void *user, double *y);
hf_status hfi_fit_model_value(const double *x, const double *b, void *user, double *y);
hf_status hfi_fit_model_values(size_t n, const double *x, const double *b, void *user, double *y);
hf_status hfi_fit_model_gradient(const double *x, const double *b, void *user, double *g);
hf_status hfi_fit_model_starter(size_t n, const double *x, const double *y, void *user, double *b);

/* { low, high, open_low, ... } */
void hfi_fit_push_interval(lua_State *L, const hf_interval *interval);

/* A number of things as an integer field of the table on top. */
void hfi_fit_field_count(lua_State *L, const char *name, size_t x);

/* Number of points, or of parameters, of a fit that has run. */
size_t hfi_fit_count_of(lua_State *L, const hfi_fit_box *box, int points);

/* Method bootstrap, and the kind of object that it works with. */
int hfi_fit_bootstrap(lua_State *L);
void hfi_fit_open_bootstrap(lua_State *L);

/* Functions for the table of the core. */
int hfi_fit_new(lua_State *L);
int hfi_fit_models(lua_State *L);
int hfi_fit_life(lua_State *L);
int hfi_fit_life_line(lua_State *L);

#endif
