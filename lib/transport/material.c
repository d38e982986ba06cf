/* Tables of the balance equations; see material.h. */
#include "material.h"

#include "../base/catalogue.h"
#include "../keratin/isotherm.h"
#include "../keratin/properties.h"
#include "../water/water.h"

#include <math.h>

#define T_REF 298.15 /* of the diffusivity and of the heat of sorption, K */
#define GAS   8.31446261815324

/* The law is a property of the dry-mass frame for the two plain ones, which serve comparison with
 * textbook solutions at constant geometry. */
static double diffusivity(const double *values, hfi_diffusion_law law, double w)
{
    switch (law) {
    case HFI_LAW_CONSTANT:
        return values[HFI_DIFFUSION_WET];
    case HFI_LAW_EXPONENTIAL:
        return values[HFI_DIFFUSION_EXPONENTIAL_LOW] *
               exp(values[HFI_DIFFUSION_EXPONENTIAL_SLOPE] * (w - 0.03));
    case HFI_LAW_SATURATING:
        break;
    }
    const double lambda = hfi_diameter_ratio(values, w, NULL);
    return hfi_diffusivity(values, w, T_REF) / (lambda * lambda);
}

/* Four-point Gauss-Lobatto quadrature over one piece; the values at its ends are known. */
typedef double integrand(const void *context, double w);

static double quadrature(integrand *f, const void *context, double from, double width, double start,
                         double end)
{
    static const double inner = 0.2763932022500210; /* (1 - 1/sqrt 5)/2 */
    return width / 12 *
           (start + end +
            5 * (f(context, from + inner * width) + f(context, from + (1 - inner) * width)));
}

typedef struct law_context {
    const double *values;
    hfi_diffusion_law law;
} law_context;

static double law_at(const void *context, double w)
{
    const law_context *c = context;
    return diffusivity(c->values, c->law, w);
}

/* Net isosteric heat. Water beyond saturation is liquid and has none; the heat fades out over FADE above
 * saturation, so that the enthalpy has no kink for the integrator to stumble over. */
#define FADE 0.03

typedef struct heat_context {
    hfi_isotherm isotherm;
    double saturation;
} heat_context;

static double heat_at(const void *context, double w)
{
    const heat_context *c = context;
    if (w <= c->saturation)
        return hfi_isotherm_heat(&c->isotherm, w, T_REF);
    const double x = (w - c->saturation) / FADE;
    if (x >= 1)
        return 0;
    return hfi_isotherm_heat(&c->isotherm, c->saturation, T_REF) *
           (1 - x * x * x * (10 + x * (6 * x - 15)));
}

#define REGAIN_STEP   0.00125
#define REGAIN_PIECES 512

static void fill_regain_tables(hfi_material *m, hfi_diffusion_law law)
{
    const law_context by_law = {m->values, law};
    heat_context by_heat;
    hfi_isotherm_at(&by_heat.isotherm, m->values, m->branch, T_REF);
    by_heat.saturation = hfi_isotherm_regain(&by_heat.isotherm, 1, NULL);
    double potential[REGAIN_PIECES + 1], mobility[REGAIN_PIECES + 1];
    double sorbed[REGAIN_PIECES + 1], heat[REGAIN_PIECES + 1];
    potential[0] = sorbed[0] = 0;
    for (int i = 0; i <= REGAIN_PIECES; i++) {
        const double w = i * REGAIN_STEP, from = w - REGAIN_STEP;
        mobility[i] = law_at(&by_law, w);
        heat[i] = heat_at(&by_heat, w);
        if (i == 0)
            continue;
        potential[i] = potential[i - 1] +
                       quadrature(law_at, &by_law, from, REGAIN_STEP, mobility[i - 1], mobility[i]);
        sorbed[i] =
            sorbed[i - 1] + quadrature(heat_at, &by_heat, from, REGAIN_STEP, heat[i - 1], heat[i]);
    }
    hfi_table_fill(&m->potential, 0, REGAIN_STEP, REGAIN_PIECES, potential, mobility);
    hfi_table_fill(&m->sorbed, 0, REGAIN_STEP, REGAIN_PIECES, sorbed, heat);
}

#define COLDEST     250.0
#define KELVIN_STEP 0.6
#define PIECES      500

static void fill_mobility(hfi_material *m)
{
    double factor[PIECES + 1], slope[PIECES + 1];
    for (int i = 0; i <= PIECES; i++) {
        const double T = COLDEST + i * KELVIN_STEP;
        factor[i] = exp(-m->arrhenius * (1 / T - m->inverse_t_ref));
        slope[i] = factor[i] * m->arrhenius / (T * T);
    }
    hfi_table_fill(&m->mobility, COLDEST, KELVIN_STEP, PIECES, factor, slope);
}

#define TRIPLE_POINT 273.16

static void fill_latent(hfi_material *m)
{
    /* Slopes by differences of order 4; the equations go on smoothly a little below the triple point. */
    double heat[PIECES + 5], slope[PIECES + 1];
    for (int i = 0; i < PIECES + 5; i++)
        heat[i] = hfi_latent_heat(TRIPLE_POINT + (i - 2) * KELVIN_STEP);
    for (int i = 0; i <= PIECES; i++)
        slope[i] = (heat[i] - heat[i + 4] + 8 * (heat[i + 3] - heat[i + 1])) / (12 * KELVIN_STEP);
    hfi_table_fill(&m->latent, TRIPLE_POINT, KELVIN_STEP, PIECES, heat + 2, slope);
}

void hfi_material_prepare(hfi_material *m, const double *values, hf_branch branch,
                          hfi_diffusion_law law)
{
    m->values = values;
    m->branch = branch;
    m->dry_density = values[HFI_SWELLING_DENSITY_DRY];
    m->c0 = values[HFI_THERMAL_CAPACITY_DRY];
    m->c1 = values[HFI_THERMAL_CAPACITY_SLOPE];
    m->cw = values[HFI_THERMAL_CAPACITY_WATER];
    m->k0 = values[HFI_THERMAL_CONDUCTIVITY_DRY];
    m->k1 = values[HFI_THERMAL_CONDUCTIVITY_SLOPE];
    m->arrhenius = values[HFI_DIFFUSION_ENERGY] / GAS;
    m->inverse_t_ref = 1 / T_REF;
    m->liquid_retention = values[HFI_SORPTION_RETENTION];
    fill_mobility(m);
    fill_latent(m);
    fill_regain_tables(m, law);
}
double hfi_material_enthalpy(const hfi_material *m, double w, double T)
{
    double heat;
    const double sorbed = hfi_table_look(&m->sorbed, w, &heat, NULL);
    const double x = T - HFI_ENTHALPY_ZERO;
    return x * (m->c0 + 0.5 * m->c1 * x + w * m->cw) - sorbed;
}
