/* Words and sentences of the lists in base.h. */
#include <hairfibre/base.h>

#include <string.h>

const char *hf_version(void)
{
    return HF_VERSION_TEXT;
}

const char *hf_status_text(hf_status status)
{
    switch (status) {
#define CASE(name, number, code, text)                                                             \
    case name:                                                                                     \
        return text;
        HF_STATUS_LIST(CASE)
#undef CASE
    }
    return "unknown status";
}

const char *hf_status_code(hf_status status)
{
    switch (status) {
#define CASE(name, number, code, text)                                                             \
    case name:                                                                                     \
        return code;
        HF_STATUS_LIST(CASE)
#undef CASE
    }
    return "unknown";
}

hf_status hf_status_from_code(const char *code, hf_status *out)
{
    if (!code || !out)
        return HF_EINVAL;
#define MATCH(name, number, word, text)                                                            \
    if (strcmp(code, word) == 0) {                                                                 \
        *out = name;                                                                               \
        return HF_OK;                                                                              \
    }
    HF_STATUS_LIST(MATCH)
#undef MATCH
    return HF_ENAME;
}

const char *hf_known_word(hf_known known)
{
    switch (known) {
#define CASE(name, word, text)                                                                     \
    case name:                                                                                     \
        return word;
        HF_KNOWN_LIST(CASE)
#undef CASE
    }
    return "unknown";
}

const char *hf_known_text(hf_known known)
{
    switch (known) {
#define CASE(name, word, text)                                                                     \
    case name:                                                                                     \
        return text;
        HF_KNOWN_LIST(CASE)
#undef CASE
    }
    return "unknown";
}

const char *hf_distribution_word(hf_distribution distribution)
{
    switch (distribution) {
#define CASE(name, word, text)                                                                     \
    case name:                                                                                     \
        return word;
        HF_DISTRIBUTION_LIST(CASE)
#undef CASE
    }
    return "unknown";
}
