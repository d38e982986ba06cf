#!/bin/sh
# Runs the fuzzers (their seeds and dictionaries come from seeds.lua) one after the other and prints what each did.
#   BUILD=build/fuzzing sh tests/fuzz/run.sh long|short NAME...
# long: FUZZ_SECONDS each, the corpus is kept in $BUILD/corpus and grows. short: a fixed number of runs from a
# fixed seed. Inputs that fail are left in $BUILD/found/NAME; exit code 1 if there is any.
set -u
kind=$1
shift
here=tests/fuzz
code=0
export ASAN_OPTIONS=detect_leaks=1:allocator_may_return_null=1
printf '%-14s %10s %8s %10s %8s %s\n' harness runs seconds coverage corpus found
for name in "$@"; do
    corpus=$BUILD/corpus/$name
    found=$BUILD/found/$name
    log=$BUILD/$name.log
    mkdir -p "$corpus" "$found" "$BUILD/seeds/$name"
    set -- -timeout=60 -report_slow_units=60 -rss_limit_mb=3000 -malloc_limit_mb=1500 -print_final_stats=1 -artifact_prefix="$found/"
    [ -e "$BUILD/$name.dict" ] && set -- "$@" -dict="$BUILD/$name.dict"
    # An interpreter that lives on holds memory between inputs, which looks like a leak.
    grep -q lua_kit "$here/fuzz_$name.c" && set -- "$@" -detect_leaks=0
    if [ "$kind" = short ]; then
        rm -rf "$corpus"
        mkdir -p "$corpus"
        set -- "$@" -seed=1 -runs="$FUZZ_RUNS"
    else
        set -- "$@" -max_total_time="$FUZZ_SECONDS"
    fi
    before=$(ls "$found" | wc -l)
    start=$(date +%s)
    "$BUILD/fuzz/fuzz_$name" "$@" "$corpus" "$BUILD/seeds/$name" $(ls -d "$here/regressions/$name" 2>/dev/null) >"$log" 2>&1 || code=1
    end=$(date +%s)
    runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
    coverage=$(sed -nE 's/.* cov: ([0-9]+).*/\1/p' "$log" | tail -n 1)
    printf '%-14s %10s %8d %10s %8d %d\n' "$name" "${runs:-?}" $((end - start)) "${coverage:-?}" \
        "$(ls "$corpus" | wc -l)" $(($(ls "$found" | wc -l) - before))
    grep -hE 'FAULT:|ERROR:|runtime error:|SUMMARY:' "$log" | head -n 4
done
exit $code
