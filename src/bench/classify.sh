#!/bin/sh
# Classifies simulated units, faulty ones of every fault kind and good ones, through the whole chain (simulated rig, record,
# judge), and writes the confusion tables src/bench/CLASSIFICATION.md. Takes five to ten minutes on two cores; the reduced
# form of it is a usual test run. Needs a JDK 17 to 25.
#
#   src/bench/classify.sh                 everything
#   src/bench/classify.sh KIND…           some kinds (good, spread, bias, …) anew, the others as they are kept in target/
#
# Environment: CLASSIFY_UNITS (faulty units of each kind, default 30: 420 in all), CLASSIFY_GOOD (good units, default 400),
# CLASSIFY_SEED (added to every seed, default 0), CLASSIFY_WORKERS (units at once, default 2).
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
cd "$here"
work=$here/target/classification
mkdir -p "$work"
if [ $# -eq 0 ]; then
  rm -f "$work"/*.tsv "$work"/seconds
  set -- good spread bias overtravel-short overtravel-long overtravel-missing short-hold slow ringing limit-close missed \
    double drift sensor-dropout lost-frames jam creep
fi

echo "building …" >&2
mvn -q -B -ntp -Dquick test-compile dependency:build-classpath -Dmdep.outputFile="$work/classpath" >&2
exec nice -n 15 java -Xmx512m -XX:+UseSerialGC -Dclassify.units="${CLASSIFY_UNITS:-30}" \
  -Dclassify.good="${CLASSIFY_GOOD:-400}" -Dclassify.seed="${CLASSIFY_SEED:-0}" \
  -Dclassify.workers="${CLASSIFY_WORKERS:-2}" -cp "target/classes:target/test-classes:$(cat "$work/classpath")" \
  org.shiftstand.classification.Campaign "$work" "$here/src/bench/CLASSIFICATION.md" "$@"
