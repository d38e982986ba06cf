/* Bounds by transform: a free variable u for every parameter b. */
#ifndef HFI_TRANSFORM_H
#define HFI_TRANSFORM_H

typedef struct hfi_transform {
    enum { HFI_UNBOUNDED, HFI_LOWER, HFI_UPPER, HFI_FROM_LOWER, HFI_FROM_UPPER } kind;
    double edge;  /* the bound counted from */
    double scale; /* |b| or distance to the edge at the start; width between two bounds */
} hfi_transform;

/* Transform for a parameter that starts at b, and its u there. A start on a bound moves a little inside. */
hfi_transform hfi_transform_at(double b, double low, double high, double typical, double *u);

/* b at u and db/du. */
double hfi_transform_back(const hfi_transform *transform, double u, double *slope);

#endif
