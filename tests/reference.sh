#!/bin/sh
# Compares with R: every tests/reference/*.R gets the program as its argument, prints what differs and
# ends with `N passed, N failed`. Prints one line for each and the sum. BUILD: the build folder.
set -u
BUILD=${BUILD:-build}
log=$BUILD/test-log
mkdir -p "$log"
passed=0
failed=0
for file in tests/reference/*.R; do
    [ -e "$file" ] || continue
    name=$(basename "$file")
    Rscript --vanilla "$file" "$BUILD/hairfibre" >"$log/$name" 2>&1
    code=$?
    last=$(grep -E '^[0-9]+ passed, [0-9]+ failed' "$log/$name" | tail -n 1)
    good=$(echo "$last" | sed -nE 's/^([0-9]+) passed.*/\1/p')
    bad=$(echo "$last" | sed -nE 's/^[0-9]+ passed, ([0-9]+) failed.*/\1/p')
    [ -n "$last" ] || bad=1
    [ $code -eq 0 ] || [ "${bad:-0}" -gt 0 ] || bad=1
    passed=$((passed + ${good:-0}))
    failed=$((failed + ${bad:-0}))
    printf '%-44s %5d passed %5d failed\n' "$name" "${good:-0}" "${bad:-0}"
    [ "${bad:-0}" -eq 0 ] || tail -n 40 "$log/$name"
done
printf '%d passed, %d failed\n' "$passed" "$failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
