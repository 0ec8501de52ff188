#!/bin/bash
# Builds one commit twice, in folders, time zones, languages and file masks of their own, and compares what comes out byte by
# byte: the jar, the bill of materials, the package.
#
#   src/package/reproducible.sh [COMMIT]        (default: HEAD; what is not committed is not built)
#
# Some minutes. Ends with "reproducible", or with the names of what differs.
set -euo pipefail
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
commit=$(git -C "$here" rev-parse --verify "${1:-HEAD}^{commit}")
work=$(mktemp -d "${TMPDIR:-/tmp}/reproducible.XXXXXX")
trap 'rm -rf "$work"' EXIT

build() { # folder, zone, language, mask
  git clone -q --no-checkout "$here" "$1"
  (
    umask "$4"
    export TZ=$2 LC_ALL=$3
    cd "$1"
    git checkout -q --detach "$commit"
    echo "building in $1, TZ=$TZ LC_ALL=$LC_ALL umask $4" >&2
    mvn -q -B -ntp -Dmaven.test.skip=true -Pdeb package >&2
    cd target && sha256sum shiftstand.jar classes/META-INF/sbom/application.cdx.json shiftstand_*.deb
  )
}
build "$work/one" UTC C.UTF-8 022 >"$work/first"
build "$work/another-place/of-a-longer-name" Pacific/Auckland C 077 >"$work/second"

echo "commit $commit"
cat "$work/first"
if ! cmp -s "$work/first" "$work/second"; then
  diff "$work/first" "$work/second" || :
  for each in "$work/one" "$work/another-place/of-a-longer-name"; do
    (cd "$each/target/package/root" && find . -type f -print0 | sort -z | xargs -0 sha256sum) >"$work/files.$(basename "$each")"
  done
  diff "$work"/files.* || :
  echo "not reproducible" >&2
  exit 1
fi
echo "reproducible"
