/* Pulled again and again: the share of the characteristic life that is used. */
#ifndef HFI_TREATMENT_FATIGUE_H
#define HFI_TREATMENT_FATIGUE_H

#include <hairfibre/treatment.h>

typedef struct hfi_pulls {
    double rate;   /* pulls per second of the present step; 0 outside a pull */
    double stress; /* Pa */
    double used;   /* share of the life since the start of the simulation */
} hfi_pulls;

/* A step of pulls begins, or ends. */
void hfi_pulls_begin(hf_simulation *s, const hf_step *step);
void hfi_pulls_end(hf_simulation *s);

/* Adds what the pulls between two times of the last accepted step of the integrator use. Uses s->scratch. */
hf_status hfi_pulls_follow(hf_simulation *s, double from, double to);

#endif
