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
trap 'rm -rf "$train" "$archive.new"' EXIT
SHIFTSTAND_HISTORY_URL=$train/history.db
export SHIFTSTAND_HISTORY_URL
# commands leave reports and a history's queue where they are started
cd "$train"
set -- --help -- --version -- \
  check --rig sim:seed=7 --procedure quick-look --spec tarn-drive-end-of-line --unit TD-0100 --out "$train/check" -- \
  history list -- history trend --html "$train/trend.html" -- verify --help
if [ -f "$capture" ]; then
  set -- "$@" -- judge "$capture" --spec passive-capture --report "$train/judge" -- measure "$capture"
fi
rehearse() {
  "$java" -Xmx256m -XX:+UseSerialGC -Dorg.sqlite.lib.path="$home/native" -Djna.boot.library.path="$home/native" \
    -DjSerialComm.library.path="$home/native" -cp "$home/shiftstand.jar" "$@" >/dev/null 2>&1
}
rehearse -XX:TieredStopAtLevel=1 -Xshare:auto -XX:DumpLoadedClassList="$train/classes" org.shiftstand.cli.Rehearsal "$@"
# picocli's classes are of a version that is kept only unlinked; what is kept resolved of them, or of ours that use them, links them
grep -vE '^@(.*picocli|cp org/shiftstand/cli)' "$train/classes" >"$train/kept"
rehearse -Xshare:dump -XX:SharedClassListFile="$train/kept" -XX:SharedArchiveFile="$archive.new" -Xlog:disable -version
mv "$archive.new" "$archive"
