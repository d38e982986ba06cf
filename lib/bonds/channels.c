/*
 * Damage channels: the exposure of each over a segment on which temperature and regain are linear.
 *
 * A segment is cut where the temperature crosses the ends of a law's range or the temperature from
 * which the channel counts, and where the regain crosses the ends of the blend (helix.c). A piece
 * below that temperature adds nothing. On every piece the channel then follows either one
 * Arrhenius law, which is integrated in closed form (exposure.c), or the helix law with changing
 * regain, which is integrated by adaptive quadrature to 1e-10 of the piece. A piece counts as
 * outside when its law is beyond its range; between the two ends of regain the helix law always is.
 */
#include "channels.h"

#include "quadrature.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

static const hf_channel_info channels[HF_CHANNELS] = {
#define INFO(id, name, unit, low, high, counted_from, energy, text)                                \
    {name, unit, low, high, counted_from, energy, text},
    HF_CHANNEL_LIST(INFO)
#undef INFO
};

const hf_channel_info *hf_channel_at(size_t index)
{
    return index < HF_CHANNELS ? &channels[index] : NULL;
}

hfi_channel_laws hfi_channel_laws_of(const double *values)
{
    hfi_channel_laws laws = {.helix = hfi_helix_law_of(values)};
    laws.single[HF_CHANNEL_HELIX_IRONING] = laws.helix.ironing;
    laws.single[HF_CHANNEL_HELIX_WET] = laws.helix.wet;
    laws.single[HF_CHANNEL_HELIX_DRY] = hfi_helix_dry(values);
    laws.single[HF_CHANNEL_TRYPTOPHAN] = hfi_tryptophan(values);
    return laws;
}

/* Places (0..1) at which a segment is cut, kept in order. */
typedef struct cuts {
    double at[10];
    int count;
} cuts;

static void cut(cuts *list, double from, double to, double level)
{
    if (!((from < level && level < to) || (to < level && level < from)))
        return;
    const double u = (level - from) / (to - from);
    if (!(u > 0 && u < 1))
        return;
    int i = list->count++;
    for (; i > 0 && list->at[i - 1] > u; i--)
        list->at[i] = list->at[i - 1];
    list->at[i] = u;
}

static void cut_range(cuts *list, const hfi_segment *segment, hf_channel channel)
{
    cut(list, segment->T0, segment->T1, channels[channel].temperature_low);
    cut(list, segment->T0, segment->T1, channels[channel].temperature_high);
}

static int in_range(hf_channel channel, double T)
{
    return T >= channels[channel].temperature_low && T <= channels[channel].temperature_high;
}

static double between(double from, double to, double u)
{
    return from + u * (to - from);
}

static hfi_segment piece_of(const hfi_segment *segment, double left, double right)
{
    return (hfi_segment){
        segment->duration * (right - left),       between(segment->T0, segment->T1, left),
        between(segment->T0, segment->T1, right), between(segment->w0, segment->w1, left),
        between(segment->w0, segment->w1, right), segment->regain_doubtful};
}

static void add(hfi_exposure *sum, double exposure, double error, int inside)
{
    sum->total += exposure;
    sum->error += error;
    sum->outside += inside ? 0 : exposure;
}

typedef struct blend {
    const hfi_helix_law *law;
    const hfi_segment *piece;
} blend;

static double blended_rate(double u, const void *context)
{
    const blend *of = context;
    const double w = between(of->piece->w0, of->piece->w1, u);
    const hfi_arrhenius law = hfi_helix_at_weight(of->law, hfi_helix_weight(of->law, w));
    return hfi_arrhenius_rate(&law, between(of->piece->T0, of->piece->T1, u));
}

static hf_status add_helix(const hfi_helix_law *law, const hfi_segment *piece, hfi_exposure *sum)
{
    const double T = 0.5 * (piece->T0 + piece->T1), w = 0.5 * (piece->w0 + piece->w1);
    const int side = hfi_helix_side(law, w);
    const int inside = side != 0 && !piece->regain_doubtful &&
                       in_range(side > 0 ? HF_CHANNEL_HELIX_WET : HF_CHANNEL_HELIX_IRONING, T);
    if (!(fabs(piece->w1 - piece->w0) > 0)) {
        const hfi_arrhenius single = hfi_helix_at_weight(law, hfi_helix_weight(law, w));
        add(sum, hfi_arrhenius_segment(&single, piece->duration, piece->T0, piece->T1), 0, inside);
        return HF_OK;
    }
    const blend of = {law, piece};
    double integral, error;
    const hf_status status = hfi_integrate(blended_rate, &of, 1e-10, &integral, &error);
    if (status == HF_OK)
        add(sum, piece->duration * integral, piece->duration * error, inside);
    return status;
}

hf_status hfi_channel_add(const hfi_channel_laws *laws, hf_channel channel,
                          const hfi_segment *segment, hfi_exposure *sum)
{
    cuts list = {.count = 0};
    cut(&list, segment->T0, segment->T1, channels[channel].counted_from);
    if (channel == HF_CHANNEL_HELIX) {
        cut_range(&list, segment, HF_CHANNEL_HELIX_WET);
        cut_range(&list, segment, HF_CHANNEL_HELIX_IRONING);
        cut(&list, segment->w0, segment->w1, laws->helix.dry_regain);
        cut(&list, segment->w0, segment->w1, laws->helix.wet_regain);
    } else {
        cut_range(&list, segment, channel);
    }
    list.at[list.count] = 1;
    double left = 0;
    for (int i = 0; i <= list.count; i++) {
        const double right = list.at[i];
        if (!(right > left))
            continue;
        const hfi_segment piece = piece_of(segment, left, right);
        left = right;
        if (0.5 * (piece.T0 + piece.T1) < channels[channel].counted_from)
            continue;
        hf_status status = HF_OK;
        if (channel == HF_CHANNEL_HELIX)
            status = add_helix(&laws->helix, &piece, sum);
        else
            add(sum,
                hfi_arrhenius_segment(&laws->single[channel], piece.duration, piece.T0, piece.T1),
                0, in_range(channel, 0.5 * (piece.T0 + piece.T1)));
        if (status != HF_OK)
            return status;
    }
    return HF_OK;
}

hf_status hf_channel_rate_e(hf_channel channel, double temperature, double regain,
                            const hf_parameters *set, unsigned flags, double *rate)
{
    static const hfi_range range = {HFI_HELIX_TEMPERATURE}; /* the same domain for all */
    if (!rate || (unsigned)channel >= HF_CHANNELS)
        return HF_EINVAL;
    const hf_status status = hfi_check(temperature, &range, HF_EXTRAPOLATE);
    if (!hf_failed(status) && temperature < channels[channel].counted_from) {
        if (!(flags & HF_EXTRAPOLATE))
            return HF_ERANGE;
        *rate = 0;
        return HF_EXTRAPOLATED;
    }
    switch (channel) {
    case HF_CHANNEL_HELIX:
        return hf_helix_rate_e(temperature, regain, set, flags, rate);
    case HF_CHANNEL_HELIX_IRONING:
        return hf_helix_rate_ironing_e(temperature, set, flags, rate);
    case HF_CHANNEL_HELIX_WET:
        return hf_helix_rate_wet_e(temperature, set, flags, rate);
    case HF_CHANNEL_HELIX_DRY:
        return hf_helix_rate_dry_e(temperature, set, flags, rate);
    default:
        return hf_tryptophan_rate_e(temperature, set, flags, rate);
    }
}

HFI_STRICT(hf_channel_rate,
           (hf_channel channel, double temperature, double regain, const hf_parameters *set),
           channel, temperature, regain, set)
