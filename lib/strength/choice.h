/* Members of an enumeration, and choice arguments. */
#ifndef HFI_CHOICE_H
#define HFI_CHOICE_H

/* True when x is one of the first `count` members. */
static inline int hfi_is_member(int x, int count)
{
    return x >= 0 && x < count;
}

/* A choice argument as an index; -1 when it is no index at all. */
static inline int hfi_choice(double x)
{
    return x == 0 ? 0 : x >= 1 && x <= 100 && x == (int)x ? (int)x : -1;
}

#endif
