#!/bin/sh
# Runs every benchmark, prints a table and writes build/bench.csv: name,value,unit,target, build/growth.csv, and
# build/machine.txt, which says where. Times are the best of several rounds; compare ratios within one run, not runs on
# different days. Exit code 1 when a row is beyond its target. Other programs' rows are left out where they are missing.
set -u
BUILD=${BUILD:-build}
out=$BUILD/bench.csv
rows=$(mktemp)
trap 'rm -f "$rows"' EXIT
export BENCH_THREADS=${BENCH_THREADS:-$(nproc)}

for program in "$BUILD"/tests/bench/bench_*; do
    case $program in *.d) continue ;; esac
    [ -x "$program" ] || continue
    echo "$(basename "$program") ..." >&2
    "$program" $(case $program in */bench_growth) echo "$BUILD/growth.csv" ;; esac) >>"$rows"
done
for script in tests/bench/bench_*.lua; do
    LUA_CPATH="$BUILD/?.so;;" lua5.4 "$script" >>"$rows"
done
for script in tests/bench/*.py; do
    echo "$(basename "$script") ..." >&2
    /usr/bin/python3 "$script" "$BUILD" >>"$rows"
done
if command -v Rscript >/dev/null; then
    Rscript tests/bench/r_fits.R >>"$rows"
else
    echo "R is not installed: nls and survreg are left out" >&2
fi

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
process "program: start" "<= 50" "$BUILD/hairfibre" --version
process "program: first answer of a script" "<= 50" "$BUILD/hairfibre" run tests/bench/first_answer.lua
process "program: value" "<= 60" "$BUILD/hairfibre" value internal_vapour_pressure --at temperature=180degC --at regain=30%
process "program: claim" "<= 1" s "$BUILD/hairfibre" claim regain --says "30 %" --at humidity=100%
process "program: claim about a direction; five open conditions" "<= 1" s "$BUILD/hairfibre" claim reduction_front_depth \
    --says "rises with temperature" --at duration=1min..1h

# ratio NAME ROW OURS: how many times as long, when both rows are there.
ratio() {
    awk -F, -v n="$1" -v a="$2" -v b="$3" '$1 == a { x = $2 } $1 == b { y = $2 }
        END { if (x > 0 && y > 0) printf "%s,%.3g,times,\n", n, x / y }' "$rows" >"$rows.new"
    cat "$rows.new" >>"$rows"
    rm -f "$rows.new"
}
ratio "property: saturation_pressure: python3-iapws over ours" "property: saturation_pressure by python3-iapws" \
    "property: saturation_pressure"
for what in "GAB on 20 points" "certified set Hahn1" "certified set Thurber" "certified set MGH09"; do
    for other in "SciPy curve_fit" "R nls"; do
        ratio "fit: $what: $other over ours" "fit: $what by $other" "fit: $what"
    done
done
ratio "fit: Weibull lives (200): R survreg over ours" "fit: Weibull lives (200) by R survreg (no profiles)" \
    "fit: Weibull lives (200) with profile intervals"

{
    echo "name,value,unit,target"
    grep -E '^[^,]+,[-0-9.e+]+,[^,]*,[^,]*$' "$rows" | sort -s -t: -k1,1
} >"$out"
sh tests/bench/machine.sh >"$BUILD/machine.txt"

# A table of 80 columns, long names broken at blanks, and what lies beyond its target.
awk -F, '
function beyond(value, target) {
    return target ~ /^<=/ && value + 0 > substr(target, 3) + 0 || target ~ /^>=/ && value + 0 < substr(target, 3) + 0
}
NR == 1 { printf "%-46s %12s %-9s %-9s\n", "benchmark", "measured", "unit", "target"; next }
{
    name = $1
    indent = ""
    while (length(indent name) > 46) {
        cut = 46 - length(indent)
        while (cut > 1 && substr(name, cut + 1, 1) != " ") cut--
        print indent substr(name, 1, cut)
        name = substr(name, cut + 2)
        indent = "    "
    }
    late = beyond($2, $4)
    printf "%-46s %12s %-9s %-9s%s\n", indent name, $2, $3, $4, late ? "!" : ""
    if ($4 != "") targets++
    if (late) missed[++count] = $1 ": " $2 " " $3 ", target " $4
}
END {
    printf "\n%d rows with a target, %d beyond it\n", targets, count
    for (i = 1; i <= count; i++) print "    " missed[i]
    exit count > 0
}' "$out"
status=$?
echo "Written: $out, $BUILD/growth.csv, $BUILD/machine.txt"
exit $status
