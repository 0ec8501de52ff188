#!/bin/sh
# Makes an unpacked build start fast: natives beside the jars, and a class-data archive trained on real commands.
# Usage: prepare.sh JAVA FOLDER. Called by the launcher once a build; leaving it out only costs time at each start.
set -eu
java=$1
home=$2
here=$(CDPATH= cd -- "$(dirname -- "$0")/../../.." && pwd)

# Natives. Where a platform is not listed, or the JDK's jar tool is missing, the libraries unpack themselves at each start.
mkdir -p "$home/native"
jar=$(dirname -- "$(readlink -f -- "$(command -v "$java")")")/jar
case "$(uname -s)-$(uname -m)" in
  Linux-x86_64) sqlite=Linux/x86_64 serial=Linux/x86_64 jna=linux-x86-64 zstd=linux/amd64 ;;
  Linux-aarch64) sqlite=Linux/aarch64 serial=Linux/armv8_64 jna=linux-aarch64 zstd=linux/aarch64 ;;
  *) sqlite= ;;
esac
if [ -n "$sqlite" ] && [ -x "$jar" ]; then
  scratch=$home/native/scratch
  mkdir -p "$scratch"
  cd "$scratch"
  for lib in "$home"/lib/sqlite-jdbc-*.jar; do "$jar" xf "$lib" "org/sqlite/native/$sqlite"; done
  for lib in "$home"/lib/jna-5*.jar; do "$jar" xf "$lib" "com/sun/jna/$jna"; done
  for lib in "$home"/lib/jSerialComm-*.jar; do "$jar" xf "$lib" "$serial"; done
  for lib in "$home"/export/zstd-jni-*.jar; do "$jar" xf "$lib" "$zstd"; done
  find . -type f -name '*.so' -exec mv {} "$home/native/" \;
  cd "$home"
  rm -rf "$scratch"
fi

# Class data. The training runs are short real ones, so the archive holds what commands really load.
train=$(mktemp -d "${TMPDIR:-/tmp}/shiftstand-train.XXXXXX")
trap 'rm -rf "$train"' EXIT
run() {
  n=$((n + 1))
  "$java" -Xmx256m -XX:TieredStopAtLevel=1 -XX:+UseSerialGC -Xshare:auto -XX:DumpLoadedClassList="$train/$n.classes" \
    -Dorg.sqlite.lib.path="$home/native" -Djna.boot.library.path="$home/native" -DjSerialComm.library.path="$home/native" \
    -jar "$home/shiftstand.jar" "$@" >/dev/null 2>&1 || :
}
n=0
capture=$here/src/test/resources/captures/bench-a.csv.gz
run --help
SHIFTSTAND_HISTORY_URL=$train/history.db
export SHIFTSTAND_HISTORY_URL
run check --rig sim:seed=7 --procedure quick-look --spec tarn-drive-end-of-line --unit TD-0100 --out "$train/check"
run history list
run history trend --html "$train/trend.html"
run verify --help
if [ -f "$capture" ]; then
  run judge "$capture" --spec specs/passive-capture.spec.yaml --report "$train/judge"
  run measure "$capture"
fi
cat "$train"/*.classes | sort -u >"$train/all.classes"
"$java" -Xshare:dump -XX:+UseSerialGC -XX:SharedClassListFile="$train/all.classes" -XX:SharedArchiveFile="$home/app.jsa" \
  -Xlog:disable -jar "$home/shiftstand.jar" >/dev/null 2>&1
