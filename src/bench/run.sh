#!/bin/sh
# Runs every benchmark and prints tables in Markdown for "Benchmarks" in DEVELOPERS.md. Takes about ten minutes and up
# to 8 GB under target/; run it on a machine that does nothing else.
#
#   src/bench/run.sh            everything
#   src/bench/run.sh jmh [RE]   benchmarks inside one Java machine, all or those whose name matches
#   src/bench/run.sh process    whole runs of ./shiftstand, from start to exit
#
# Environment: BENCH_RUNS (runs of each command, default 5), BENCH_ROWS (rows of the long capture, default 100000000).
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
cd "$here"
what=${1:-all}
work=$here/target/bench
runs=${BENCH_RUNS:-5}
rows=${BENCH_ROWS:-100000000}
short=src/test/resources/captures/bench-a.csv.gz

rm -rf "$work"
mkdir -p "$work"
echo "building …" >&2
mvn -q -B -ntp -Dquick -Pbench test-compile dependency:build-classpath -Dmdep.outputFile="$work/classpath" >&2
cp=target/classes:target/test-classes:$(cat "$work/classpath")
# heap and collector of the launcher
java="java -Xmx256m -XX:+UseSerialGC -Dfile.encoding=UTF-8 -cp $cp"

echo "$(date -u +%Y-%m-%d), $(java -XshowSettings:properties -version 2>&1 | sed -n 's/ *java.vm.version = /Java /p'), $(getconf _NPROCESSORS_ONLN) cores, command: src/bench/run.sh${1:+ $*}"
echo

if [ "$what" = all ] || [ "$what" = jmh ]; then
  $java org.openjdk.jmh.Main "${2:-Bench}" -jvmArgs "-Xmx256m -XX:+UseSerialGC" -f 2 -wi 3 -w 1s -i 5 -r 1s \
    -foe true -rf csv -rff "$work/jmh.csv" -o "$work/jmh.log" || { tail -40 "$work/jmh.log" >&2; exit 1; }
  $java org.shiftstand.speed.JmhTable "$work/jmh.csv"
  echo
fi

if [ "$what" = all ] || [ "$what" = process ]; then
  ./shiftstand --help >/dev/null # builds where it must
  gzip -dc "$short" >"$work/bench-a.csv"
  echo "writing a record of 8 h and a capture of $rows rows …" >&2
  $java org.shiftstand.speed.LongRecord "$short" "$work/long.run" 14745600
  $java org.shiftstand.speed.LongCapture "$short" "$work/long.csv" "$rows"
  $java org.shiftstand.speed.WholeProcess ./shiftstand "$work" "$work/bench-a.csv" "$runs" \
    "$work/long.run" "$work/long.csv" "$rows"
  rm -f "$work/long.csv"
fi
