# Starts the program that lies unpacked in a folder. Sourced by ./shiftstand and, in a package, by /usr/bin/shiftstand.
#
# In: the arguments; home (that folder), java (command), archive (class-data archive; need not be there).
# Environment: SHIFTSTAND_JAVA_OPTS adds options to the Java machine (an -Xmx there wins over the default of 256 MiB).

# What never changes between builds is written down (answers.sh).
answer=
case "$#${1:-}" in
  1-h | 1--help) answer=$home/help.txt ;;
  1-V | 1--version) answer=$home/version.txt ;;
esac
if [ -f "$answer" ]; then exec cat -- "$answer"; fi

# Quick answers run on the first compiler tier only; long analysis is compiled fully.
tier=
case "${1:-}" in
  '' | -h | --help | -V | --version | help) tier=-XX:TieredStopAtLevel=1 ;;
  spec) [ "${2:-}" = explain ] || tier=-XX:TieredStopAtLevel=1 ;;
  history) case "${2:-}" in list | show | trend) tier=-XX:TieredStopAtLevel=1 ;; esac ;;
  rig) [ "${2:-}" = list ] && tier=-XX:TieredStopAtLevel=1 ;;
esac
case " $* " in *' --help '* | *' -h '*) tier=-XX:TieredStopAtLevel=1 ;; esac
tty=false
columns=
if [ -t 2 ]; then
  tty=true
  columns=$(stty size 2>/dev/null <&2) && columns=-Dshiftstand.columns=${columns#* } || columns=
fi
keyboard=false
[ -t 0 ] && keyboard=true
# Parquet and what it takes are on the class path of 'export' only, PDF where --pdf is given: 30 MB that nothing else opens.
native=
pdf=false
case " $* " in *' --pdf '*) pdf=true ;; esac
if [ "${1:-}" = export ]; then
  for library in "$home"/native/libzstd-jni-*.so; do
    if [ -f "$library" ]; then native=-DZstdNativePath=$library; fi
  done
  set -- -cp "$home/shiftstand.jar:$home/export/*" org.shiftstand.cli.Main "$@"
elif $pdf; then
  set -- -cp "$home/shiftstand.jar:$home/pdf/*" org.shiftstand.cli.Main "$@"
else
  set -- -jar "$home/shiftstand.jar" "$@"
fi
# What is done once a shift is called from many places, and each would be compiled with a copy of all of it: two seconds of a core.
apart=-XX:CompileCommand=quiet
for once in ShiftAssembler::onRest ShiftAssembler::closeChain ShiftAssembler::close FinishedShifts::add ShiftMeasurer::measure; do
  apart="$apart -XX:CompileCommand=dontinline,org.shiftstand.shift.$once"
done
# Mapped where it was made for: moving it elsewhere, the default of late, takes 50 to 150 ms of every start.
exec "$java" -Xmx256m -XX:+UseSerialGC $tier -Xshare:auto -XX:SharedArchiveFile="$archive" -XX:+IgnoreUnrecognizedVMOptions \
  -XX:+UnlockDiagnosticVMOptions -XX:ArchiveRelocationMode=0 -Xlog:cds=off -Xlog:cds+dynamic=off -Xlog:class+path=off \
  $apart -XX:-UsePerfData -Dorg.sqlite.lib.path="$home/native" -DjSerialComm.library.path="$home/native" \
  -Djna.boot.library.path="$home/native" -Dshiftstand.terminal=$tty -Dshiftstand.keyboard=$keyboard $columns $native -Dfile.encoding=UTF-8 \
  ${SHIFTSTAND_JAVA_OPTS:-} "$@"
