/* Steps of a schedule: words and checks. */
#include <hairfibre/treatment.h>

#include <math.h>
#include <stdio.h>

const char *hf_step_word(hf_step_kind kind)
{
    static const char *const word[] = {
#define WORD(id, text, meaning) text,
        HF_STEP_LIST(WORD)
#undef WORD
    };
    return (unsigned)kind < HF_STEP_KINDS ? word[kind] : NULL;
}

/* One field: name, value, allowed range. */
typedef struct field {
    const char *name, *unit;
    double value, low, high;
    int needed; /* NaN is refused */
} field;

static hf_status check_fields(const char *step, const field *f, size_t n, hf_message *message)
{
    for (size_t i = 0; i < n; i++) {
        if (isnan(f[i].value)) {
            if (!f[i].needed)
                continue;
            if (message)
                snprintf(message->text, sizeof message->text, "%s: %s is missing or not a number",
                         step, f[i].name);
            return HF_EINVAL;
        }
        if (!(f[i].value >= f[i].low && f[i].value <= f[i].high)) {
            if (message)
                snprintf(message->text, sizeof message->text,
                         "%s: %s = %g%s%s must lie between %g and %g", step, f[i].name, f[i].value,
                         *f[i].unit ? " " : "", f[i].unit, f[i].low, f[i].high);
            return isfinite(f[i].value) ? HF_ERANGE : HF_EINVAL;
        }
    }
    return HF_OK;
}

#define COUNT(array) (sizeof(array) / sizeof(array)[0])
#define LONGEST      2.6e6 /* s, 30 days */
#define BOILING      373.124

static hf_status check_air(const hf_step *s, hf_message *message)
{
    const char *word = hf_step_word(s->kind);
    const int steam = s->kind == HF_STEP_STEAM;
    const field fields[] = {
        {"temperature", "K", s->temperature, steam ? 313.15 : 275.15, 523.15, 1},
        {"temperature_end", "K", s->temperature_end, steam ? 313.15 : 275.15, 523.15, 0},
        {"humidity", "", s->humidity, 0, 1, 0},
        {"humidity_end", "", s->humidity_end, 0, 1, 0},
        {"speed", "m/s", s->speed, 0, 40, 1},
        {"air_share", "", s->air_share, 0.002, 1, 1},
    };
    const hf_status status = check_fields(word, fields, COUNT(fields), message);
    if (status != HF_OK)
        return status;
    const double end = isnan(s->temperature_end) ? s->temperature : s->temperature_end;
    if (!isnan(s->humidity) && fmax(s->temperature, end) >= BOILING) {
        if (message)
            snprintf(message->text, sizeof message->text,
                     "%s: humidity has no meaning at or above 100 degC: leave it out and the air of the "
                     "room is taken, or use a steam step",
                     word);
        return HF_ERANGE;
    }
    return HF_OK;
}

static hf_status check_plates(const hf_step *s, hf_message *message)
{
    const field fields[] = {
        {"temperature", "K", s->temperature, 313.15, 523.15, 1},
        {"temperature_end", "K", s->temperature_end, 313.15, 523.15, 0},
        {"sides", "", s->sides, 1, 2, 1},
        {"passes", "", s->passes, 1, 10000, 1},
        {"interval", "s", s->interval, 0, LONGEST, 1},
    };
    const hf_status status = check_fields("plates", fields, COUNT(fields), message);
    if (status == HF_OK && s->passes != floor(s->passes)) {
        if (message)
            snprintf(message->text, sizeof message->text, "plates: passes = %g must be a whole number",
                     s->passes);
        return HF_EINVAL;
    }
    return status;
}

hf_status hf_step_check(const hf_step *s, const hf_room *room, hf_message *message)
{
    if (message)
        message->text[0] = '\0';
    if (!s || !hf_step_word(s->kind)) {
        if (message)
            snprintf(message->text, sizeof message->text, "a step of an unknown kind");
        return HF_EINVAL;
    }
    const char *word = hf_step_word(s->kind);
    if (room) {
        const field around[] = {
            {"temperature", "K", room->temperature, 278.15, 323.15, 1},
            {"humidity", "", room->humidity, 0, 0.99, 1},
            {"pressure", "Pa", room->pressure, 5e4, 1.1e5, 1},
        };
        const hf_status status = check_fields("room", around, COUNT(around), message);
        if (status != HF_OK)
            return status;
    }
    if (s->kind == HF_STEP_BLOT) {
        const field left[] = {{"film", "kg/kg", s->film, 0, 5, 0}};
        return check_fields(word, left, 1, message);
    }
    const field common[] = {
        {"duration", "s", s->duration, 1e-3, LONGEST, 1},
        {"heat_transfer", "W/(m2 K)", s->heat_transfer, 1, 1e5, 0},
    };
    hf_status status = check_fields(word, common, COUNT(common), message);
    if (status != HF_OK)
        return status;
    switch (s->kind) {
    case HF_STEP_SOAK: {
        const field water[] = {
            {"temperature", "K", s->temperature, 274.15, 372.15, 1},
            {"temperature_end", "K", s->temperature_end, 274.15, 372.15, 0},
        };
        return check_fields(word, water, COUNT(water), message);
    }
    case HF_STEP_AIR:
    case HF_STEP_STEAM:
        return check_air(s, message);
    case HF_STEP_PLATES:
        return check_plates(s, message);
    default:
        return HF_OK;
    }
}
