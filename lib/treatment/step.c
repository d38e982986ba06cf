/* Steps of a schedule: words and checks. */
#include <hairfibre/treatment.h>

#include <hairfibre/water.h>

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

/* Water, or the vapour in air, that the pressure of the room allows. */
static hf_status check_pressure(const char *word, const char *what, double temperature,
                                double humidity, const hf_room *room, hf_message *message)
{
    const double vapour = humidity * hf_saturation_pressure(temperature);
    if (!room || vapour <= room->pressure)
        return HF_OK;
    if (message)
        snprintf(message->text, sizeof message->text,
                 "%s: %s at %g K has a vapour pressure of %.0f Pa, above the pressure of the room, "
                 "%.0f Pa",
                 word, what, temperature, vapour, room->pressure);
    return HF_ERANGE;
}

static hf_status check_soak(const hf_step *s, const hf_room *room, hf_message *message)
{
    const field water[] = {
        {"temperature", "K", s->temperature, 274.15, 372.15, 1},
        {"temperature_end", "K", s->temperature_end, 274.15, 372.15, 0},
    };
    const hf_status status = check_fields("soak", water, COUNT(water), message);
    if (status != HF_OK)
        return status;
    const double hottest = fmax(s->temperature, s->temperature_end);
    return check_pressure("soak", "water", hottest, 1, room, message);
}

/* Above this pH cystine turns into lanthionine at a rate that nobody measured. */
#define ALKALI 10.5

static hf_status check_chemistry(const hf_step *s, hf_message *message)
{
    const char *word = hf_step_word(s->kind);
    const double most = s->kind == HF_STEP_BLEACH ? 333.15 : 372.15;
    const int reduce = s->kind == HF_STEP_REDUCE, bleach = s->kind == HF_STEP_BLEACH;
    const field fields[] = {
        {"temperature", "K", s->temperature, 274.15, most, 1},
        {"temperature_end", "K", s->temperature_end, 274.15, most, 0},
        {"ph", "", s->ph,
         reduce   ? 7
         : bleach ? 8
                  : 0,
         reduce || bleach ? 12 : 14, reduce || bleach || s->kind == HF_STEP_BATH},
        {"ionic_strength", "mol/m3", s->ionic_strength, 0, 5000, 1},
    };
    hf_status status = check_fields(word, fields, COUNT(fields), message);
    const field thiol[] = {{"concentration", "mol/m3", s->concentration, 0, 3000, 1},
                           {"law", "", s->law, 0, 1, 1}};
    const field peroxide[] = {{"peroxide", "", s->peroxide, 0, 0.35, 1},
                              {"law", "", s->law, 0, 1, 1}};
    if (status == HF_OK && reduce)
        status = check_fields(word, thiol, COUNT(thiol), message);
    if (status == HF_OK && bleach)
        status = check_fields(word, peroxide, COUNT(peroxide), message);
    if (status == HF_OK && (reduce || bleach) && s->law != floor(s->law)) {
        if (message)
            snprintf(message->text, sizeof message->text, "%s: law = %g must be 0 or 1", word,
                     s->law);
        return HF_EINVAL;
    }
    if (status != HF_OK || reduce || bleach || !(s->ph > ALKALI))
        return status;
    if (message)
        snprintf(
            message->text, sizeof message->text,
            "%s: no validated model at pH %g: strong alkali turns cystine into lanthionine, and "
            "only ratios of its rate are known",
            word, s->ph);
    return HF_ENOMODEL;
}

static hf_status check_air(const hf_step *s, const hf_room *room, hf_message *message)
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
            snprintf(
                message->text, sizeof message->text,
                "%s: humidity has no meaning at or above 100 degC: leave it out and the air of the "
                "room is taken, or use a steam step",
                word);
        return HF_ERANGE;
    }
    if (!steam && isnan(s->humidity) && !isnan(s->humidity_end)) {
        if (message)
            snprintf(message->text, sizeof message->text, "%s: humidity_end needs a humidity",
                     word);
        return HF_EINVAL;
    }
    if (steam || isnan(s->humidity))
        return HF_OK;
    const hf_status start =
        check_pressure(word, "humid air", s->temperature, s->humidity, room, message);
    const double humidity = isnan(s->humidity_end) ? s->humidity : s->humidity_end;
    return start != HF_OK ? start : check_pressure(word, "humid air", end, humidity, room, message);
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
            snprintf(message->text, sizeof message->text,
                     "plates: passes = %g must be a whole number", s->passes);
        return HF_EINVAL;
    }
    return status;
}

static hf_status check_pull(const hf_step *s, hf_message *message)
{
    const field fields[] = {
        {"cycles", "", s->cycles, 1, 1e7, 1},
        {"stress", "Pa", s->stress, 1e6, 2.5e8, 1},
    };
    return check_fields("pull", fields, COUNT(fields), message);
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
    case HF_STEP_SOAK:
        return check_soak(s, room, message);
    case HF_STEP_BATH:
    case HF_STEP_BLEACH:
    case HF_STEP_REDUCE:
    case HF_STEP_NEUTRALISE:
    case HF_STEP_RINSE:
        status = check_chemistry(s, message);
        return status == HF_OK
                   ? check_pressure(word, "liquid", fmax(s->temperature, s->temperature_end), 1,
                                    room, message)
                   : status;
    case HF_STEP_AIR:
    case HF_STEP_STEAM:
        return check_air(s, room, message);
    case HF_STEP_PLATES:
        return check_plates(s, message);
    case HF_STEP_PULL:
        return check_pull(s, message);
    default:
        return HF_OK;
    }
}
