/* How far does a 68 um fibre swell from a dry room to water? A first program against the C library:
 *   cc swelling.c $(pkg-config --cflags --libs hairfibre) -o swelling && ./swelling */
#include <hairfibre.h>

#include <stdio.h>

int main(void)
{
    const double diameter = 68e-6, temperature = 293.15;
    double dry_room, swelling;
    hf_status status = hf_regain_e(0.30, temperature, HF_ABSORPTION, NULL, HF_STRICT, &dry_room);
    if (status == HF_OK)
        status =
            hf_diameter_swelling_e(hf_liquid_retention(NULL), dry_room, NULL, HF_STRICT, &swelling);
    if (status != HF_OK) {
        fprintf(stderr, "swelling: %s\n", hf_status_text(status));
        return 1;
    }
    printf("From 30 %% humidity (regain %.1f %%) to water a %.0f um fibre grows by %.1f %%, %.1f "
           "um.\n",
           100 * dry_room, 1e6 * diameter, 100 * swelling, 1e6 * diameter * swelling);
    return 0;
}
