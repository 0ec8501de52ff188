#!/bin/sh
# Does every fault that a run must survive, many times over, and writes the table src/bench/FAULTS.md. Needs Linux, a
# JDK 17 to 25 and, for the full disk, root. Takes about an hour on two cores; the reduced form of it is a usual test run.
#
#   src/bench/faults.sh                 everything
#   src/bench/faults.sh PART…           some of kills-simulated, kills-real, supply, links, disk, two-rigs, overnight, fast, inputs
#
# Environment: FAULTS_SEED (first seed of each row, default 1), FAULTS_TIMES (so many times the usual number of trials,
# such as 0.1), FAULTS_AT_ONCE (runs over pseudo-terminals at once, default 6), FAULTS_INPUTS (mutated inputs of each
# kind, default 500).
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
cd "$here"
work=$here/target/faults
mkdir -p "$work"
seed=${FAULTS_SEED:-1}

echo "building …" >&2
./shiftstand --version >/dev/null # builds where it must: programs under test start as users start them
mvn -q -B -ntp -Dquick test-compile dependency:build-classpath -Dmdep.outputFile="$work/classpath" >&2

parts=
inputs=false
for part in "$@"; do
  [ "$part" = inputs ] && inputs=true || parts="$parts $part"
done
[ $# -eq 0 ] && inputs=true && parts="kills-simulated kills-real supply links disk two-rigs overnight fast"

failed=0
if $inputs; then
  rm -f "$work/inputs.tsv"
  mvn -q -B -ntp -Dquick "-Dsurefire.args=-Xmx64m" -Dfuzz.rounds="${FAULTS_INPUTS:-500}" -Dfuzz.seed="$seed" \
    -Dfuzz.table="$work/inputs.tsv" '-Dtest=org.shiftstand.fuzz.*Test' test >"$work/inputs.log" 2>&1 || failed=1
fi
java -Dfaults.launcher="$here/shiftstand" -Dfaults.seed="$seed" -Dfaults.times="${FAULTS_TIMES:-1}" \
  -Dfaults.at-once="${FAULTS_AT_ONCE:-6}" -cp "target/classes:target/test-classes:$(cat "$work/classpath")" \
  org.shiftstand.faults.Campaign "$work" "$here/src/bench/FAULTS.md" $parts || failed=1
exit $failed
