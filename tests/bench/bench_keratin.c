/* Time of one call of the isotherm and its inverse, nanoseconds: single calls with a new
 * temperature each, and bulk calls at one temperature. */
#include <hairfibre/keratin.h>

#include <stdio.h>
#include <time.h>

#define CALLS 2000000
#define BLOCK 1000

static double seconds(void)
{
    return (double)clock() / CLOCKS_PER_SEC;
}

static void line(const char *what, double start, double sum)
{
    /* the sum keeps the calls from being optimised away */
    printf("%-40s %7.1f ns%s\n", what, 1e9 * (seconds() - start) / CALLS, sum > 0 ? "" : " ?");
}

static void single(hf_branch branch, const char *const names[2])
{
    double sum = 0, start = seconds();
    for (int i = 0; i < CALLS; i++)
        sum += hf_regain(0.05 + 0.0009 * (i % 1000), 290 + i % 97, branch, NULL);
    line(names[0], start, sum);
    sum = 0, start = seconds();
    for (int i = 0; i < CALLS; i++)
        sum += hf_water_activity(0.01 + 0.0001 * (i % 1000), 290 + i % 97, branch, NULL);
    line(names[1], start, sum);
}

static void bulk(hf_branch branch, const char *const names[2])
{
    double a[BLOCK], T[BLOCK], w[BLOCK], sum = 0;
    hf_status status = HF_OK;
    for (int i = 0; i < BLOCK; i++) {
        a[i] = (double)i / BLOCK;
        T[i] = 300;
    }
    double start = seconds();
    for (int i = 0; i < CALLS / BLOCK && status == HF_OK; i++) {
        status = hf_regain_v(BLOCK, a, T, branch, NULL, HF_STRICT, w, NULL);
        sum += w[i % BLOCK];
    }
    line(names[0], start, sum);
    start = seconds();
    for (int i = 0; i < CALLS / BLOCK && status == HF_OK; i++) {
        status = hf_water_activity_v(BLOCK, w, T, branch, NULL, HF_STRICT, a, NULL);
        sum += a[i % BLOCK];
    }
    line(names[1], start, sum);
    if (status != HF_OK)
        printf("failed: %s\n", hf_status_text(status));
}

int main(void)
{
    single(HF_ABSORPTION,
           (const char *const[]){"regain, absorption", "water activity, absorption"});
    single(HF_DESORPTION,
           (const char *const[]){"regain, desorption", "water activity, desorption"});
    bulk(HF_ABSORPTION,
         (const char *const[]){"regain_v, absorption", "water_activity_v, absorption"});
    bulk(HF_DESORPTION,
         (const char *const[]){"regain_v, desorption", "water_activity_v, desorption"});
    return 0;
}
