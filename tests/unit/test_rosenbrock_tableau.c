/* The RODAS4P tableau against the order conditions (hairerwanner1996, section IV.7; method:
 * steinebach1995, digits: rodas4p-code). A wrong digit from the tenth place on fails here. */
#include "check.h"

#include "transport/rosenbrock_tableau.h"

#include <string.h>

#define S HFI_RODAS_STAGES

/* The method in its usual form: alpha, beta = alpha + gamma matrix, weights. */
typedef struct method {
    double alpha[S][S], gamma[S][S], beta[S][S], inverse[S][S];
    double b[S], b_hat[S], alpha_sum[S], beta_sum[S];
} method;

static double dot(const double *a, const double *b)
{
    double sum = 0.0;
    for (size_t i = 0; i < S; i++)
        sum += a[i] * b[i];
    return sum;
}

static void apply(double (*m)[S], const double *x, double *out)
{
    for (size_t i = 0; i < S; i++)
        out[i] = dot(m[i], x);
}

/* Gamma = (1/gamma I - C)^-1, alpha = a Gamma, b = m Gamma (m: weights of the stages k). */
static method usual_form(void)
{
    const hfi_rodas_tableau *t = &hfi_rodas4p;
    method r;
    memset(&r, 0, sizeof r);
    for (size_t c = 0; c < S; c++) {
        for (size_t i = c; i < S; i++) {
            double sum = i == c ? 1.0 : 0.0;
            for (size_t j = c; j < i; j++)
                sum += t->c_matrix[i][j] * r.gamma[j][c];
            r.gamma[i][c] = sum * t->gamma;
        }
    }
    for (size_t i = 0; i < S; i++) {
        for (size_t c = 0; c < S; c++) {
            for (size_t j = 0; j < i; j++)
                r.alpha[i][c] += t->a[i][j] * r.gamma[j][c];
            r.beta[i][c] = r.alpha[i][c] + r.gamma[i][c];
            r.alpha_sum[i] += r.alpha[i][c];
            r.beta_sum[i] += r.beta[i][c];
            r.b[c] += (i < S - 1 ? t->a[S - 1][i] : 1.0) * r.gamma[i][c];
            r.b_hat[c] += (i < S - 1 ? t->a[S - 1][i] : 0.0) * r.gamma[i][c];
        }
    }
    return r;
}

#define TIGHT(got, want)                                                                           \
    CHECK_CLOSE(got, want, 0.0, 1e-12, "order condition, hairerwanner1996 IV.7")

static void check_order_3(const method *m, const double *b, double theta)
{
    double square[S], beta2[S], ones[S] = {1.0, 1.0, 1.0, 1.0, 1.0, 1.0};
    double(*beta)[S] = (double(*)[S])(uintptr_t)m->beta;
    for (size_t i = 0; i < S; i++)
        square[i] = m->alpha_sum[i] * m->alpha_sum[i];
    apply(beta, m->beta_sum, beta2);
    TIGHT(dot(b, ones), theta);
    TIGHT(dot(b, m->beta_sum), pow(theta, 2) / 2.0);
    TIGHT(dot(b, square), pow(theta, 3) / 3.0);
    TIGHT(dot(b, beta2), pow(theta, 3) / 6.0);
}

static void test_order_conditions(void **unused)
{
    (void)unused;
    method m = usual_form();
    double square[S], cube[S], product[S], beta2[S], beta3[S], beta_square[S], alpha_beta[S];
    check_order_3(&m, m.b, 1.0);
    check_order_3(&m, m.b_hat, 1.0); /* the error estimator: order 3 */
    apply(m.beta, m.beta_sum, beta2);
    apply(m.beta, beta2, beta3);
    apply(m.alpha, m.beta_sum, alpha_beta);
    for (size_t i = 0; i < S; i++) {
        square[i] = pow(m.alpha_sum[i], 2);
        cube[i] = pow(m.alpha_sum[i], 3);
        product[i] = m.alpha_sum[i] * alpha_beta[i];
    }
    apply(m.beta, square, beta_square);
    TIGHT(dot(m.b, cube), 1.0 / 4.0);
    TIGHT(dot(m.b, product), 1.0 / 8.0);
    TIGHT(dot(m.b, beta_square), 1.0 / 12.0);
    TIGHT(dot(m.b, beta3), 1.0 / 24.0);
    /* Time nodes and time factors are the row sums. */
    for (size_t i = 0; i < S; i++) {
        TIGHT(hfi_rodas4p.c[i], m.alpha_sum[i]);
        TIGHT(hfi_rodas4p.d[i], m.beta_sum[i] - m.alpha_sum[i]);
    }
    /* Stiffly accurate: the new state is the last stage, so R(infinity) = 0. */
    for (size_t j = 0; j < S; j++)
        TIGHT(m.b[j], m.beta[S - 1][j]);
}

/* What keeps the order on parabolic problems: b^T beta^j (2 beta^2 e - alpha^2) = 0, j = 0 .. 3
 * (conditions of Lubich and Ostermann as used in steinebach1995, from memory; that these digits
 * meet them to rounding is what this check adds). */
static void test_parabolic_conditions(void **unused)
{
    (void)unused;
    method m = usual_form();
    double x[S], next[S];
    apply(m.beta, m.beta_sum, x);
    for (size_t i = 0; i < S; i++)
        x[i] = 2.0 * x[i] - pow(m.alpha_sum[i], 2);
    for (size_t j = 0; j <= 3; j++) {
        CHECK_CLOSE(dot(m.b, x), 0.0, 0.0, 1e-12, "parabolic order condition, steinebach1995");
        apply(m.beta, x, next);
        memcpy(x, next, sizeof x);
    }
}

/* Dense output weights: y(theta) = y + sum b_i(theta) (h f-like stages); order conditions up to 3
 * make its local error O(h^4). */
static void test_dense_conditions(void **unused)
{
    (void)unused;
    method m = usual_form();
    const hfi_rodas_tableau *t = &hfi_rodas4p;
    for (double theta = 0.0; theta <= 1.0; theta += 0.125) {
        double b[S] = {0.0};
        for (size_t j = 0; j < S; j++) {
            const double whole = j < S - 1 ? t->a[S - 1][j] : 1.0;
            const double d1 = j < S - 1 ? t->dense1[j] : 0.0, d2 = j < S - 1 ? t->dense2[j] : 0.0;
            const double k = theta * (whole + (1.0 - theta) * (d1 + theta * d2));
            for (size_t c = 0; c < S; c++)
                b[c] += k * m.gamma[j][c];
        }
        check_order_3(&m, b, theta);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_order_conditions),
        cmocka_unit_test(test_parabolic_conditions),
        cmocka_unit_test(test_dense_conditions),
    };
    return cmocka_run_group_tests_name("rosenbrock: tableau", tests, NULL, NULL);
}
