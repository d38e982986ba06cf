#!/bin/sh
# Builds the Debian packages of the committed tree into $BUILD/deb. The tests are not run again here:
# a plain dpkg-buildpackage of the same source runs them.
set -eu
out=$BUILD/deb
rm -rf "$out"
mkdir -p "$out"
git archive --prefix="hairfibre-$VERSION/" --format=tar HEAD | gzip -n >"$out/hairfibre_$VERSION.orig.tar.gz"
tar -C "$out" -xzf "$out/hairfibre_$VERSION.orig.tar.gz"
cd "$out/hairfibre-$VERSION"
cp -R docs/packaging/debian .
chmod +x debian/rules
DEB_BUILD_OPTIONS="nocheck parallel=2" dpkg-buildpackage --unsigned-source --unsigned-changes \
    --build-profiles=nocheck >../build.log 2>&1 || { tail -n 30 ../build.log; exit 1; }
cd ..
ls ./*.deb ./*.dsc
