#!/bin/sh
# Runs every suite, prints one line for each and the sum: `N passed, N failed`.
# Arguments: the compiled test programs. BUILD: the build folder. SUITES: which; "report", in a browser, is not
# among the usual ones. WRAPPER: a program that runs the compiled tests (valgrind). PRELOAD: the run time of the
# address sanitizer, for plain Lua. SANITISE: the flags that the build was linked with.
set -u
BUILD=${BUILD:-build}
SUITES=${SUITES:-c fuzz reference lua command install}
log=$BUILD/test-log
mkdir -p "$log"
passed=0
failed=0

# report NAME PASSED FAILED LOG
report() {
    passed=$((passed + $2))
    failed=$((failed + $3))
    printf '%-44s %5d passed %5d failed\n' "$1" "$2" "$3"
    [ "$3" -eq 0 ] || grep -vE '^(ok|#|[0-9]+\.\.)' "$4" | tail -n 40
}

# A program that speaks TAP: counts its `ok` and `not ok` lines; a crash counts as one failure.
tap() {
    CMOCKA_MESSAGE_OUTPUT=TAP ${WRAPPER:-} "$1" >"$log/$2" 2>&1
    code=$?
    good=$(grep -c '^ok' "$log/$2")
    bad=$(grep -c '^not ok' "$log/$2")
    [ $code -eq 0 ] || [ "$bad" -gt 0 ] || bad=1
    [ $code -ne 0 ] || [ "$good" -gt 0 ] || bad=1
    report "$2" "$good" "$bad" "$log/$2"
}

# A script that closes with `N passed, N failed`; exit 77 means skipped.
script() {
    name=$1
    shift
    "$@" >"$log/$name" 2>&1
    code=$?
    if [ $code -eq 77 ]; then
        printf '%-44s skipped: %s\n' "$name" "$(tail -n 1 "$log/$name")"
        return
    fi
    last=$(grep -E '^[0-9]+ passed, [0-9]+ failed' "$log/$name" | tail -n 1)
    good=$(echo "$last" | sed -nE 's/^([0-9]+) passed.*/\1/p')
    bad=$(echo "$last" | sed -nE 's/^[0-9]+ passed, ([0-9]+) failed.*/\1/p')
    [ -n "$last" ] || bad=1
    [ $code -eq 0 ] || [ "${bad:-0}" -gt 0 ] || bad=1
    report "$name" "${good:-0}" "${bad:-0}" "$log/$name"
}

for suite in $SUITES; do
    case $suite in
    c) for program in "$@"; do tap "$program" "$(basename "$program")"; done ;;
    reference)
        script literature "$BUILD/hairfibre" selftest
        for file in tests/reference/*.py; do
            [ -e "$file" ] && script "$(basename "$file")" python3 "$file" "$BUILD/libhairfibre.so"
        done ;;
    lua) script lua env ${PRELOAD:+LD_PRELOAD="$PRELOAD" ASAN_OPTIONS=detect_leaks=0} LUA_CPATH="$BUILD/?.so;;" \
        lua5.4 tests/lua/run.lua ;;
    command) for file in tests/command/*.sh; do
        script "$(basename "$file")" env BUILD="$BUILD" sh "$file"; done ;;
    report) script report env BUILD="$BUILD" sh tests/report/run.sh ;;
    fuzz)
        script fuzz_calls_all lua5.4 tests/fuzz/calls.lua "$BUILD/generated/calls_again.c" include/hairfibre/*.h -- \
            tests/fuzz/reader.c tests/fuzz/fuzz_*.c
        for folder in tests/fuzz/regressions/*; do
        name=$(basename "$folder")
        script "fuzz_$name" "$BUILD/fuzz/replay_$name" "$folder"/*; done ;;
    install)
        script starved env LUA_CPATH="$BUILD/?.so;;" lua5.4 tests/unit/allocating.lua "$BUILD"
        script exports lua5.4 tests/unit/exports.lua "$BUILD"
        script install env BUILD="$BUILD" sh tests/unit/install.sh ;;
    esac
done
printf '%d passed, %d failed\n' "$passed" "$failed"
[ "$failed" -eq 0 ]
