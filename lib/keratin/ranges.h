/*
 * Ranges of the arguments: domain_low, domain_high, valid_low, valid_high (base/range.h).
 *
 * SORPTION_TEMPERATURE  Liquid water is the reference of humidity, so nothing below 0 degC has a
 *                       meaning here. The coldest observation used is a hygrometer curve at 10 degC
 *                       (biot1816); below it the saturation regain of the model climbs past every
 *                       measured one. Read sorption work on wool ends at 149 degC (wiegerink1940);
 * up to 250 degC only the shape of the isotherm is checked. REGAIN                Swelling and
 * density: up to a saturated fibre. CONDUCTIVITY_REGAIN   Two measured points, 0.7 and 10.7 %
 * regain (baxter1946). DIFFUSION_TEMPERATURE Hygrometers from 0 degC (ams-hygrometer); activation
 * energies of keratin tissue to 60 degC (pigskin-diffusion). CAPACITY_TEMPERATURE  Remembered hair
 * calorimetry 25..150 degC (hair-cp-dsc), wool from -50 degC (haly1965). HEATING_RATE 0.5..10 K/min
 * (gillece2021), rounded outward, in K/s.
 */
#ifndef HFI_KERATIN_RANGES_H
#define HFI_KERATIN_RANGES_H

#define HFI_SORPTION_TEMPERATURE  273.15, 523.15, 283.15, 423.15
#define HFI_HUMIDITY              0.0, 1.0, 0.0, 1.0
#define HFI_SORBED_REGAIN         0.0, 1.0, 0.0, 1.0
#define HFI_REGAIN                0.0, 1.0, 0.0, 0.40
#define HFI_CONTENT               0.0, 0.5, 0.0, 0.5
#define HFI_CONDUCTIVITY_REGAIN   0.0, 1.0, 0.0, 0.11
#define HFI_DIFFUSION_TEMPERATURE 273.15, 523.15, 273.15, 333.15
#define HFI_CAPACITY_TEMPERATURE  223.15, 523.15, 273.15, 423.15
#define HFI_HEATING_RATE          1e-6, 100.0, 0.008, 0.17
#define HFI_BRANCH                0.0, 1.0, 0.0, 1.0

#endif
