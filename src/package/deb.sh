#!/bin/sh
# Makes target/shiftstand_VERSION_ARCH.deb from target/shiftstand.jar, for the system and processor that it runs on.
#
#   mvn package && src/package/deb.sh        or in one: mvn -Pdeb package
#
# Needs jlink and jdeps of a JDK with its modules (JAVA_HOME, else the java on the path), dpkg-deb, dpkg-shlibdeps (Debian:
# dpkg-dev), gzip. The same commit, JDK and tools give the same bytes: times are that of project.build.outputTimestamp, or
# SOURCE_DATE_EPOCH. How it is tried out: src/package/clean-root.sh, src/package/reproducible.sh.
set -eu
umask 022
LC_ALL=C TZ=UTC
export LC_ALL TZ
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
package=$here/src/package
work=$here/target/package
root=$work/root
home=$root/usr/lib/shiftstand
doc=$root/usr/share/doc/shiftstand

need() { command -v "$1" >/dev/null 2>&1 || { echo "deb.sh: no $1 found; $2" >&2; exit 2; }; }
need dpkg-deb "packages are made on Debian and its like"
need dpkg-shlibdeps "install dpkg-dev"
if [ -z "${JAVA_HOME:-}" ]; then
  need java "install a JDK 17 or newer"
  JAVA_HOME=$(dirname -- "$(dirname -- "$(readlink -f -- "$(command -v java)")")")
fi
need "$JAVA_HOME/bin/jlink" "set JAVA_HOME to a JDK with jlink"
[ -f "$here/target/shiftstand.jar" ] || { echo "deb.sh: no target/shiftstand.jar; run 'mvn package' first." >&2; exit 2; }
"$JAVA_HOME/bin/jar" tf "$here/target/shiftstand.jar" META-INF/sbom/application.cdx.json | grep -q . ||
  { echo "deb.sh: the jar was built with -Dquick and has no bill of materials; run 'mvn package' first." >&2; exit 2; }

property() { sed -n "s:.*<$1>\(.*\)</$1>.*:\1:p" "$here/pom.xml" | head -n 1; }
version=$(sed -n '/<artifactId>shiftstand</{n;s:.*<version>\(.*\)</version>.*:\1:p;q;}' "$here/pom.xml")
arch=$(dpkg --print-architecture)
: "${SOURCE_DATE_EPOCH:=$(date -d "$(property project.build.outputTimestamp)" +%s)}"
export SOURCE_DATE_EPOCH
day=$(date -d "@$SOURCE_DATE_EPOCH" +%Y-%m-%d)
deb=$here/target/shiftstand_${version}_$arch.deb

rm -rf "$work" "$here"/target/shiftstand_*.deb
mkdir -p "$home" "$doc" "$root/DEBIAN" "$root/usr/bin"

# The program, as the launcher unpacks it.
"$JAVA_HOME/bin/java" -Djarmode=tools -jar "$here/target/shiftstand.jar" extract --force --destination "$home" >/dev/null
cp -R "$here/target/export-lib" "$home/export"
cp -R "$here/target/pdf-lib" "$home/pdf"
sh "$here/src/main/launcher/natives.sh" "$JAVA_HOME/bin/java" "$home"
sh "$here/src/main/launcher/answers.sh" "$JAVA_HOME/bin/java" "$home"
cp "$here/src/main/launcher/classdata.sh" "$home/"
cat "$package/shiftstand.head" "$here/src/main/launcher/run.sh" >"$root/usr/bin/shiftstand"
chmod 755 "$root/usr/bin/shiftstand"

# The runtime: what the jars name, and what is only found by name: java.desktop for java.beans, jdk.crypto.ec for signatures
# and for TLS to a server, jdk.zipfs and jdk.charsets for captures and bags as they come. Not for code that no command reaches:
# the compilers and debuggers that some libraries can drive.
named=$("$JAVA_HOME/bin/jdeps" --ignore-missing-deps --multi-release 17 --print-module-deps \
  --class-path "$home/lib/*:$home/export/*:$home/pdf/*" "$home/shiftstand.jar" "$home"/lib/*.jar "$home"/export/*.jar "$home"/pdf/*.jar 2>/dev/null |
  tail -n 1 | tr ',' '\n' | grep -vxE 'java\.compiler|java\.scripting|jdk\.attach|jdk\.jdi')
modules=$(printf '%s\n' $named java.desktop java.logging java.management java.naming java.net.http java.sql java.xml \
  jdk.charsets jdk.crypto.ec jdk.unsupported jdk.zipfs | sort -u | paste -sd, -)
echo "modules: $modules"
# No window is ever opened: the natives of sound and screens stay out; those of fonts and pictures set PDF.
"$JAVA_HOME/bin/jlink" --add-modules "$modules" --output "$home/runtime" \
  --strip-java-debug-attributes --strip-native-commands --no-header-files --no-man-pages \
  --exclude-files='**/libawt_xawt.so,**/libjawt.so,**/libjsound.so,**/libsplashscreen.so,**/psfont*'
mkdir -p "$home/runtime/bin"
cp "$JAVA_HOME/bin/java" "$home/runtime/bin/java"

# Man pages and completions, from the commands themselves.
"$JAVA_HOME/bin/java" -cp "$home/shiftstand.jar" org.shiftstand.cli.ManualFiles "$work/manual" "$day"
mkdir -p "$root/usr/share/man/man1" "$root/usr/share/bash-completion/completions" \
  "$root/usr/share/zsh/vendor-completions" "$root/usr/share/fish/vendor_completions.d"
cp "$work"/manual/man1/*.1 "$root/usr/share/man/man1/"
gzip -9n "$root"/usr/share/man/man1/*.1
cp "$work/manual/bash/shiftstand" "$root/usr/share/bash-completion/completions/"
cp "$work/manual/zsh/_shiftstand" "$root/usr/share/zsh/vendor-completions/"
cp "$work/manual/fish/shiftstand.fish" "$root/usr/share/fish/vendor_completions.d/"

# What people read, and files to start from.
mkdir -p "$doc/examples" "$doc/reports" "$doc/rig" "$root/usr/share/shiftstand/udev"
cp "$here/README.md" "$package/serial-ports.md" "$here/src/main/resources/cautions.txt" "$doc/"
cp "$here"/reports/*.md "$doc/reports/"
cp "$here"/rig/*.md "$doc/rig/"
cp -R "$here/specs" "$here/acceptance" "$doc/"
cp "$here"/rig/*.yaml "$here"/rig/*.csv "$here/src/test/resources/captures/bench-e.csv.gz" "$doc/examples/"
cp "$here/target/classes/META-INF/sbom/application.cdx.json" "$doc/shiftstand.cdx.json"
cp "$package/60-shiftstand-rig.rules" "$root/usr/share/shiftstand/udev/"
gzip -9nc "$here/CHANGELOG.md" >"$doc/changelog.gz"
{
  cat "$package/copyright.head"
  sed -n 's/^JAVA_RUNTIME_VERSION="\(.*\)"$/The runtime is OpenJDK \1/p' "$home/runtime/release" "$JAVA_HOME/release" | head -n 1
  cat "$package/copyright.runtime"
  cat "$package/LICENCES.md"
} >"$doc/copyright"

# What it needs of the system: read from every library in it.
mkdir -p "$work/debian"
printf 'Source: shiftstand\n\nPackage: shiftstand\nArchitecture: any\n' >"$work/debian/control"
depends=$(cd "$work" && find root/usr/lib/shiftstand -type f \( -name '*.so' -o -path '*/bin/java' \) |
  xargs dpkg-shlibdeps -O --ignore-missing-info -lroot/usr/lib/shiftstand/runtime/lib \
    -lroot/usr/lib/shiftstand/runtime/lib/server 2>"$work/shlibdeps.log" | sed -n 's/^shlibs:Depends=//p')
[ -n "$depends" ] || { cat "$work/shlibdeps.log" >&2; exit 1; }

# PDF: fonts are brought along, and the runtime asks fontconfig for its own all the same

find "$root" -type d -exec chmod 755 {} +
find "$root" -type f ! -perm -u+x -exec chmod 644 {} +
find "$root" -type f -name '*.so' -exec chmod 644 {} +
cat >"$root/DEBIAN/control" <<EOF
Package: shiftstand
Version: $version
Architecture: $arch
Maintainer: Shiftstand <maintainer@shiftstand.invalid>
Installed-Size: $(du -sk --apparent-size "$root/usr" | cut -f1)
Depends: $depends, libfontconfig1
Suggests: bash-completion, man-db
Section: science
Priority: optional
Description: test stand and acceptance suite for powered rear-derailleur drives
 Drives a unit through sweeps of the whole cassette, measures every shift,
 judges the unit against a written acceptance spec, and leaves a report. The
 same measuring works on a capture of any unit.
 .
 Brings a runtime of its own. A powered drive pinches fingers, runs against hard
 stops, and is fed from lithium cells: read the cautions first.
EOF
for script in postinst prerm postrm; do
  cp "$package/$script" "$root/DEBIAN/$script"
  chmod 755 "$root/DEBIAN/$script"
done
(cd "$root" && find usr -type f -print0 | sort -z | xargs -0 md5sum >DEBIAN/md5sums)
find "$root" -exec touch -h -d "@$SOURCE_DATE_EPOCH" {} +

dpkg-deb --root-owner-group -Zxz -z1 --threads-max=1 --build "$root" "$deb" >/dev/null
echo "$deb: $(($(stat -c %s "$deb") / 1000000)) MB, installed $(sed -n 's/^Installed-Size: //p' "$root/DEBIAN/control") KiB"
