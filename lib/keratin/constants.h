/* Constants of nature and conventions of this room. */
#ifndef HFI_KERATIN_CONSTANTS_H
#define HFI_KERATIN_CONSTANTS_H

#define HFI_GAS_CONSTANT          8.31446261815324 /* J/(mol K), codata2018 */
#define HFI_WATER_MOLAR_MASS      0.018015268      /* kg/mol, iapws-r6-95 */
#define HFI_REFERENCE_TEMPERATURE 298.15 /* K: where the Arrhenius terms of this room are 1 */

#endif
