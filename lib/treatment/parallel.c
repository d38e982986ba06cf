/*
 * Strands side by side. Threads take the next strand that is not done; each writes the columns of its own
 * strands alone, so nothing depends on who computes what. Built without OpenMP there is one thread.
 */
#include "ensemble.h"

#include "../base/stop.h"

#include <math.h>
#include <stdatomic.h>
#include <string.h>
#include <time.h>

#ifdef _OPENMP
#include <omp.h>
#endif

/* Shared by the threads of a run. */
typedef struct job {
    hf_ensemble *ensemble;
    const hf_ensemble_control *control;
    double began;
    size_t before; /* strands done before this run */
    atomic_size_t next, done;
    atomic_int halt;    /* no more strands */
    atomic_int fault;   /* a status that ends the run */
    atomic_flag speaks; /* the first strand that fails has taken the message */
} job;

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void report(const job *j)
{
    if (!j->control->progress)
        return;
    hf_progress p = {.done = atomic_load(&j->done), .count = j->ensemble->count};
    p.seconds = now() - j->began;
    p.rate = p.seconds > 0 ? (double)(p.done - j->before) / p.seconds : 0;
    p.remaining = p.rate > 0 ? (double)(p.count - p.done) / p.rate : (double)INFINITY;
    j->control->progress(&p, j->control->user);
}

/* Next strand of this part that is to be computed; count when there is none. */
static size_t take(job *j)
{
    const hf_ensemble *e = j->ensemble;
    const hf_ensemble_control *c = j->control;
    if (hfi_asked_to_stop(c->stop) || (c->seconds > 0 && now() - j->began > c->seconds))
        atomic_store(&j->halt, 1);
    size_t i = e->count;
    while (!atomic_load(&j->halt) && (i = atomic_fetch_add(&j->next, 1)) < e->count &&
           e->is_done[i])
        ;
    return atomic_load(&j->halt) || i > e->count ? e->count : i;
}

static void work(job *j, int speaker)
{
    hf_ensemble *e = j->ensemble;
    hfi_strand_worker worker;
    hf_status status = hfi_strand_open(&worker, e, j->control->stop);
    double told = j->began;
    for (size_t i; status == HF_OK && (i = take(j)) < e->count;) {
        double row[HF_STRAND_COLUMNS];
        hf_message why;
        status = hfi_strand_compute(&worker, e->first + i, row, &why);
        if (status != HF_OK)
            break;
        if (why.text[0] && !atomic_flag_test_and_set(&j->speaks))
            e->message = why;
        for (size_t c = 0; c < HF_STRAND_COLUMNS; c++)
            e->column[c][i] = row[c];
        e->is_done[i] = 2; /* counted when the threads have met */
        atomic_fetch_add(&j->done, 1);
        if (speaker && now() - told >= j->control->interval) {
            told = now();
            report(j);
        }
    }
    hfi_strand_close(&worker);
    if (status != HF_OK) {
        atomic_store(&j->halt, 1);
        if (status != HF_ESTOPPED)
            atomic_store(&j->fault, (int)status);
    }
}

static void run_all(job *j)
{
#ifdef _OPENMP
#pragma omp parallel num_threads(j->control->threads > 0 ? j->control->threads                     \
                                                         : omp_get_num_procs())
    work(j, omp_get_thread_num() == 0);
#else
    work(j, 1);
#endif
}

hf_status hf_ensemble_run(hf_ensemble *e, const hf_ensemble_control *control)
{
    static const hf_ensemble_control usual = HF_ENSEMBLE_CONTROL_INIT;
    if (!e || (control &&
               (control->threads < 0 || !(control->seconds >= 0) || !(control->interval >= 0))))
        return HF_EINVAL;
    e->message.text[0] = '\0';
    job j = {.ensemble = e,
             .control = control ? control : &usual,
             .began = now(),
             .before = e->done,
             .speaks = ATOMIC_FLAG_INIT};
    atomic_init(&j.next, 0);
    atomic_init(&j.done, e->done);
    atomic_init(&j.halt, 0);
    atomic_init(&j.fault, HF_OK);
    if (e->done < e->count)
        run_all(&j);
    for (size_t i = 0; i < e->count; i++)
        if (e->is_done[i] == 2) {
            e->is_done[i] = 1;
            e->done++;
        }
    report(&j);
    const int fault = atomic_load(&j.fault);
    if (fault != HF_OK)
        return (hf_status)fault;
    return e->done == e->count ? HF_OK : HF_ESTOPPED;
}
