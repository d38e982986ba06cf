#!/bin/sh
# Lays the portable folder: one program that needs nothing of the machine, the table of units, the
# lessons with their data, the pages. Ends with its size.
set -eu
out=$BUILD/portable/hairfibre-$VERSION
rm -rf "$BUILD/portable"
mkdir -p "$out/units" "$out/pages"
cp "$PROGRAM" "$out/hairfibre"
cp /usr/share/xml/udunits/*.xml "$out/units/"
cp -R examples/. "$out/examples"
cp docs/*.md "$out/pages/"
cp LICENSE "$out/LICENSE"
cp docs/packaging/portable.txt "$out/READ-ME.txt"
chmod -R a+rX "$out"
tar -C "$BUILD/portable" --sort=name --owner=0 --group=0 --numeric-owner --mtime=@0 -cf - "hairfibre-$VERSION" |
    gzip -9 -n >"$out.tar.gz"
du -sk "$out" | awk -v folder="$out" '{ printf "%s: %.1f MB\n", folder, $1 / 1024 }'
