#!/bin/sh
# Looks at the pages of the program: accessibility by axe-core, pictures at 360 px, 1280 px and on A4. Not a test of CI.
#
#     src/review/look.sh [PAGE.html …]
#     src/review/look.sh --self-check
#
# Without pages it runs the demo and looks at its three reports, and at one of a capture without a profile. Everything goes
# to target/review. Needs node 20, npm (axe-core is fetched from its registry), Chromium (or CHROMIUM=…), and for pictures of
# A4 pages pdftoppm. Ends with 1 where axe-core finds anything, or a page is wider than its window. With --self-check it looks
# at broken.html beside this file, and ends with 1 where it misses one of the faults that are in it.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
work=$here/target/review
axe=4.14.1
mkdir -p "$work"
if [ ! -f "$work/node_modules/axe-core/axe.min.js" ]; then
  npm install --prefix "$work" --no-save --no-audit --no-fund --silent "axe-core@$axe"
fi
if [ "${1:-}" = --self-check ]; then
  found=$(PICTURES=no node "$here/src/review/look.mjs" "$work/node_modules/axe-core/axe.min.js" "$work/self-check" \
    "broken=$here/src/review/broken.html") && { echo "Nothing found in broken.html"; exit 1; }
  missed=0
  for fault in 'html-has-lang (' 'document-title (' 'color-contrast (' 'heading-order (' 'svg-img-alt (' 'definition-list (' \
    'button-name (' 'the page is 1400 px wide'; do
    # twice: at each width
    [ "$(printf '%s\n' "$found" | grep -c -F "$fault")" -eq 2 ] || { echo "missed: $fault"; missed=1; }
  done
  [ $missed -eq 0 ] && echo "Each fault of broken.html is found at both widths."
  exit $missed
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
