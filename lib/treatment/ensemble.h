/* Insides of hf_ensemble, shared by its files. */
#ifndef HFI_ENSEMBLE_H
#define HFI_ENSEMBLE_H

#include <hairfibre/ensemble.h>

#include "../inference/inputs.h"

struct hf_ensemble {
    hf_ensemble_plan plan; /* with steps and population of its own */
    hf_population population;
    hf_step *steps;
    hf_parameters *set;
    hfi_variate area, ellipticity, medulla;
    size_t first, count, done;
    double *column[HF_STRAND_COLUMNS]; /* one block */
    unsigned char *is_done;
    hf_message message;
};

/* What a thread needs to compute strands; opened and closed by it. */
typedef struct hfi_strand_worker {
    const hf_ensemble *ensemble;
    hf_simulation_options options;
    hf_simulation *simulation; /* made at the first strand, started over for the others */
    hfi_inputs *inputs;        /* when parameters are drawn */
} hfi_strand_worker;

/* One strand: what it is, its uniform number for strength, its parameters. */
typedef struct hfi_strand {
    hf_fibre_description fibre;
    double luck;
    const hf_parameters *set;
} hfi_strand;

hf_status hfi_strand_open(hfi_strand_worker *worker, const hf_ensemble *ensemble,
                          const volatile sig_atomic_t *stop);
void hfi_strand_close(hfi_strand_worker *worker);

/* Computes strand `number` (from 0, of the whole ensemble) into row[HF_STRAND_COLUMNS]. HF_OK also where the
 * strand fails: its status is in the row and a sentence in `why`. HF_ESTOPPED and HF_ENOMEM: no row. */
hf_status hfi_strand_compute(hfi_strand_worker *worker, size_t number, double *row,
                             hf_message *why);

/* Treats a strand: fills every column of the row but number and status, as far as it came. Statuses of the simulation. */
hf_status hfi_strand_treat(hfi_strand_worker *worker, const hfi_strand *strand, double *row,
                           hf_message *why);

/* Takes over a row; the strand must be of this part. */
void hfi_ensemble_keep(hf_ensemble *ensemble, const double *row);

/* Force at which a strand breaks, N. luck: its uniform number; area, m2; disulfide: bonds left over those at the
 * start. HF_EXTRAPOLATED, HF_ERANGE when too few bonds are left for any law. */
hf_status hfi_pull(double luck, double area, double disulfide, double humidity,
                   const hf_parameters *set, double *force);

/* Prepares the distributions of the section. */
hf_status hfi_strand_prepare(hf_ensemble *ensemble, hf_message *message);

#endif
