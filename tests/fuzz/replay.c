/* Runs a harness on files, without a fuzzer: replay FILE... prints `N passed, N failed`; a fault ends it. */
#include "reader.h"

#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv)
{
    for (int i = 1; i < argc; i++) {
        FILE *file = fopen(argv[i], "rb");
        if (!file || fseek(file, 0, SEEK_END) != 0) {
            fprintf(stderr, "cannot read %s\n", argv[i]);
            return 1;
        }
        const long size = ftell(file);
        rewind(file);
        /* A block of exactly this size: reading past its end is seen. */
        uint8_t *bytes = malloc(size > 0 ? (size_t)size : 1);
        if (size < 0 || !bytes || fread(bytes, 1, (size_t)size, file) != (size_t)size) {
            fprintf(stderr, "cannot read %s\n", argv[i]);
            return 1;
        }
        fclose(file);
        fprintf(stderr, "%s\n", argv[i]);
        LLVMFuzzerTestOneInput(bytes, (size_t)size);
        free(bytes);
    }
    printf("%d passed, 0 failed\n", argc - 1);
    return 0;
}
