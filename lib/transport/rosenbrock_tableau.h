/* Coefficients of RODAS4P: a linearly implicit (Rosenbrock) method with 6 stages, order 4(3),
 * stiffly accurate, L-stable, with dense output of order 4, whose order does not fall on parabolic
 * problems with boundary values that change with time.
 *
 * Form (stages multiplied through so that no product J k is needed):
 *   (I/(h gamma) - J) k_i = f(t + c_i h, y + sum_j a_ij k_j) + sum_j (C_ij/h) k_j + h d_i f_t
 *   y_new = y + sum_j a_6j k_j + k_6,   error estimate = k_6;   a_6j = a_5j (j < 5), a_65 = 1
 *   y(t + theta h) = (1 - theta) y + theta (y_new + (1 - theta)(K1 + theta K2)),
 *   K1 = sum_j dense1_j k_j,  K2 = sum_j dense2_j k_j,  0 <= theta <= 1
 *
 * Sources: steinebach1995 (the method); hairerwanner1996, section IV.7 (form and order conditions).
 * The digits are checked by the order conditions in tests/unit/test_rosenbrock.c, not on trust.
 */
#ifndef HFI_TRANSPORT_ROSENBROCK_TABLEAU_H
#define HFI_TRANSPORT_ROSENBROCK_TABLEAU_H

#define HFI_RODAS_STAGES 6

typedef struct hfi_rodas_tableau {
    double gamma;
    double a[HFI_RODAS_STAGES][HFI_RODAS_STAGES - 1];        /* row i: stage i+1 */
    double c_matrix[HFI_RODAS_STAGES][HFI_RODAS_STAGES - 1]; /* C_ij */
    double c[HFI_RODAS_STAGES];
    double d[HFI_RODAS_STAGES];
    double dense1[HFI_RODAS_STAGES - 1];
    double dense2[HFI_RODAS_STAGES - 1];
} hfi_rodas_tableau;

static const hfi_rodas_tableau hfi_rodas4p = {
    .gamma = 0.25,
    .a =
        {
            {0.0},
            {3.0},
            {1.831036793486759, 0.4955183967433795},
            {2.304376582692669, -0.05249275245743001, -1.176798761832782},
            {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401},
            {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401, 1.0},
        },
    .c_matrix =
        {
            {0.0},
            {-12.0},
            {-8.791795173947035, -2.207865586973518},
            {10.81793056857153, 6.780270611428266, 19.53485944642410},
            {34.19095006749676, 15.49671153725963, 54.74760875964130, 14.16005392148534},
            {34.62605830930532, 15.30084976114473, 56.99955578662667, 18.40807009793095,
             -5.714285714285717},
        },
    .c = {0.0, 0.75, 0.21, 0.63, 1.0, 1.0},
    .d = {0.25, -0.5, -0.023504, -0.0362, 0.0, 0.0},
    .dense1 = {25.09876703708589, 11.62013104361867, 28.49148307714626, -5.664021568594133, 0.0},
    .dense2 = {1.638054557396973, -0.7373619806678748, 8.477918219238990, 15.99253148779520,
               -1.882352941176471},
};

#endif
