/*
 * A person's interrupt (SIGINT) while C computes. The program that carries the library handles signals itself and says
 * so; in any other host the signal is taken over while a computation runs, and given back when it ends. The first
 * one ends the computation with what it has, a second goes to the host.
 */
#include "core.h"

#include <signal.h>
#include <string.h>

volatile sig_atomic_t hfi_lua_stop;
volatile sig_atomic_t hfi_lua_busy;
int hfi_lua_signals_are_handled;

static struct sigaction before;
static volatile sig_atomic_t taken;

static void give_back(void)
{
    if (taken)
        (void)sigaction(SIGINT, &before, NULL);
    taken = 0;
}

static void on_interrupt(int number)
{
    if (!hfi_lua_stop) {
        hfi_lua_stop = 1;
        return;
    }
    give_back();
    (void)raise(number);
}

static void take(void)
{
    struct sigaction ours;
    memset(&ours, 0, sizeof ours);
    ours.sa_handler = on_interrupt;
    (void)sigemptyset(&ours.sa_mask);
    ours.sa_flags = SA_RESTART;
    if (sigaction(SIGINT, NULL, &before) ||
        (!(before.sa_flags & SA_SIGINFO) && before.sa_handler == SIG_IGN))
        return;
    taken = sigaction(SIGINT, &ours, NULL) == 0;
}

void hfi_lua_begin(void)
{
    if (hfi_lua_busy++ > 0) /* within another: a treatment in the model of a fit */
        return;
    hfi_lua_stop = 0;
    if (!hfi_lua_signals_are_handled)
        take();
}

void hfi_lua_end(void)
{
    if (--hfi_lua_busy == 0)
        give_back();
}
