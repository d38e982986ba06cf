#!/bin/sh
# make check-packages: the Debian packages install and run on a clean root, the portable folder runs in
# an empty one, the rock loads. Needs root (chroot); the clean root comes from the machine's own
# package source.
set -u
BUILD=${BUILD:-build}
here=$(pwd)
good=0
bad=0
root=$(mktemp -d)
trap 'umount "$root/debian/proc" "$root/empty/proc" 2>/dev/null; rm -rf "$root"' EXIT
try() {
    what=$1
    shift
    if "$@" >"$root/log" 2>&1; then
        good=$((good + 1))
    else
        bad=$((bad + 1))
        echo "failed: $what"
        tail -n 20 "$root/log"
    fi
}
# says TEXT COMMAND...: succeeds when the command does and prints TEXT.
says() {
    text=$1
    shift
    "$@" >"$root/said" 2>&1 && grep -qF "$text" "$root/said" || { cat "$root/said"; return 1; }
}
# refuses TEXT COMMAND...: succeeds when the command fails and prints TEXT.
refuses() {
    text=$1
    shift
    if "$@" >"$root/said" 2>&1; then return 1; fi
    grep -qF "$text" "$root/said" || { cat "$root/said"; return 1; }
}
if [ "$(id -u)" -ne 0 ]; then
    echo "needs root for chroot"
    exit 77
fi

# ---- a Debian with nothing but the essentials ------------------------------------------------------
site=$(apt-get indextargets --format '$(SITE)' 'Created-By: Packages' | head -n 1)
release=$(. /etc/os-release && echo "$VERSION_CODENAME")
clean=$root/debian
try "clean root" debootstrap --variant=minbase "$release" "$clean" "$site"
mount -t proc proc "$clean/proc" 2>/dev/null
mkdir "$clean/packages"
cp "$BUILD"/deb/*.deb examples/swelling.c "$clean/packages/"
inside() { chroot "$clean" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C DEBIAN_FRONTEND=noninteractive sh -c "$1"; }
try "program installs" inside 'apt-get update -q && apt-get install -y -q --no-install-recommends \
    /packages/hairfibre_*.deb'
try "program answers" says "15." inside 'hairfibre value regain --at humidity=65%'
try "program checks itself" inside 'hairfibre selftest'
try "lesson without gnuplot" says "gnuplot is not installed" inside \
    'hairfibre run /usr/share/doc/hairfibre/examples/first_lesson.lua --out /srv/lesson'
try "the lesson's numbers" inside 'test -s /srv/lesson/isotherm.csv'
try "module installs" inside 'apt-get install -y -q --no-install-recommends lua5.4 /packages/lua-hairfibre_*.deb'
try "module answers" inside 'lua5.4 -e "assert(require(\"hairfibre\").saturation_pressure(\"100 degC\") > 1e5)"'
try "completion for editors" inside 'lua5.4 -e "assert(loadfile(\"/usr/share/hairfibre/library/hairfibre.lua\"))"'
try "library installs" inside 'apt-get install -y -q --no-install-recommends gcc libc6-dev pkg-config \
    /packages/libhairfibre0_*.deb /packages/libhairfibre-dev_*.deb'
try "C example" says "grows by" inside 'cc -std=c11 -o /srv/swelling /packages/swelling.c \
    $(pkg-config --cflags --libs hairfibre) && /srv/swelling'
try "packages leave" inside 'apt-get purge -y -q hairfibre lua-hairfibre libhairfibre-dev libhairfibre0'
try "nothing is left" inside '! find /usr /etc -name "*hairfibre*" -not -path "*/packages/*" | grep .'

# ---- the portable folder, alone in an empty root, read-only, with spaces and accents in its path ----
folder="/Größe und Maß"
mkdir -p "$root/empty$folder" "$root/empty/out" "$root/empty/proc"
cp -R "$BUILD/portable/hairfibre-$VERSION/." "$root/empty$folder/"
chmod -R a-w "$root/empty$folder"
mount -t proc proc "$root/empty/proc" 2>/dev/null
alone() { chroot "$root/empty" "$folder/hairfibre" "$@"; }
try "portable answers" says "15." alone value regain --at humidity=65%
try "portable sketches" says "Regain (%)" alone curve regain --over humidity=0..100%
try "portable writes numbers" alone curve regain --over humidity=0..100% --save /out/regain.csv
try "portable says what is missing" refuses "gnuplot is not installed" alone curve regain \
    --over humidity=0..100% --save /out/regain.svg
try "portable runs the lesson" says "boils inside at" alone run "$folder/examples/first_lesson.lua" --out /out
try "portable writes the report page" alone report "$folder/examples/plates_wet_and_conditioned.lua" \
    --save /out/page.html
size=$(du -sk "$BUILD/portable/hairfibre-$VERSION" | cut -f1)
try "portable is under 10 MB" test "$size" -lt 10240

# ---- the rock ----------------------------------------------------------------------------------------
try "rock loads" env LUA_CPATH="$here/$BUILD/rock/lib/lua/5.4/?.so" \
    lua5.4 -e 'assert(require("hairfibre").saturation_pressure("100 degC") > 1e5)'
printf '%d passed, %d failed\n' "$good" "$bad"
[ "$bad" -eq 0 ]
