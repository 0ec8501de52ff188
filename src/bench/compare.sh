#!/bin/sh
# Shiftstand beside the same measures in numpy and scipy (src/bench/numpy/shifts.py), in turns, on one capture: 8 h at 512 Hz.
# Prints a table in Markdown for "Benchmarks" in DEVELOPERS.md. Takes about ten minutes, 1 GB under target/ and 4 GB of
# memory (numpy's); run it on a machine that does nothing else. Needs python3 with numpy 1.23 or newer and scipy
# (Debian: apt-get install python3-numpy python3-scipy), taskset.
#
# Environment: BENCH_RUNS (rounds, default 7), BENCH_ROWS (samples, default 14745600), PYTHON (default /usr/bin/python3).
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
cd "$here"
work=$here/target/bench
python=${PYTHON:-/usr/bin/python3}
rows=${BENCH_ROWS:-14745600}
short=src/test/resources/captures/bench-a.csv.gz
"$python" -c 'import numpy, scipy' || { echo "compare.sh: needs numpy and scipy; on Debian: apt-get install python3-numpy python3-scipy" >&2; exit 2; }

mkdir -p "$work"
echo "building …" >&2
mvn -q -B -ntp -Dquick -Pbench test-compile dependency:build-classpath -Dmdep.outputFile="$work/classpath" >&2
cp=target/classes:target/test-classes:$(cat "$work/classpath")
./shiftstand --help >/dev/null # builds where it must
java -cp "$cp" org.shiftstand.speed.LongCapture "$short" "$work/compare.csv" "$rows"

echo "$(date -u +%Y-%m-%d), $(java -XshowSettings:properties -version 2>&1 | sed -n 's/ *java.vm.version = /Java /p'), $("$python" --version), $(getconf _NPROCESSORS_ONLN) cores, command: src/bench/compare.sh"
echo
# one thread each where it is to be one core: numpy's linear algebra would take all
OPENBLAS_NUM_THREADS=1 OMP_NUM_THREADS=1 "$python" src/bench/numpy/compare.py ./shiftstand \
  "java -Xmx256m -XX:+UseSerialGC -cp $cp org.shiftstand.speed.MeasureAgain $work/compare.csv" \
  src/bench/numpy/shifts.py "$work/compare.csv" "$rows" "${BENCH_RUNS:-7}" "$work"
rm -f "$work/compare.csv"
