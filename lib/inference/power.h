/* Limits of the exact power. */
#ifndef HFI_POWER_H
#define HFI_POWER_H

#define HFI_GROUP_MOST 2000 /* strands in a group, Fisher's test */
#define HFI_PAIRS_MOST 5000

#endif
