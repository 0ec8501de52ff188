#!/bin/sh
# Lays the natives of this machine beside the jars of an unpacked build, so that no start unpacks them.
# Usage: natives.sh JAVA FOLDER. Where a platform is not listed, or the JDK's jar tool is missing, it does nothing, and the
# libraries unpack themselves at each start.
set -eu
java=$1
home=$2

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
