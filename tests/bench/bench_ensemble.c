/* Ensembles: 10 000 strands soaked for 10 min, blotted, 1 s between plates, left for 10 min. Rows name,value,unit,
 * target. Counts of fewer strands are scaled up: every strand costs the same. */
#include <hairfibre.h>

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#ifdef _OPENMP
#include <omp.h>
#endif

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

/* Seconds for so many strands; best of a few rounds, since other programs only add to it. */
static double seconds(size_t strands, int lumped, int threads, int rounds)
{
    double best = 1e9;
    for (int i = 0; i < rounds; i++) {
        hf_ensemble *ensemble = make(strands, lumped);
        hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
        control.threads = threads;
        const double start = now();
        if (hf_ensemble_run(ensemble, &control) != HF_OK)
            exit(1);
        const double taken = now() - start;
        best = taken < best ? taken : best;
        hf_ensemble_free(ensemble);
    }
    return best;
}

int main(void)
{
    const size_t n = 400;
    const double scale = 10000.0 / (double)n;
    const double one = seconds(n, 0, 1, 3), two = seconds(n, 0, 2, 3);
    const double lumped_one = seconds(n, 1, 1, 3), lumped_two = seconds(n, 1, 2, 3);
    printf("ensemble: 10 000 strands on two threads,%.4g,s,<= 30\n", scale * two);
    printf("ensemble: 10 000 strands on two threads (lumped),%.4g,s,<= 10\n", scale * lumped_two);
    printf("ensemble: two threads over one,%.3g,1,>= 1.8\n", one / two);
    printf("ensemble: two threads over one (lumped),%.3g,1,>= 1.8\n", lumped_one / lumped_two);
    hf_ensemble *small = make(1000, 0), *large = make(2000, 0);
    printf("ensemble: memory per kept strand,%.4g,bytes,\n",
           (double)(hf_ensemble_bytes(large) - hf_ensemble_bytes(small)) / 1000);
    hf_ensemble_free(small);
    hf_ensemble_free(large);
    return 0;
}
