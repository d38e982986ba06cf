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

hf_status hfi_strand_open(hfi_strand_worker *worker, const hf_ensemble *ensemble,
                          const volatile sig_atomic_t *stop);
void hfi_strand_close(hfi_strand_worker *worker);

/* Computes strand `number` (from 0, of the whole ensemble) into row[HF_STRAND_COLUMNS]. HF_OK also where the
 * strand fails: its status is in the row and a sentence in `why`. HF_ESTOPPED and HF_ENOMEM: no row. */
hf_status hfi_strand_compute(hfi_strand_worker *worker, size_t number, double *row, hf_message *why);

/* Takes over a row; the strand must be of this part. */
void hfi_ensemble_keep(hf_ensemble *ensemble, const double *row);

/* Prepares the distributions of the section. */
hf_status hfi_strand_prepare(hf_ensemble *ensemble, hf_message *message);

#endif
