/*
 * Random numbers by counting: number k of stream s of a seed is a function of (seed, s, k) alone, so it is
 * the same on every thread, in every order and in every part of a divided job.
 *
 * Philox 4x32-10 (Salmon, Moraes, Dror and Shaw 2011): ten rounds of two 32 x 32 bit products on the
 * counter (k, s) with the key (seed). The tests hold its published answers.
 */
#ifndef HFI_STREAM_H
#define HFI_STREAM_H

#include <stdint.h>

static inline void hfi_philox(uint32_t c[4], uint32_t k0, uint32_t k1)
{
    for (int round = 0; round < 10; round++) {
        const uint64_t a = UINT64_C(0xD2511F53) * c[0], b = UINT64_C(0xCD9E8D57) * c[2];
        const uint32_t c0 = (uint32_t)(b >> 32) ^ c[1] ^ k0, c2 = (uint32_t)(a >> 32) ^ c[3] ^ k1;
        c[1] = (uint32_t)b;
        c[3] = (uint32_t)a;
        c[0] = c0;
        c[2] = c2;
        k0 += UINT32_C(0x9E3779B9);
        k1 += UINT32_C(0xBB67AE85);
    }
}

/* 64 random bits: number `place` of `stream`. */
static inline uint64_t hfi_stream_bits(uint64_t seed, uint64_t stream, uint64_t place)
{
    const uint64_t block = place / 2;
    uint32_t c[4] = {(uint32_t)block, (uint32_t)(block >> 32), (uint32_t)stream,
                     (uint32_t)(stream >> 32)};
    hfi_philox(c, (uint32_t)seed, (uint32_t)(seed >> 32));
    return place % 2 ? (uint64_t)c[3] << 32 | c[2] : (uint64_t)c[1] << 32 | c[0];
}

/* Uniform in the open interval 0 .. 1. */
static inline double hfi_stream_uniform(uint64_t seed, uint64_t stream, uint64_t place)
{
    return ((double)(hfi_stream_bits(seed, stream, place) >> 11) + 0.5) * 0x1p-53;
}

/* Purposes that must not share numbers are told apart by the top bits of the stream. */
#define HFI_STREAM_SHIFT     (UINT64_C(1) << 62)
#define HFI_STREAM_BOOTSTRAP (UINT64_C(2) << 62)
#define HFI_STREAM_TOURS     (UINT64_C(3) << 62)

#endif
