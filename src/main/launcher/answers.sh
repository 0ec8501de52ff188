#!/bin/sh
# Writes down what an unpacked build always answers to --help and --version, so that run.sh can say it without starting Java.
# Usage: answers.sh JAVA FOLDER
set -eu
java=$1
home=$2
for answer in help version; do
  "$java" -XX:TieredStopAtLevel=1 -Xshare:auto -Dfile.encoding=UTF-8 -cp "$home/shiftstand.jar" org.shiftstand.cli.Main "--$answer" \
    >"$home/$answer.next"
  mv "$home/$answer.next" "$home/$answer.txt"
done
