#!/bin/sh
# Installs the Debian packages named as arguments that are missing; does nothing when all are there.
set -eu
missing=
for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' ||
        missing="$missing $package"
done
[ -n "$missing" ] || exit 0
if ! command -v apt-get >/dev/null; then
    echo "These packages are missing and there is no apt-get to install them:$missing" >&2
    exit 1
fi
echo "Installing:$missing"
run=
if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
        echo "Not root and no sudo: ask for these packages to be installed:$missing" >&2
        exit 1
    fi
    echo "This needs root: calling sudo apt-get."
    run=sudo
fi
$run apt-get update -qq
# shellcheck disable=SC2086
DEBIAN_FRONTEND=noninteractive $run apt-get install -y -qq --no-install-recommends $missing
