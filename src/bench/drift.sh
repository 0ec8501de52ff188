#!/bin/sh
# Measures how often a unit without drift is blamed and how often a drift is found; writes src/bench/DRIFT.md.
#
#   src/bench/drift.sh [RUNS]     runs of forty groups for each row, default 1000: about five minutes
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
cd "$here"
runs=${1:-1000}
work=$here/target/drift
mkdir -p "$work"
echo "building …" >&2
mvn -q -B -ntp -Dquick -Pbench test-compile dependency:build-classpath -Dmdep.outputFile="$work/classpath" >&2
java -cp "target/classes:target/test-classes:$(cat "$work/classpath")" org.shiftstand.spec.DriftTable "$runs" \
  >"$work/tables.md"
cat src/bench/drift.head.md "$work/tables.md" >src/bench/DRIFT.md
