/*
 * base: status codes, parameters with their provenance, sources, and the descriptor of a quantity.
 *
 * Conventions of the whole library
 *   units        SI: K, Pa, m, s, kg, J, mol. Fractions, never percent. Regain is kg water per kg
 *                dry fibre. Humidity is water activity as a fraction.
 *   errors       A function NAME_e returns hf_status and leaves its output untouched unless the
 *                answer was written. A function NAME returns the number, or NaN on failure.
 *   ranges       Each argument has a domain (where the equation has a meaning) and a narrower
 *                range that evidence supports. Outside the range the answer is HF_ERANGE, unless
 *                the caller passes HF_EXTRAPOLATE: then the answer is written and the status is
 *                HF_EXTRAPOLATED. Outside the domain it is HF_ERANGE whatever the flag.
 *   parameters   `set` may be NULL everywhere: the shipped set "virgin".
 *   threads      No globals. const arguments may be shared by threads; an object belongs to one
 *                thread at a time.
 */
#ifndef HAIRFIBRE_BASE_H
#define HAIRFIBRE_BASE_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

#if defined(__GNUC__)
#define HF_API        __attribute__((visibility("default")))
#define HF_MUST_CHECK __attribute__((warn_unused_result))
#else
#define HF_API
#define HF_MUST_CHECK
#endif

#define HF_VERSION_MAJOR 0
#define HF_VERSION_MINOR 1
#define HF_VERSION_PATCH 0
#define HF_VERSION_TEXT  "0.1.0"

/* True when the headers are at least version a.b.c. */
#define HF_VERSION_AT_LEAST(a, b, c)                                                               \
    (HF_VERSION_MAJOR * 10000 + HF_VERSION_MINOR * 100 + HF_VERSION_PATCH >=                       \
     (a)*10000 + (b)*100 + (c))

/** Version of the library in use, as text "major.minor.patch". */
HF_API const char *hf_version(void);

/* ---- status ---------------------------------------------------------------------------------- */

/* name, number, short code (the same word in Lua and JSON), sentence */
#define HF_STATUS_LIST(X)                                                                          \
    X(HF_OK, 0, "ok", "done")                                                                      \
    X(HF_EXTRAPOLATED, 1, "extrapolated", "answered beyond the range that evidence supports")      \
    X(HF_EINVAL, 2, "invalid", "an argument is missing or not a finite number")                    \
    X(HF_ERANGE, 3, "range", "an argument lies outside the allowed range")                         \
    X(HF_ENAME, 4, "name", "no such name")                                                         \
    X(HF_ENOMEM, 5, "memory", "out of memory")                                                     \
    X(HF_ENOMODEL, 6, "no-model", "no validated model answers this")                               \
    X(HF_ECONVERGE, 7, "convergence", "the computation did not converge")                          \
    X(HF_ESTOPPED, 8, "stopped", "stopped on request before the end")                              \
    X(HF_EDATA, 9, "data", "the data cannot be used")                                              \
    X(HF_EINTERNAL, 10, "internal", "internal fault: please report it")

typedef enum hf_status {
#define HF_STATUS_ENUM(name, number, code, text) name = number,
    HF_STATUS_LIST(HF_STATUS_ENUM)
#undef HF_STATUS_ENUM
} hf_status;

/** Sentence for a status, lower case, without a full stop; never NULL. */
HF_API const char *hf_status_text(hf_status status);

/** Short code of a status ("range"); never NULL. */
HF_API const char *hf_status_code(hf_status status);

/** Status of a short code. HF_ENAME when there is none such. */
HF_API hf_status hf_status_from_code(const char *code, hf_status *out) HF_MUST_CHECK;

/* True when no answer was written: HF_OK and HF_EXTRAPOLATED both carry an answer. */
#define hf_failed(status) ((status) > HF_EXTRAPOLATED)

/* Bits of the `flags` argument. */
#define HF_STRICT      0u /* answer only where evidence supports it */
#define HF_EXTRAPOLATE 1u /* answer in the whole domain and mark what is extrapolated */

/* A sentence about a failure, owned by the caller. */
typedef struct hf_message {
    char text[512];
} hf_message;

/* ---- how a number is known ------------------------------------------------------------------- */

/* name, word, meaning; from the strongest to the weakest */
#define HF_KNOWN_LIST(X)                                                                           \
    X(HF_PUBLISHED, "published", "read in the source named")                                       \
    X(HF_SECOND_HAND, "second-hand", "read on a page that quotes the source named")                \
    X(HF_CALIBRATED, "calibrated", "fitted in this project to the observation named")              \
    X(HF_FROM_MEMORY, "from memory", "remembered, not read in the source named")                   \
    X(HF_COMMON_PRACTICE, "common practice", "in common use, without a source")                    \
    X(HF_ASSUMED, "assumed", "a judgement of this project")

typedef enum hf_known {
#define HF_KNOWN_ENUM(name, word, text) name,
    HF_KNOWN_LIST(HF_KNOWN_ENUM)
#undef HF_KNOWN_ENUM
} hf_known;

/** Word for a grade of knowledge ("published"); never NULL. */
HF_API const char *hf_known_word(hf_known known);

/** Meaning of a grade of knowledge, one clause; never NULL. */
HF_API const char *hf_known_text(hf_known known);

/* ---- sources --------------------------------------------------------------------------------- */

/* One entry of docs/sources.bib. Fields that the entry lacks are empty strings. */
typedef struct hf_source {
    const char *key, *type, *author, *title, *journal, *volume, *pages, *year, *doi, *note;
    const char *access; /* how it was seen: article text, abstract, handbook table, ... */
} hf_source;

/** Number of sources. */
HF_API size_t hf_source_count(void);

/** Source by index, in the order of the keys; NULL past the end. */
HF_API const hf_source *hf_source_at(size_t index);

/** Source by key; NULL when there is none such. */
HF_API const hf_source *hf_source_find(const char *key);

/* ---- parameters ------------------------------------------------------------------------------ */

/* How the spread of a parameter is to be read. */
#define HF_DISTRIBUTION_LIST(X)                                                                    \
    X(HF_FIXED, "fixed", "no spread: a definition or an exact value")                              \
    X(HF_NORMAL, "normal", "spread is the standard deviation, in the unit of the value")           \
    X(HF_LOGNORMAL, "lognormal", "spread is the standard deviation of the natural logarithm")      \
    X(HF_UNIFORM, "uniform", "spread is the half width, in the unit of the value")                 \
    X(HF_TRIANGULAR, "triangular", "spread is the half width of the base, peak at the value")

typedef enum hf_distribution {
#define HF_DISTRIBUTION_ENUM(name, word, text) name,
    HF_DISTRIBUTION_LIST(HF_DISTRIBUTION_ENUM)
#undef HF_DISTRIBUTION_ENUM
} hf_distribution;

/** Word for a distribution ("normal"); never NULL. */
HF_API const char *hf_distribution_word(hf_distribution distribution);

/* One row of the catalogue. */
typedef struct hf_parameter {
    const char *name; /* dotted, lower case: sorption.absorption.monolayer */
    const char *unit; /* SI, "1" for a pure number */
    double value;
    hf_distribution distribution;
    double spread;
    double low, high;       /* a value outside is refused */
    const char *source;     /* key of docs/sources.bib */
    const char *place;      /* table, page, section of the source */
    const char *conditions; /* what it was measured on */
    hf_known known;
    const char *text; /* what it is, one clause */
} hf_parameter;

/* A named set: the catalogue with some rows replaced. */
typedef struct hf_set {
    const char *name, *text;
} hf_set;

/* Parameters in use: a named set and the user's own changes to it. */
typedef struct hf_parameters hf_parameters;

/** Number of parameters in the catalogue. */
HF_API size_t hf_parameter_count(void);

/** Row of the catalogue by index; NULL past the end. */
HF_API const hf_parameter *hf_parameter_at(size_t index);

/** Index of a parameter name. HF_ENAME when there is none such; HF_EINVAL on NULL. */
HF_API hf_status hf_parameter_find(const char *name, size_t *index) HF_MUST_CHECK;

/** Name of the parameter nearest in spelling, for messages; NULL when none is near. */
HF_API const char *hf_parameter_nearest(const char *name);

/** Number of named sets. */
HF_API size_t hf_set_count(void);

/** Named set by index, "virgin" first; NULL past the end. */
HF_API const hf_set *hf_set_at(size_t index);

/** New parameters from a named set (NULL: "virgin"). HF_ENAME, HF_EINVAL, HF_ENOMEM. */
HF_API hf_status hf_parameters_new(hf_parameters **out, const char *set_name) HF_MUST_CHECK;

/** Independent copy, changes included; `from` NULL copies the shipped set "virgin". */
HF_API hf_status hf_parameters_copy(hf_parameters **out, const hf_parameters *from) HF_MUST_CHECK;

/** Frees; NULL is fine. */
HF_API void hf_parameters_free(hf_parameters *set);

/** Changes one value. HF_ENAME for an unknown name, HF_ERANGE outside low..high of the catalogue,
 *  HF_EINVAL for a non-finite value; on failure hf_parameters_message tells which and why. */
HF_API hf_status hf_parameters_set(hf_parameters *set, const char *name,
                                   double value) HF_MUST_CHECK;

/** Value in use, in the unit of the catalogue. HF_ENAME, HF_EINVAL. */
HF_API hf_status hf_parameters_get(const hf_parameters *set, const char *name,
                                   double *value) HF_MUST_CHECK;

/** Row as it holds in this set: a value that the set replaces comes with the provenance of the set,
 *  a value that the user changed with source "" and `known` HF_ASSUMED, one of rows fitted together with
 *  source "", its label as `place` and `known` HF_CALIBRATED. HF_ERANGE past the end. */
HF_API hf_status hf_parameters_row(const hf_parameters *set, size_t index,
                                   hf_parameter *row) HF_MUST_CHECK;

/* ---- rows fitted together ---- */

#define HF_FITTED_MAX 20
#define HF_LABEL_SIZE 160 /* bytes of a name or a label, the zero included */

/** Takes over `count` values that were fitted together, with their covariance (count * count, row by row):
 *  the rows become normal with that spread, move together in draws and ranges, and count as changed.
 *  `label` says what they were fitted to. Replaces rows fitted before. HF_ENAME for an unknown or repeated
 *  name, HF_ERANGE for a value outside its row's limits or more than HF_FITTED_MAX rows, HF_EINVAL for a
 *  matrix that is no covariance or a label that is too long; the sentence: hf_parameters_message.
 *  HF_ENOMEM. hf_parameters_set on such a row takes it out of the fitted ones: it is exact from then on. */
HF_API hf_status hf_parameters_set_fitted(hf_parameters *set, size_t count,
                                          const char *const *names, const double *values,
                                          const double *covariance,
                                          const char *label) HF_MUST_CHECK;

/* Rows fitted together; the pointers belong to the set and hold until it is changed or freed. */
typedef struct hf_fitted {
    size_t count;
    const size_t *row;        /* indices in the catalogue, rising */
    const double *covariance; /* count * count */
    const char *label;
} hf_fitted;

/** Rows of this set that were fitted together; count 0 when there are none. */
HF_API hf_fitted hf_parameters_fitted(const hf_parameters *set);

/** Gives the set a name of its own: 1 to 63 printable letters. HF_EINVAL. */
HF_API hf_status hf_parameters_set_name(hf_parameters *set, const char *name) HF_MUST_CHECK;

/** Name of the shipped set it started from; never NULL. */
HF_API const char *hf_parameters_base(const hf_parameters *set);

/** True when the user changed this parameter. */
HF_API int hf_parameters_is_changed(const hf_parameters *set, size_t index);

/** Its own name, or that of the set it started from; never NULL. */
HF_API const char *hf_parameters_name(const hf_parameters *set);

/** Digest of names and values in use, and of the covariance of fitted rows: 16 hexadecimal digits and a zero. */
HF_API void hf_parameters_digest(const hf_parameters *set, char out[17]);

/** Sentence about the last failure of a call on this object; "" when there was none. */
HF_API const char *hf_parameters_message(const hf_parameters *set);

/* ---- quantities ------------------------------------------------------------------------------ */

/* What a number stands for; decides how units are read and shown at the edge. */
#define HF_KIND_LIST(X)                                                                            \
    X(HF_KIND_NUMBER, "number")                                                                    \
    X(HF_KIND_TEMPERATURE, "temperature")           /* absolute temperature, K */                  \
    X(HF_KIND_DIFFERENCE, "temperature difference") /* K */                                        \
    X(HF_KIND_FRACTION, "fraction")                 /* 0.65, shown as 65 % */                      \
    X(HF_KIND_CHOICE, "choice")                     /* index into a list of words */

typedef enum hf_kind {
#define HF_KIND_ENUM(name, word) name,
    HF_KIND_LIST(HF_KIND_ENUM)
#undef HF_KIND_ENUM
} hf_kind;

#define HF_ARGUMENTS_MAX 8

typedef struct hf_argument {
    const char *name, *unit, *text;
    hf_kind kind;
    double usual;                   /* taken when not given; NaN: must be given */
    double domain_low, domain_high; /* where the equation has a meaning */
    double valid_low, valid_high;   /* where evidence supports it */
    const char *choices;            /* for HF_KIND_CHOICE: words separated by a blank */
} hf_argument;

/* Bits of hf_quantity.cautions. */
#define HF_CAUTION_HEAT     1u
#define HF_CAUTION_CHEMICAL 2u

/* A quantity that can be asked for by name. `evaluate` NULL: no validated model answers it, and
 * `leaves_out` says what is known instead. */
typedef struct hf_quantity {
    const char *name, *unit, *text;
    hf_kind kind;
    const char *room;
    const char *equation;   /* one line of plain text */
    const char *leaves_out; /* what the model does not know */
    const char *sources;    /* keys of the equation itself, separated by a blank */
    hf_known known;         /* how the equation is known */
    const char *parameters; /* name prefixes in the catalogue, separated by a blank */
    double equation_spread; /* relative standard deviation of the equation itself, 0: none stated */
    unsigned cautions;
    hf_status (*evaluate)(const double *arguments, const hf_parameters *set, unsigned flags,
                          double *out);
    /* Sentence for a failure that no single argument explains (may be NULL). */
    void (*explain)(const double *arguments, const hf_parameters *set, hf_message *message);
    size_t argument_count;
    hf_argument arguments[HF_ARGUMENTS_MAX];
} hf_quantity;

#ifdef __cplusplus
}
#endif

#endif
