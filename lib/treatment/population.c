/* Named populations of strands, as their source names them. */
#include <hairfibre/ensemble.h>

#include <string.h>

/* Share of medulla: a few percent of the section, remembered; the spread is assumed. */
#define MEDULLA_LOW  0.0
#define MEDULLA_HIGH 0.06

static const hf_population population[] = {
#define POPULATION(name, text, source, place, known, area, area_spread, ellipticity, spread)       \
    {name,        text,        source, place,       known,       area,                             \
     area_spread, ellipticity, spread, MEDULLA_LOW, MEDULLA_HIGH},
#include "population.def"
#undef POPULATION
};

#define COUNT (sizeof population / sizeof population[0])

const hf_population *hf_population_at(size_t index)
{
    return index < COUNT ? &population[index] : NULL;
}

const hf_population *hf_population_find(const char *name)
{
    for (size_t i = 0; name && i < COUNT; i++)
        if (strcmp(population[i].name, name) == 0)
            return &population[i];
    return NULL;
}
