#!/bin/sh
# Looks at the pages of the program: accessibility by axe-core, pictures at 360 px, 1280 px and on A4. Not a test of CI.
#
#     src/review/look.sh [PAGE.html …]
#
# Without pages it runs the demo and looks at its three reports, and at one of a capture without a profile. Everything goes
# to target/review. Needs node 20, npm (axe-core is fetched from its registry), Chromium (or CHROMIUM=…), and for pictures of
# A4 pages pdftoppm. Ends with 1 where axe-core finds anything, or a page is wider than its window.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
work=$here/target/review
axe=4.14.1
mkdir -p "$work"
if [ ! -f "$work/node_modules/axe-core/axe.min.js" ]; then
  npm install --prefix "$work" --no-save --no-audit --no-fund --silent "axe-core@$axe"
fi
if [ $# -eq 0 ]; then
  rm -rf "$work/pages"
  mkdir -p "$work/pages"
  (cd "$work/pages" && SHIFTSTAND_HISTORY_URL=none "$here/shiftstand" demo >demo.txt) || true
  # 3 is no verdict: a capture without a profile
  "$here/shiftstand" judge "$here/src/test/resources/captures/bench-c.csv.gz" --spec passive-capture \
    --report "$work/pages/capture" >/dev/null || [ $? -ne 2 ]
  set -- "$work"/pages/reports/*/report.html "$work/pages/capture/report.html"
fi
rm -rf "$work/out"
named=
for page in "$@"; do
  named="$named $(basename "$(dirname "$page")")-$(basename "$page" .html)=$page"
done
status=0
# shellcheck disable=SC2086
node "$here/src/review/look.mjs" "$work/node_modules/axe-core/axe.min.js" "$work/out" $named || status=$?
if command -v pdftoppm >/dev/null 2>&1; then
  for pdf in "$work"/out/*.pdf; do
    [ -f "$pdf" ] && pdftoppm -r 80 -png "$pdf" "${pdf%.pdf}"
  done
fi
echo "Pictures: $work/out"
exit $status
