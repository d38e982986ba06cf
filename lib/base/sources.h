/* Table of sources, generated from docs/sources.bib at build time. */
#ifndef HFI_SOURCES_H
#define HFI_SOURCES_H

#include <hairfibre/base.h>

extern const hf_source hfi_sources[];
extern const size_t hfi_sources_count;

#endif
