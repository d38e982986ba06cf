/*
 * Other closed forms of the isotherm, for fitting and for comparison. a is water activity, w
 * regain.
 *
 *   GAB                 w = wm c k a / ((1 - k a)(1 + (c - 1) k a))
 *   BET                 GAB with k = 1, a < 1
 *   Hailwood-Horrobin   w = (M / m) [ k2 a/(1 - k2 a) + k1 k2 a/(1 + k1 k2 a) ], M molar mass of
 *                       water, m kg dry fibre per mol of sites; the same curve as GAB with
 *                       wm = M/m, c = k1 + 1, k = k2
 *   D'Arcy-Watt         w = b1 b a/(1 + b a) + c1 c a/(1 - c a); some authors add a linear term
 *   garment models      w = 0.55 w65 a [ 1/(0.25 + a) + 1/(1.25 - a) ]
 *                       Q = 195 kJ/kg (1 - a) [ 1/(0.2 + a) + 1/(1.05 - a) ], wool, from liquid
 *
 * Sources: nail-sorption2007 (GAB, D'Arcy-Watt as printed), hailwoodhorrobin1946 (from memory),
 * watts-clothing-code (garment models, read in code). No published constants of hair were found.
 */
#include <hairfibre/keratin.h>

#include "constants.h"

#include <math.h>

static int meaningful(double a)
{
    return a >= 0 && a <= 1;
}

double hf_isotherm_gab(double humidity, double monolayer, double c, double k)
{
    const double x = k * humidity;
    if (!meaningful(humidity) || !(monolayer > 0 && c > 0 && k > 0 && x < 1))
        return (double)NAN;
    return monolayer * c * x / ((1 - x) * (1 + (c - 1) * x));
}

double hf_isotherm_bet(double humidity, double monolayer, double c)
{
    return hf_isotherm_gab(humidity, monolayer, c, 1);
}

double hf_isotherm_hailwood_horrobin(double humidity, double site_mass, double k1, double k2)
{
    const double x = k2 * humidity;
    if (!meaningful(humidity) || !(site_mass > 0 && k1 > 0 && k2 > 0 && x < 1))
        return (double)NAN;
    return HFI_WATER_MOLAR_MASS / site_mass * (x / (1 - x) + k1 * x / (1 + k1 * x));
}

double hf_isotherm_darcy_watt(double humidity, double strong, double b, double multilayer, double c)
{
    if (!meaningful(humidity) || !(strong >= 0 && b >= 0 && multilayer >= 0 && c >= 0) ||
        !(c * humidity < 1))
        return (double)NAN;
    return strong * b * humidity / (1 + b * humidity) +
           multilayer * c * humidity / (1 - c * humidity);
}

double hf_isotherm_garment(double humidity, double regain_65)
{
    if (!meaningful(humidity) || !(regain_65 > 0))
        return (double)NAN;
    return 0.55 * regain_65 * humidity * (1 / (0.25 + humidity) + 1 / (1.25 - humidity));
}

double hf_garment_heat(double humidity)
{
    if (!meaningful(humidity))
        return (double)NAN;
    return 195e3 * (1 - humidity) * (1 / (0.2 + humidity) + 1 / (1.05 - humidity));
}
