/* Time of one call of the properties that are called in bulk. Rows: name,value,unit,target. */
#include <hairfibre.h>

#include <stdio.h>
#include <time.h>

#define CALLS  1000000
#define ROUNDS 5

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static double saturation(int i)
{
    return hf_saturation_pressure(280.0 + 0.0002 * i);
}
static double slope(int i)
{
    return hf_saturation_pressure_slope(280.0 + 0.0002 * i);
}
static double latent(int i)
{
    return hf_latent_heat(280.0 + 0.0002 * i);
}
static double regain(int i)
{
    return hf_regain(0.05 + 0.0009 * (i % 1000), 290 + i % 97, HF_ABSORPTION, NULL);
}
static double activity(int i)
{
    return hf_water_activity(0.01 + 0.0001 * (i % 1000), 290 + i % 97, HF_ABSORPTION, NULL);
}
static double drying(int i)
{
    return hf_regain(0.05 + 0.0009 * (i % 1000), 290 + i % 97, HF_DESORPTION, NULL);
}
static double pressure(int i)
{
    return hf_internal_vapour_pressure(300 + i % 97, 0.01 + 0.0001 * (i % 1000), HF_ABSORPTION,
                                       NULL);
}
static double diffusivity(int i)
{
    return hf_diffusivity(0.01 + 0.0002 * (i % 1000), 280 + i % 50, NULL);
}

/* Best of several rounds: what else runs on the machine only adds. */
static void row(const char *name, double (*call)(int), const char *target)
{
    double best = 1e9, sum = 0;
    for (int round = 0; round < ROUNDS; round++) {
        const double start = seconds();
        for (int i = 0; i < CALLS; i++)
            sum += call(i);
        const double taken = seconds() - start;
        best = taken < best ? taken : best;
    }
    /* The sum is used, so that no compiler drops the calls. */
    printf("property: %s,%.1f,ns/call,%s\n", name, sum > 0 ? 1e9 * best / CALLS : -1, target);
}

int main(void)
{
    row("saturation_pressure", saturation, "<= 40");
    row("saturation_pressure_slope", slope, "");
    row("latent_heat", latent, "");
    row("regain", regain, "<= 100");
    row("regain (desorption)", drying, "<= 100");
    row("water_activity", activity, "<= 100");
    row("diffusivity", diffusivity, "");
    row("internal_vapour_pressure", pressure, "");
    return 0;
}
