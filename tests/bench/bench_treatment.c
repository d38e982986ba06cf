/* Time, accuracy and memory of a treatment: 10 min in water, blotted, 1 s between plates at 200 degC,
 * 10 min of rest; 60 cells, both fields, relative tolerance 1e-5. Beside it GSL's multistep method on the
 * same equations. Rows: name,value,unit,target. With the argument "segments" it prints what another
 * program needs to solve the same equations (scipy_bdf.py).
 *
 * Errors are against tolerance 1e-10 on the same cells: regain over 0.3, temperature over 200 K, the
 * largest at any sample and cell. */
#include "../reference/gsl_solver.h"
#include "peak.h"

#include <hairfibre/treatment.h>

#include "treatment/simulation_internal.h"
#include "treatment/surroundings.h"
#include "keratin/properties.h"

#include <stdio.h>
#include <time.h>

#define CELLS   60
#define STEPS   4
#define OUTPUTS 6 /* of a segment, for the other solvers */
#define RUNS    101

/* Processor time, so that other programs on the machine do not count. */
static double now_ms(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static void die(const char *what)
{
    fprintf(stderr, "bench_treatment: %s\n", what);
    exit(1);
}

static void schedule(hf_step *step)
{
    step[0] = (hf_step)HF_STEP_INIT(HF_STEP_SOAK, 600);
    step[1] = (hf_step)HF_STEP_INIT(HF_STEP_BLOT, 0);
    step[2] = (hf_step)HF_STEP_INIT(HF_STEP_PLATES, 1);
    step[3] = (hf_step)HF_STEP_INIT(HF_STEP_REST, 600);
    step[0].temperature = 298.15;
    step[2].temperature = 473.15;
}

static hf_simulation *prepare(size_t cells, double tolerance, int lumped)
{
    const hf_fibre_description description = HF_FIBRE_DESCRIPTION_INIT;
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    options.cells = cells;
    options.tolerance = tolerance;
    options.lumped = lumped;
    hf_fibre *fibre;
    hf_simulation *s;
    hf_message message;
    if (hf_fibre_new(&fibre, &description, NULL, &message) != HF_OK ||
        hf_simulation_new(&s, fibre, NULL, &options, &message) != HF_OK)
        die(message.text);
    hf_fibre_free(fibre);
    return s;
}

static hf_simulation *run(size_t cells, double tolerance, int lumped)
{
    hf_step step[STEPS];
    schedule(step);
    hf_simulation *s = prepare(cells, tolerance, lumped);
    if (hf_simulation_run(s, step, STEPS) != HF_OK)
        die(hf_simulation_message(s));
    return s;
}

/* Best of many runs, milliseconds, making and freeing the simulation included. */
static double time_of(size_t cells, int lumped, int runs)
{
    double best = HUGE_VAL;
    for (int i = 0; i < runs; i++) {
        const double start = now_ms();
        hf_simulation_free(run(cells, 1e-5, lumped));
        best = fmin(best, now_ms() - start);
    }
    return best;
}

static double difference(const hf_simulation *a, const hf_simulation *b)
{
    const size_t n = hf_simulation_cells(a);
    double *w = malloc(4 * n * sizeof *w), worst = 0;
    if (!w)
        die("out of memory");
    for (size_t i = 0; i < hf_simulation_samples(a); i++) {
        if (hf_simulation_profile(a, i, NULL, w, w + n) != HF_OK ||
            hf_simulation_profile(b, i, NULL, w + 2 * n, w + 3 * n) != HF_OK)
            die("profiles differ in number");
        for (size_t c = 0; c < n; c++)
            worst = fmax(
                worst, fmax(fabs(w[c] - w[2 * n + c]) / 0.3, fabs(w[n + c] - w[3 * n + c]) / 200));
    }
    free(w);
    return worst;
}

/* ---- the same equations for another solver --------------------------------------------------------- */

/* The same schedule, blotted to the last drop: GSL loses its way while a film dries up, and it has no
 * events to end it by. */
typedef struct segment {
    hfi_surface_mode mode;
    hfi_surroundings around;
    double area, duration;
} segment;

#define SEGMENTS 3

/* Segments as the library makes them of the schedule. */
static void segments_of(segment *out)
{
    hf_step step[STEPS];
    schedule(step);
    step[1].film = 0;
    static const size_t step_of[SEGMENTS] = {0, 2, 3};
    hf_simulation *s = prepare(CELLS, 1e-10, 0);
    const hf_room room = HF_ROOM_INIT;
    size_t done = 0;
    for (size_t i = 0; i < SEGMENTS; i++) {
        out[i].mode = i == 0 ? HFI_SURFACE_BATH : HFI_SURFACE_BARE;
        out[i].duration = step[step_of[i]].duration;
        for (; done < step_of[i]; done++)
            if (hf_simulation_run(s, &step[done], 1) != HF_OK)
                die(hf_simulation_message(s));
        hfi_view view;
        hfi_system_peek(s->system, s->state, &view);
        double area = 0;
        for (size_t c = 0; c < s->mesh->cells; c++) {
            const double lambda = hfi_diameter_ratio(s->values, view.regain[c], NULL);
            area += s->mesh->cell_mass[c] * lambda * lambda;
        }
        const double swelling = sqrt(area);
        out[i].area = 2 * swelling * s->perimeter / (s->material.dry_density * s->dry_radius);
        if (hf_failed(hfi_surroundings_of(&step[step_of[i]], &room, s->values,
                                          2 * s->dry_radius * swelling, view.surface_temperature,
                                          &out[i].around)))
            die("surroundings");
    }
    hf_simulation_free(s);
}

/* Regain and temperature of every cell at OUTPUTS times of every segment. */
typedef struct track {
    size_t cells, filled;
    double *value; /* SEGMENTS x OUTPUTS x cells x 2 */
} track;

static double output_time(const segment *g, int k)
{
    const double x = (double)k / OUTPUTS;
    return k == OUTPUTS ? g->duration : g->duration * x * x;
}

static void note(track *t, const hfi_material *m, const double *y)
{
    for (size_t i = 0; i < t->cells; i++) {
        t->value[t->filled++] = y[2 * i];
        t->value[t->filled++] = hfi_radial_temperature(m, y[2 * i], y[2 * i + 1], NULL, NULL);
    }
}

static double off(const track *a, const track *b)
{
    double worst = 0;
    for (size_t i = 0; i < a->filled; i++)
        worst = fmax(worst, fabs(a->value[i] - b->value[i]) / (i % 2 ? 200 : 0.3));
    return worst;
}

static track new_track(size_t cells)
{
    track t = {cells, 0, malloc(SEGMENTS * OUTPUTS * cells * 2 * sizeof(double))};
    if (!t.value)
        die("out of memory");
    return t;
}

/* Our integrator through the segments; milliseconds. */
static double our_run(const segment *g, double tolerance, track *t)
{
    hf_simulation *s = prepare(t->cells, tolerance, 0);
    t->filled = 0;
    const double start = now_ms();
    for (size_t i = 0; i < SEGMENTS; i++) {
        hfi_system_set_mode(s->system, g[i].mode, s->state);
        if (hfi_system_begin(s->system, &g[i].around, g[i].area, g[i].duration, s->state) !=
            HFI_ODE_OK)
            die("begin");
        for (int k = 1; k <= OUTPUTS; k++) {
            if (hfi_system_advance(s->system, output_time(&g[i], k), NULL, NULL, s->state) !=
                HFI_ODE_OK)
                die("our integrator stopped");
            note(t, &s->material, s->state);
        }
    }
    const double took = now_ms() - start;
    hf_simulation_free(s);
    return took;
}

static double our_time(const segment *g, track *t)
{
    double best = HUGE_VAL;
    for (int i = 0; i < RUNS; i++)
        best = fmin(best, our_run(g, 1e-5, t));
    return best;
}

/* GSL's through the same; milliseconds, or a negative number where it gives up. */
static double gsl_run(const segment *g, double tolerance, track *t)
{
    hf_simulation *s = prepare(t->cells, 1e-5, 0);
    kit k = {.material = s->material, .mesh = s->mesh, .cells = t->cells};
    k.material.values = s->values;
    const size_t n = 2 * t->cells + 2;
    double *y = s->state, scale[GSL_MOST];
    t->filled = 0;
    const double start = now_ms();
    for (size_t i = 0; i < SEGMENTS; i++) {
        k.area = g[i].area;
        equations e;
        equations_open(&e, &k, 0, g[i].mode, &g[i].around);
        for (size_t c = 0; c < n; c++)
            scale[c] = c % 2 ? 5e4 : 1e-2;
        scale[n - 1] = HFI_SKIN * s->material.c0 * 30;
        const gsl_odeiv2_system system = {gsl_rates, gsl_jacobian, n, &e};
        gsl_odeiv2_driver *d = gsl_odeiv2_driver_alloc_scaled_new(
            &system, gsl_odeiv2_step_msbdf, 1e-9, tolerance, tolerance, 1, 0, scale);
        double at = 0;
        int status = d ? GSL_SUCCESS : GSL_ENOMEM;
        for (int o = 1; o <= OUTPUTS && status == GSL_SUCCESS; o++) {
            status = gsl_odeiv2_driver_apply(d, &at, output_time(&g[i], o), y);
            note(t, &s->material, y);
        }
        if (d)
            gsl_odeiv2_driver_free(d);
        equations_close(&e);
        if (status != GSL_SUCCESS) {
            hf_simulation_free(s);
            return -1;
        }
    }
    const double took = now_ms() - start;
    hf_simulation_free(s);
    return took;
}

/* The quickest tolerance at which GSL is as good as asked. */
static void compare_gsl(void)
{
    segment g[SEGMENTS];
    segments_of(g);
    track want = new_track(CELLS), got = new_track(CELLS);
    (void)our_run(g, 1e-11, &want);
    const double our_ms = our_time(g, &got);
    double best = 0, error = 0;
    printf("treatment: equations alone (no film; no record),%.2f,ms,\n", our_ms);
    printf("treatment: equations alone: largest error,%.1e,1,\n", off(&want, &got));
    for (double tolerance = 1e-4; tolerance > 1e-8; tolerance *= 0.3) {
        const double took = gsl_run(g, tolerance, &got);
        if (took < 0 || off(&want, &got) > 5e-5)
            continue;
        if (best == 0 || took < best) {
            best = took;
            error = off(&want, &got);
        }
    }
    if (best == 0)
        die("GSL never came within 5e-5");
    printf("treatment: equations alone by GSL msbdf,%.1f,ms,\n", best);
    printf("treatment: equations alone by GSL msbdf: largest error,%.1e,1,\n", error);
    printf("treatment: equations alone: GSL msbdf over ours,%.0f,times,>= 15\n", best / our_ms);
    free(want.value);
    free(got.value);
}

static void print_segments(void)
{
    segment g[SEGMENTS];
    segments_of(g);
    track want = new_track(CELLS), got = new_track(CELLS);
    (void)our_run(g, 1e-11, &want);
    const double our_ms = our_time(g, &got);
    hf_simulation *start = prepare(CELLS, 1e-5, 0);
    const double *v = start->values;
    const hfi_material *m = &start->material;
    printf("radius %.17g\n", start->dry_radius);
    const struct {
        const char *name;
        double value;
    } row[] = {
        {"density", m->dry_density},
        {"c0", m->c0},
        {"c1", m->c1},
        {"cw", m->cw},
        {"k0", m->k0},
        {"k1", m->k1},
        {"skin", HFI_SKIN},
        {"retention", m->liquid_retention},
        {"diffusion_wet", v[HFI_DIFFUSION_WET]},
        {"diffusion_midpoint", v[HFI_DIFFUSION_MIDPOINT]},
        {"diffusion_width", v[HFI_DIFFUSION_WIDTH]},
        {"diffusion_energy", v[HFI_DIFFUSION_ENERGY]},
        {"monolayer", v[HFI_SORPTION_SCALE] * v[HFI_SORPTION_ABSORPTION_MONOLAYER]},
        {"c", v[HFI_SORPTION_ABSORPTION_C]},
        {"k", v[HFI_SORPTION_ABSORPTION_K]},
        {"enthalpy_monolayer", v[HFI_SORPTION_ENTHALPY_MONOLAYER]},
        {"enthalpy_c", v[HFI_SORPTION_ENTHALPY_C]},
        {"enthalpy_k", v[HFI_SORPTION_ENTHALPY_K]},
        {"swelling_slope", v[HFI_SWELLING_DIAMETER_SLOPE]},
        {"swelling_curvature", v[HFI_SWELLING_DIAMETER_CURVATURE]},
        {"our_ms", our_ms},
        {"our_error", off(&want, &got)},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        printf("%s %.17g\n", row[i].name, row[i].value);
    printf("state");
    for (size_t i = 0; i < 2 * CELLS + 2; i++)
        printf(" %.17g", start->state[i]);
    printf("\n");
    for (size_t i = 0; i < SEGMENTS; i++)
        printf("segment %d %.17g %.17g %.17g %.17g %.17g %.17g %.17g\n", (int)g[i].mode,
               g[i].duration, g[i].area, g[i].around.heat_transfer, g[i].around.vapour_conductance,
               g[i].around.ambient_pressure, g[i].around.temperature, g[i].around.vapour_pressure);
    for (size_t i = 0; i < want.filled; i += 2 * CELLS) {
        printf("want");
        for (size_t c = 0; c < 2 * CELLS; c++)
            printf(" %.12g", want.value[i + c]);
        printf("\n");
    }
    free(want.value);
    free(got.value);
    hf_simulation_free(start);
}

/* Slope of log time over log cells, least squares. */
static double slope_of_cost(void)
{
    const size_t cells[4] = {60, 120, 240, 480};
    double x[4], y[4], sx = 0, sy = 0, sxx = 0, sxy = 0;
    for (size_t i = 0; i < 4; i++) {
        x[i] = log((double)cells[i]);
        y[i] = log(time_of(cells[i], 0, 11));
        sx += x[i];
        sy += y[i];
        sxx += x[i] * x[i];
        sxy += x[i] * y[i];
    }
    return (4 * sxy - sx * sy) / (4 * sxx - sx * sx);
}

int main(int argc, char **argv)
{
    gsl_set_error_handler_off();
    if (argc > 1 && strcmp(argv[1], "segments") == 0) {
        print_segments();
        return 0;
    }
    const double took = time_of(CELLS, 0, RUNS);
    hf_simulation *precise = run(CELLS, 1e-10, 0), *usual = run(CELLS, 1e-5, 0);
    hf_simulation_statistics statistics;
    hf_simulation_get_statistics(usual, &statistics);
    printf("treatment: soak - blot - plates - rest; 60 cells at 1e-5,%.2f,ms,<= 2.5\n", took);
    printf("treatment: largest error of it,%.1e,1,<= 5e-5\n", difference(precise, usual));
    printf("treatment: integrator steps of it,%zu,steps,\n",
           statistics.steps + statistics.rejected);
    printf("treatment: memory of it,%.0f,kB,<= 1000\n", (double)statistics.bytes / 1000);
    printf("treatment: exponent of its time over cells; 60 to 480,%.2f,1,<= 1.15\n",
           slope_of_cost());
    printf("treatment: the same with one temperature for the fibre,%.2f,ms,\n",
           time_of(CELLS, 1, RUNS));
    printf("treatment: peak memory of the program that does it,%.1f,MB,\n", peak_memory());
    compare_gsl();
    hf_simulation_free(usual);
    hf_simulation_free(precise);
    return 0;
}
