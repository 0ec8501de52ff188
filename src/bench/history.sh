#!/bin/sh
# Fills a history with made-up runs and times lists and trends over it. Usage: src/bench/history.sh URL RUNS
# URL: a file, or jdbc:postgresql://localhost/postgres; it should be empty before.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
cd "$here"
url=$1
runs=$2
./shiftstand --version
mvn -q -B -ntp -Pbench -Dquick test-compile dependency:build-classpath -Dmdep.outputFile="$here/target/bench.classpath"
java -cp "target/classes:target/test-classes:$(cat target/bench.classpath)" org.shiftstand.history.FillHistory "$url" "$runs" >/dev/null
for of in "list" "list --json --limit 1000" "show TD-77" "trend" "trend --clause clause-3 --html target/trend.html --force"; do
  for n in 1 2 3; do
    begin=$(date +%s%N)
    # shellcheck disable=SC2086
    ./shiftstand history $of --history "$url" >/dev/null
    end=$(date +%s%N)
    echo "$(( (end - begin) / 1000000 )) ms  history $of"
  done
done
