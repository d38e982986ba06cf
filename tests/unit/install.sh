#!/bin/sh
# Installs into a scratch folder, includes every header alone from C and C++, builds a C example through pkg-config,
# runs it, uninstalls.
set -u
BUILD=${BUILD:-build}
stage=$(mktemp -d)
trap 'rm -rf "$stage"' EXIT
good=0
bad=0
try() {
    what=$1
    shift
    if "$@" >"$stage/log" 2>&1; then
        good=$((good + 1))
    else
        bad=$((bad + 1))
        echo "failed: $what"
        cat "$stage/log"
    fi
}
export PKG_CONFIG_PATH="$stage/usr/lib/pkgconfig" PKG_CONFIG_SYSROOT_DIR="$stage"
try install make --no-print-directory BUILD="$BUILD" install DESTDIR="$stage" prefix=/usr
# Debian's pkg-config drops -I/usr/include and -L/usr/lib as system folders unless told otherwise.
export PKG_CONFIG_ALLOW_SYSTEM_CFLAGS=1 PKG_CONFIG_ALLOW_SYSTEM_LIBS=1
flags=$(pkg-config --cflags --libs hairfibre)
# Each header by itself: none may lean on what another has included before it.
alone() {
    echo "#include <$1>" >"$stage/alone.$2"
    shift 2
    "$@" -Wall -Wextra -Wpedantic -Werror -fsyntax-only -I"$stage/usr/include"
}
if command -v g++ >/dev/null; then cxx=g++; else
    cxx=
    echo "no g++: headers are not included from C++"
fi
for header in "$stage"/usr/include/hairfibre.h "$stage"/usr/include/hairfibre/*.h; do
    name=${header#"$stage/usr/include/"}
    try "include $name alone from C" alone "$name" c "${CC:-cc}" -std=c11 "$stage/alone.c"
    [ -z "$cxx" ] || try "include $name alone from C++" alone "$name" cc "$cxx" -std=c++17 "$stage/alone.cc"
done
# shellcheck disable=SC2086
try "compile an example" "${CC:-cc}" -std=c11 -o "$stage/example" examples/swelling.c $flags
try "run the example" env LD_LIBRARY_PATH="$stage/usr/lib" "$stage/example"
try "run the program" "$stage/usr/bin/hairfibre" --version
try "load the module" env LUA_CPATH="$stage/usr/lib/lua/5.4/?.so" \
    lua5.4 -e 'assert(require("hairfibre").saturation_pressure("100 degC") > 1e5)'
try uninstall make --no-print-directory BUILD="$BUILD" uninstall DESTDIR="$stage" prefix=/usr
left=$(find "$stage/usr" -type f -o -type l | head -n 3)
try "nothing is left behind${left:+: $left}" test -z "$left"
printf '%d passed, %d failed\n' "$good" "$bad"
[ "$bad" -eq 0 ]
