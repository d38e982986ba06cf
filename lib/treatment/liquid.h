/* What a liquid does to the fibre besides wetting it: pH inside, balance of sulfur, bond cycles. */
#ifndef HFI_LIQUID_H
#define HFI_LIQUID_H

#include <hairfibre/chemistry.h>
#include <hairfibre/treatment.h>

#include "../bonds/cycles.h"
#include "../bonds/donnan.h"

typedef struct hfi_liquid {
    hf_sulfur sulfur;     /* mean over the fibre */
    double cystine_start; /* mol/kg, at the start of the simulation */
    double internal_ph;
    double exchanging;      /* s in water enough since the pH was brought forward */
    double logarithm;       /* of protons inside over those of the bath, then */
    hfi_ionic groups;       /* constants of the groups; cysteic acid and thiol as of then */
    hfi_bond_cycles cycles; /* of the mean regain and temperature, sample by sample */
    int present;            /* the fibre lies in `step` */
    hf_step step;
    double front, front_cystine; /* integral of the sharp front; cystine when the step began */
} hfi_liquid;

/* True for a step in which the fibre lies in a liquid. */
int hfi_is_liquid(hf_step_kind kind);

/* State of an untouched fibre. HF_ERANGE with a sentence when the set makes none. */
hf_status hfi_liquid_start(hf_simulation *s, hf_message *message);

/* A step in a liquid begins, or ends. */
hf_status hfi_liquid_begin(hf_simulation *s, const hf_step *step);
void hfi_liquid_end(hf_simulation *s);

/* Chemistry along the last accepted step of the integrator. */
hf_status hfi_liquid_follow(hf_simulation *s, double from, double to);

/* Counts bond cycles and writes the columns of a sample. */
void hfi_liquid_fill(hf_simulation *s, double regain, double temperature, double *row);

#endif
