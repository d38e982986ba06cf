/* SHA-256 of a text: tells later which file a result was made from. */
#include "core.h"

#include <nettle/sha2.h>

/* sha256(text) -> 64 hexadecimal digits */
static int sha256(lua_State *L)
{
    size_t length;
    const char *text = luaL_checklstring(L, 1, &length);
    struct sha256_ctx context;
    unsigned char sum[SHA256_DIGEST_SIZE];
    char digits[2 * SHA256_DIGEST_SIZE];
    sha256_init(&context);
    sha256_update(&context, length, (const unsigned char *)text);
    sha256_digest(&context, sizeof sum, sum);
    for (size_t i = 0; i < sizeof sum; i++) {
        digits[2 * i] = "0123456789abcdef"[sum[i] >> 4];
        digits[2 * i + 1] = "0123456789abcdef"[sum[i] & 15];
    }
    lua_pushlstring(L, digits, sizeof digits);
    return 1;
}

void hfi_lua_open_checksum(lua_State *L)
{
    lua_pushcfunction(L, sha256);
    lua_setfield(L, -2, "sha256");
}
