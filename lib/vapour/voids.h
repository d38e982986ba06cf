/*
 * Voids in wet hot keratin: what drives them, what resists, how fast they may grow.
 *
 *   drive      dp = p - p_ambient, p the vapour pressure inside at that radius of the fibre
 *   growth     dr/dt = r (dp - p0 - 2 gamma/r) / (4 eta)    while that is positive
 *   viscosity  eta = eta_ref exp(Ea/R (1/T - 1/T_ref) - b (w - w_ref))
 *
 * p, p0 Pa; r radius, m; gamma surface tension of water at T, N/m; eta Pa s; w regain. With
 * y = ln(r/r0):  dy/dt = (dp - p0 - 2 gamma/(r0 exp(y))) / (4 eta).
 *
 * The law is that of a bubble in an unbounded viscous liquid (barlow1962, navon1998; the factor 4 from
 * memory). It holds for weak interfaces (medulla, vacuoles, cell membranes) in a fibre that steam has
 * softened; intact keratin is the other bound, in intact.c. Voids do not close again: what shrinks them
 * is left out, as are neighbours, rupture and the water that a void takes up. No viscosity of hot wet
 * keratin was ever measured; every answer is calibrated or assumed.
 */
#ifndef HFI_VOIDS_H
#define HFI_VOIDS_H

/* `values` from hfi_values(); T K, w kg/kg, drive and the result as above. */
double hfi_void_viscosity(const double *values, double T, double w);
double hfi_void_growth_rate(const double *values, double T, double w, double drive,
                            double first_radius, double growth);

#endif
