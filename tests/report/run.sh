#!/bin/sh
# The report page in headless Chromium. Skipped (77) without Chromium, its driver or Selenium: `make check-report`
# installs them. BUILD: the build folder; SHOTS: a folder for screenshots, if wanted.
set -u
if ! command -v chromium >/dev/null || ! [ -x /usr/bin/chromedriver ]; then
    echo "no Chromium here; make check-report installs it"
    exit 77
fi
for python in python3 /usr/bin/python3; do
    if "$python" -c 'import selenium' 2>/dev/null; then
        [ -z "${SHOTS:-}" ] || mkdir -p "$SHOTS"
        exec "$python" -B tests/report/check.py "${BUILD:-build}/hairfibre" ${SHOTS:+"$SHOTS"}
    fi
done
echo "no Selenium for Python here; make check-report installs it"
exit 77
