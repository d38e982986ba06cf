/* What a simulation needs of a fibre, worked out once. */
#ifndef HFI_FIBRE_H
#define HFI_FIBRE_H

#include <hairfibre/treatment.h>

struct hf_fibre {
    hf_fibre_description description;
    hf_parameters *set;
    double dry_radius; /* m, equal area */
    double perimeter;  /* true perimeter over that of the circle of equal area */
    double regain;     /* at the start */
};

#endif
