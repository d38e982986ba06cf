#!/bin/sh
# Runs every benchmark, prints a table and writes build/bench.csv: name,value,unit,target.
# Times are the best of several rounds; compare ratios within one run, not runs on different days.
set -u
BUILD=${BUILD:-build}
out=$BUILD/bench.csv
rows=$(mktemp)
trap 'rm -f "$rows"' EXIT

for program in "$BUILD"/tests/bench/bench_*; do
    case $program in *.d) continue ;; esac
    [ -x "$program" ] && "$program" >>"$rows"
done
for script in tests/bench/bench_*.lua; do
    LUA_CPATH="$BUILD/?.so;;" lua5.4 "$script" >>"$rows"
done
for script in tests/bench/*.py; do
    [ -e "$script" ] && /usr/bin/python3 "$script" "$BUILD" >>"$rows"
done

# Whole processes: the middle of 15 runs, wall time in milliseconds, or in seconds.
process() {
    name=$1
    target=$2
    unit=ms
    size=1000
    shift 2
    if [ "$1" = s ]; then
        unit=s
        size=1000000
        shift
    fi
    for _ in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15; do
        start=$(date +%s%N)
        "$@" >/dev/null 2>&1
        echo $((($(date +%s%N) - start) / 1000))
    done | sort -n | sed -n 8p | awk -v n="$name" -v t="$target" -v u="$unit" -v s="$size" \
        '{ printf "%s,%.4g,%s,%s\n", n, $1 / s, u, t }' >>"$rows"
}
process "program start" "<= 50" "$BUILD/hairfibre" --version
process "first answer of a script" "<= 50" "$BUILD/hairfibre" run tests/bench/first_answer.lua
process "value" "<= 60" "$BUILD/hairfibre" value internal_vapour_pressure --at temperature=180degC --at regain=30%
process claim "<= 1" s "$BUILD/hairfibre" claim regain --says "30 %" --at humidity=100%
process "claim about a direction with five open conditions" "<= 1" s "$BUILD/hairfibre" claim reduction_front_depth \
    --says "rises with temperature" --at duration=1min..1h

{
    echo "name,value,unit,target"
    grep -E '^[^,]+,[-0-9.e+]+,[^,]*,[^,]*$' "$rows"
} >"$out"
awk -F, 'NR == 1 { printf "%-58s %12s %-10s %s\n", "benchmark", "measured", "unit", "target"; next }
    { printf "%-58s %12s %-10s %s\n", $1, $2, $3, $4 }' "$out"
echo "Written: $out"
