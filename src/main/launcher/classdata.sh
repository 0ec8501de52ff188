#!/bin/sh
# Makes an unpacked build start fast: a class-data archive, trained on short real commands so that it holds what they load.
# Usage: classdata.sh JAVA FOLDER ARCHIVE CAPTURE. Leaving it out only costs time at each start. The archive holds for this
# runtime and for the jars where they lie now: it is made in its final place.
set -eu
java=$1
home=$2
archive=$3
capture=$4

train=$(mktemp -d "${TMPDIR:-/tmp}/shiftstand-train.XXXXXX")
trap 'rm -rf "$train"' EXIT
# commands leave reports and a history's queue where they are started
cd "$train"
run() {
  n=$((n + 1))
  "$java" -Xmx256m -XX:TieredStopAtLevel=1 -XX:+UseSerialGC -Xshare:auto -XX:DumpLoadedClassList="$train/$n.classes" \
    -Dorg.sqlite.lib.path="$home/native" -Djna.boot.library.path="$home/native" -DjSerialComm.library.path="$home/native" \
    -jar "$home/shiftstand.jar" "$@" >/dev/null 2>&1 || :
}
n=0
run --help
SHIFTSTAND_HISTORY_URL=$train/history.db
export SHIFTSTAND_HISTORY_URL
run check --rig sim:seed=7 --procedure quick-look --spec tarn-drive-end-of-line --unit TD-0100 --out "$train/check"
run history list
run history trend --html "$train/trend.html"
run verify --help
if [ -f "$capture" ]; then
  run judge "$capture" --spec passive-capture --report "$train/judge"
  run measure "$capture"
fi
cat "$train"/*.classes | sort -u >"$train/all.classes"
"$java" -Xshare:dump -XX:+UseSerialGC -XX:SharedClassListFile="$train/all.classes" -XX:SharedArchiveFile="$archive.new" \
  -Xlog:disable -jar "$home/shiftstand.jar" >/dev/null 2>&1
mv "$archive.new" "$archive"
