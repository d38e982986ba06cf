/* The block tridiagonal solver against a dense LU with pivoting (GSL). */
#include "check.h"

#include "transport/block_tridiagonal.h"

#include <gsl/gsl_linalg.h>

#include <stdlib.h>

/* A small generator of our own, so that the systems are the same everywhere. */
static double random_value(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (double)(*state >> 11) / 4503599627370496.0 - 1.0; /* [-1, 1) */
}

static void fill(hfi_bt *a, double diagonal, uint64_t *state)
{
    const size_t entries = a->blocks * a->size * a->size;
    for (size_t e = 0; e < entries; e++) {
        a->lower[e] = random_value(state);
        a->diagonal[e] = random_value(state);
        a->upper[e] = random_value(state);
        const size_t r = e % (a->size * a->size);
        if (r == 0 || r == a->size * a->size - 1)
            a->diagonal[e] += a->diagonal[e] < 0.0 ? -diagonal : diagonal;
    }
}

static gsl_matrix *dense(const hfi_bt *a, double scale, double shift)
{
    const size_t m = a->size, n = m * a->blocks;
    gsl_matrix *out = gsl_matrix_calloc(n, n);
    assert_non_null(out);
    for (size_t i = 0; i < a->blocks; i++) {
        for (size_t r = 0; r < m; r++) {
            for (size_t c = 0; c < m; c++) {
                const size_t e = m * m * i + m * r + c, row = m * i + r, column = m * i + c;
                gsl_matrix_set(out, row, column, scale * a->diagonal[e] + (r == c ? shift : 0.0));
                if (i > 0)
                    gsl_matrix_set(out, row, column - m, scale * a->lower[e]);
                if (i + 1 < a->blocks)
                    gsl_matrix_set(out, row, column + m, scale * a->upper[e]);
            }
        }
    }
    return out;
}

static void compare(size_t blocks, size_t size, double scale, double shift, uint64_t seed)
{
    const size_t n = blocks * size;
    double *storage = malloc(hfi_bt_doubles(blocks, size) * 2 * sizeof(double));
    gsl_vector *b = gsl_vector_alloc(n), *want = gsl_vector_alloc(n);
    gsl_permutation *p = gsl_permutation_alloc(n);
    double *x = malloc(2 * n * sizeof(double));
    hfi_bt a, lu;
    assert_non_null(storage);
    assert_non_null(x);
    assert_int_equal(hfi_bt_map(&a, blocks, size, storage), HFI_BT_OK);
    assert_int_equal(hfi_bt_map(&lu, blocks, size, storage + hfi_bt_doubles(blocks, size)),
                     HFI_BT_OK);
    uint64_t state = seed;
    fill(&a, 5.0, &state);
    for (size_t i = 0; i < n; i++) {
        x[i] = random_value(&state);
        gsl_vector_set(b, i, x[i]);
    }
    gsl_matrix *full = dense(&a, scale, shift);
    gsl_matrix *copy = gsl_matrix_alloc(n, n);
    int sign;
    gsl_matrix_memcpy(copy, full);
    assert_int_equal(gsl_linalg_LU_decomp(copy, p, &sign), 0);
    assert_int_equal(gsl_linalg_LU_solve(copy, p, b, want), 0);

    assert_int_equal(hfi_bt_factor(&a, scale, shift, &lu), HFI_BT_OK);
    hfi_bt_solve(&lu, x);
    for (size_t i = 0; i < n; i++)
        CHECK_CLOSE(x[i], gsl_vector_get(want, i), 1e-12, 1e-12, "dense LU with pivoting (GSL)");

    /* multiply: scale A x + shift x must give b back. */
    hfi_bt_multiply(&a, x, x + n);
    for (size_t i = 0; i < n; i++)
        CHECK_CLOSE(scale * x[n + i] + shift * x[i], gsl_vector_get(b, i), 1e-12, 1e-12, "A x = b");

    /* In place gives the same digits. */
    for (size_t i = 0; i < n; i++)
        x[n + i] = gsl_vector_get(b, i);
    assert_int_equal(hfi_bt_factor(&a, scale, shift, &a), HFI_BT_OK);
    hfi_bt_solve(&a, x + n);
    for (size_t i = 0; i < n; i++)
        assert_true(x[n + i] == x[i]);

    gsl_matrix_free(full);
    gsl_matrix_free(copy);
    gsl_permutation_free(p);
    gsl_vector_free(b);
    gsl_vector_free(want);
    free(storage);
    free(x);
}

static void test_against_dense(void **unused)
{
    (void)unused;
    static const size_t blocks[] = {1, 2, 3, 7, 60, 101};
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++) {
        for (uint64_t seed = 1; seed <= 20; seed++) {
            compare(blocks[i], 1, 1.0, 0.0, seed);
            compare(blocks[i], 2, 1.0, 0.0, seed + 100);
            compare(blocks[i], 1, -0.25, 3.0, seed + 200);
            compare(blocks[i], 2, -0.25, 3.0, seed + 300);
        }
    }
}

/* Two fields in units 1e12 apart: scaling rows and columns must not cost digits. */
static void test_scaled_fields(void **unused)
{
    (void)unused;
    double plain_storage[12 * 30], scaled_storage[12 * 30], x[60], y[60];
    hfi_bt plain, scaled;
    assert_int_equal(hfi_bt_map(&plain, 30, 2, plain_storage), HFI_BT_OK);
    assert_int_equal(hfi_bt_map(&scaled, 30, 2, scaled_storage), HFI_BT_OK);
    uint64_t state = 7;
    fill(&plain, 5.0, &state);
    const double unit[2] = {1.0, 0x1p-40}, row[2] = {0x1p20, 1.0};
    for (size_t e = 0; e < 120; e++) {
        const double f = row[(e / 2) % 2] * unit[e % 2];
        scaled.lower[e] = plain.lower[e] * f;
        scaled.diagonal[e] = plain.diagonal[e] * f;
        scaled.upper[e] = plain.upper[e] * f;
    }
    for (size_t i = 0; i < 60; i++) {
        x[i] = random_value(&state);
        y[i] = x[i] * row[i % 2];
    }
    assert_int_equal(hfi_bt_factor(&plain, 1.0, 0.0, &plain), HFI_BT_OK);
    assert_int_equal(hfi_bt_factor(&scaled, 1.0, 0.0, &scaled), HFI_BT_OK);
    hfi_bt_solve(&plain, x);
    hfi_bt_solve(&scaled, y);
    for (size_t i = 0; i < 60; i++)
        CHECK_CLOSE(y[i] * unit[i % 2], x[i], 1e-14, 0.0, "powers of two scale exactly");
}

static int factor_of(size_t size, size_t blocks, double *entries)
{
    hfi_bt a;
    assert_int_equal(hfi_bt_map(&a, blocks, size, entries), HFI_BT_OK);
    return hfi_bt_factor(&a, 1.0, 0.0, &a);
}

static void test_singular(void **unused)
{
    (void)unused;
    double zero[3] = {0.0, 0.0, 0.0};
    assert_int_equal(factor_of(1, 1, zero), HFI_BT_SINGULAR);
    double nan1[3] = {0.0, (double)NAN, 0.0};
    assert_int_equal(factor_of(1, 1, nan1), HFI_BT_SINGULAR);
    double infinite[3] = {0.0, (double)INFINITY, 0.0};
    assert_int_equal(factor_of(1, 1, infinite), HFI_BT_SINGULAR);
    double tiny[3] = {0.0, 1e-320, 0.0}; /* its reciprocal overflows */
    assert_int_equal(factor_of(1, 1, tiny), HFI_BT_SINGULAR);
    /* [1 1; 1 1]: the second pivot cancels. */
    double cancel[6] = {0.0, 1.0, 1.0, 1.0, 1.0, 0.0};
    assert_int_equal(factor_of(1, 2, cancel), HFI_BT_SINGULAR);
    /* The same up to rounding: neither the block's determinant nor the pivot is exactly zero. */
    double block[12] = {0.0, 0.0, 0.0, 0.0, 0.1, 0.3, 0.7, 2.1, 0.0, 0.0, 0.0, 0.0};
    assert_true(0.1 * 2.1 - 0.3 * 0.7 != 0.0);
    assert_int_equal(factor_of(2, 1, block), HFI_BT_SINGULAR);
    double pivot[6] = {0.0, 0.1, 3.0, 0.07, 2.1, 0.0};
    assert_true(0.07 - 0.1 * ((1.0 / 3.0) * 2.1) != 0.0);
    assert_int_equal(factor_of(1, 2, pivot), HFI_BT_SINGULAR);
    double nan2[12] = {0.0, 0.0, 0.0, 0.0, 1.0, (double)NAN, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0};
    assert_int_equal(factor_of(2, 1, nan2), HFI_BT_SINGULAR);
    /* Zero on the diagonal of a block is fine as long as the block can be inverted. */
    double swap[12] = {0.0, 0.0, 0.0, 0.0, 0.0, 2.0, 4.0, 0.0, 0.0, 0.0, 0.0, 0.0};
    hfi_bt a;
    double x[2] = {6.0, 8.0};
    assert_int_equal(hfi_bt_map(&a, 1, 2, swap), HFI_BT_OK);
    assert_int_equal(hfi_bt_factor(&a, 1.0, 0.0, &a), HFI_BT_OK);
    hfi_bt_solve(&a, x);
    CHECK_CLOSE(x[0], 2.0, 0.0, 0.0, "0 x + 2 y = 6, 4 x + 0 y = 8");
    CHECK_CLOSE(x[1], 3.0, 0.0, 0.0, "0 x + 2 y = 6, 4 x + 0 y = 8");
}

static void test_arguments(void **unused)
{
    (void)unused;
    double storage[12] = {0.0};
    hfi_bt a, b;
    assert_int_equal(hfi_bt_map(NULL, 1, 1, storage), HFI_BT_BAD_ARGUMENT);
    assert_int_equal(hfi_bt_map(&a, 0, 1, storage), HFI_BT_BAD_ARGUMENT);
    assert_int_equal(hfi_bt_map(&a, 1, 3, storage), HFI_BT_BAD_ARGUMENT);
    assert_int_equal(hfi_bt_map(&a, HFI_BT_MAX_BLOCKS + 1, 1, storage), HFI_BT_BAD_ARGUMENT);
    assert_int_equal(hfi_bt_map(&a, 1, 1, NULL), HFI_BT_BAD_ARGUMENT);
    assert_int_equal(hfi_bt_map(&a, 1, 2, storage), HFI_BT_OK);
    assert_int_equal(hfi_bt_map(&b, 2, 2, storage), HFI_BT_OK);
    assert_int_equal(hfi_bt_factor(&a, 1.0, 0.0, &b), HFI_BT_BAD_ARGUMENT);
    assert_int_equal(hfi_bt_factor(NULL, 1.0, 0.0, &b), HFI_BT_BAD_ARGUMENT);
    assert_int_equal(hfi_bt_factor(&a, 1.0, 0.0, NULL), HFI_BT_BAD_ARGUMENT);
    hfi_bt_zero(&a);
    assert_int_equal(hfi_bt_factor(&a, 1.0, 0.0, &a), HFI_BT_SINGULAR);
    assert_int_equal(hfi_bt_factor(&a, 1.0, 2.0, &a), HFI_BT_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_against_dense),
        cmocka_unit_test(test_scaled_fields),
        cmocka_unit_test(test_singular),
        cmocka_unit_test(test_arguments),
    };
    return cmocka_run_group_tests_name("block tridiagonal", tests, NULL, NULL);
}
