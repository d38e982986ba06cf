/* Ensembles: 10 000 strands soaked for 10 min, blotted, 1 s between plates, left for 10 min. Rows name,value,unit,
 * target. Counts of fewer strands are scaled up: every strand costs the same. */
#include <hairfibre.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static hf_ensemble *make(size_t strands, int lumped)
{
    hf_step steps[] = {HF_STEP_INIT(HF_STEP_SOAK, 600), HF_STEP_INIT(HF_STEP_BLOT, 0),
                       HF_STEP_INIT(HF_STEP_PLATES, 1), HF_STEP_INIT(HF_STEP_REST, 600)};
    steps[0].temperature = 293.15;
    steps[2].temperature = 473.15;
    hf_ensemble_plan plan = HF_ENSEMBLE_PLAN_INIT;
    plan.steps = steps;
    plan.step_count = 4;
    plan.strands = strands;
    plan.population = hf_population_find("caucasian");
    plan.simulation.lumped = lumped;
    hf_ensemble *ensemble = NULL;
    if (hf_ensemble_new(&ensemble, &plan, NULL, NULL) != HF_OK)
        exit(1);
    return ensemble;
}

/* Best wall and processor seconds of a number of threads. */
typedef struct timing {
    int threads;
    double wall, processor;
} timing;

static double processor(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void run(timing *t, size_t strands, int lumped)
{
    hf_ensemble *ensemble = make(strands, lumped);
    hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
    control.threads = t->threads;
    const double wall = now(), used = processor();
    if (hf_ensemble_run(ensemble, &control) != HF_OK)
        exit(1);
    t->wall = fmin(t->wall, now() - wall);
    t->processor = fmin(t->processor, processor() - used);
    hf_ensemble_free(ensemble);
}

/* Other programs only add to a time: the best of rounds in which one and two threads take turns. */
static void compare(size_t strands, int lumped, timing *one, timing *two)
{
    *one = (timing){1, 1e9, 1e9};
    *two = (timing){2, 1e9, 1e9};
    for (int round = 0; round < 5; round++) {
        run(one, strands, lumped);
        run(two, strands, lumped);
    }
}

static void print(size_t strands, int lumped, const char *target)
{
    timing one, two;
    const char *how = lumped ? " (lumped)" : "";
    compare(strands, lumped, &one, &two);
    printf("ensemble: 10 000 strands on two threads%s,%.4g,s,%s\n", how,
           1e4 / (double)strands * two.wall, target);
    printf("ensemble: processor time of 10 000 strands%s,%.4g,s,\n", how,
           1e4 / (double)strands * one.processor);
    printf("ensemble: two threads over one%s,%.3g,1,>= 1.8\n", how, one.wall / two.wall);
    printf("ensemble: processor time of two threads over that of one%s,%.3g,1,<= 1.1\n", how,
           two.processor / one.processor);
}

int main(void)
{
    print(400, 0, "<= 15");
    print(400, 1, "<= 10");
    hf_ensemble *small = make(1000, 0), *large = make(2000, 0);
    printf("ensemble: memory per kept strand,%.4g,bytes,\n",
           (double)(hf_ensemble_bytes(large) - hf_ensemble_bytes(small)) / 1000);
    hf_ensemble_free(small);
    hf_ensemble_free(large);
    return 0;
}
