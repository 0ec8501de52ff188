#!/bin/bash
# Installs the package in a clean root and uses it there as an ordinary user; then removes it and looks for leftovers.
#
#   mvn package && src/package/deb.sh && src/package/clean-root.sh [FOLDER]
#
# Makes FOLDER/root (default: target/clean-root) with debootstrap: Debian, minbase, nothing of the machine's own. Needs root
# and the network of the package system; takes some minutes. Ends with "clean root: all well", or with what is not.
#
# Environment: CLEAN_ROOT_SUITE (default: bookworm), CLEAN_ROOT_MIRROR (default: the first of this machine's own).
set -euo pipefail
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
work=${1:-$here/target/clean-root}
root=$work/root
suite=${CLEAN_ROOT_SUITE:-bookworm}
export LC_ALL=C DEBIAN_FRONTEND=noninteractive

die() { echo "clean-root.sh: $*" >&2; exit 1; }
title() { printf '\n== %s\n' "$*"; }
inside() { chroot "$root" /usr/bin/env -i PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C.UTF-8 DEBIAN_FRONTEND=noninteractive "$@"; }
# an ordinary user, in a folder of their own; no variable of ours
user() { inside su -l technician -c "$*"; }
files() { inside find / -xdev -mindepth 1 \( -path /proc -o -path /tmp -o -path /var/tmp -o -path /var/lib/dpkg -o -path /var/lib/apt -o -path /var/cache/apt -o -path /var/log -o -path /home \) -prune -o -print | sort; }

[ "$(id -u)" = 0 ] || die "needs root, for debootstrap and chroot"
deb=$(echo "$here"/target/shiftstand_*.deb)
[ -f "$deb" ] || die "no package; run src/package/deb.sh first"
command -v debootstrap >/dev/null || die "no debootstrap; apt-get install debootstrap"
mirror=${CLEAN_ROOT_MIRROR:-$(apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' | head -n 1)}

cleanup() {
  for place in dev/pts proc; do
    if mountpoint -q "$root/$place"; then umount "$root/$place"; fi
  done
  rm -f "$root/etc/apt/apt.conf.d/zz-host"
}
trap cleanup EXIT
if [ ! -f "$work/base.tar" ]; then
  title "debootstrap $suite"
  rm -rf "$root"
  mkdir -p "$root"
  debootstrap --variant=minbase "$suite" "$root" "$mirror" >"$work/debootstrap.log" 2>&1 || { tail "$work/debootstrap.log"; exit 1; }
  apt-config dump | grep -E '^Acquire::(http|https)::' >"$root/etc/apt/apt.conf.d/zz-host" || :
  cp /etc/resolv.conf "$root/etc/resolv.conf"
  # what the trial itself takes: a reader of man pages, the shells, an account
  sed -i 's/^path-exclude.*man.*//' "$root"/etc/dpkg/dpkg.cfg.d/* 2>/dev/null || :
  inside apt-get -qq update
  inside apt-get -qq install --no-install-recommends man-db zsh fish bash-completion >"$work/tools.log" 2>&1 || { tail "$work/tools.log"; exit 1; }
  inside useradd --create-home --shell /bin/bash technician
  tar -C "$root" -cf "$work/base.tar" .
else
  title "the root made before ($work/base.tar; delete it for a new one)"
  rm -rf "$root"
  mkdir -p "$root"
  tar -C "$root" -xf "$work/base.tar"
fi
mount -t proc proc "$root/proc"
mount -t devpts -o newinstance,ptmxmode=0666 devpts "$root/dev/pts"
ln -sf pts/ptmx "$root/dev/ptmx"
inside sh -c '! command -v java' || die "there is a Java in the clean root"
files >"$work/before"

title "apt install ./$(basename "$deb")"
cp "$deb" "$root/tmp/"
inside apt-get -y install --no-install-recommends "/tmp/$(basename "$deb")" 2>&1 | grep -vE '^(Get|Reading|Building|\(Reading)'

title "shiftstand --version"
user shiftstand --version
user 'for command in --version --help "judge /usr/share/doc/shiftstand/examples/bench-e.csv.gz --spec passive-capture"; do
    for n in 1 2 3 4 5; do { TIMEFORMAT=%R; time shiftstand $command >/dev/null; } 2>&1; done | sort | sed -n "3s/^/median of 5, s: /p"
  done'
title "shiftstand demo"
user shiftstand demo
title "judge, with a report as page and as PDF"
user 'shiftstand judge /usr/share/doc/shiftstand/examples/bench-e.csv.gz --spec passive-capture --report judged --pdf | head -n 4; ls -l judged; head -c 8 judged/report.pdf; echo'
title "export to Parquet"
user 'shiftstand export --parquet fleet; find fleet -name "*.parquet" -size +1k | sort; head -c 4 "$(find fleet -name "*.parquet" | head -n 1)"; echo'
user 'test "$(find fleet -name "*.parquet" | wc -l)" -eq 9' || die "not nine Parquet files"
title "the history, a signed archive, a rig on a pseudo-terminal"
user 'umask 077; echo "a phrase of the trial" >phrase; set -e
  shiftstand check --rig sim:seed=7 --procedure quick-look --spec tarn-drive-end-of-line --unit TD-0107 | head -n 2
  shiftstand history list
  shiftstand key new r-fell --passphrase-file phrase
  shiftstand archive reports/TD-0101-*/TD-0101.run --out unit.tar.gz
  shiftstand sign unit.tar.gz --key r-fell.key.pem --passphrase-file phrase --role tested-by --name "R. Fell"' || die "sign"
user 'shiftstand verify unit.tar.gz --rejudge' || echo "(exit $?: the key is known to nobody yet)"
user 'shiftstand rig simulate --pty --link ./rig >rig.log 2>&1 &
  sleep 3; shiftstand rig probe --rig serial:./rig --unit TD-0107 --profile tarn-drive --attended --without-emergency-stop </dev/null
  echo "(exit $?)"; kill $!; wait' | tail -n 14
title "rig list, spec lint, spec explain, rig study, cassette, characterise"
user 'shiftstand rig list; shiftstand spec lint tarn-drive-end-of-line --procedure end-of-line &&
  shiftstand spec explain passive-capture | head -n 3 && shiftstand rig study --import study-10x3x3 | head -n 3 &&
  shiftstand cassette tarn-drive | head -n 3 && shiftstand characterise /usr/share/doc/shiftstand/examples/bench-e.csv.gz \
    --name mine --screw-lead "2.4 mm" --out learned | head -n 3'
title "each command's help, on this runtime"
user 'for page in /usr/share/man/man1/shiftstand-*.1.gz; do
    words=$(zcat "$page" | sed -n "/^.SH \"SYNOPSIS\"/{n;s/^..B\(.*\)..R$/\1/p;q}" | sed "s/.fB//;s/.fR//;s/.-/-/g")
    $words --help >/dev/null 2>help.err && test ! -s help.err || { echo "$words: $(cat help.err)"; exit 1; }
  done; ls /usr/share/man/man1/shiftstand*.gz | wc -l'

title "man shiftstand"
user 'MANWIDTH=100 MANPAGER=cat man shiftstand | head -n 12; MANPAGER=cat man shiftstand rig list | head -n 6; man --where shiftstand-history-trend; whatis shiftstand-check'
title "completions: bash, zsh, fish"
user 'source /usr/share/bash-completion/bash_completion; _completion_loader shiftstand
  COMP_WORDS=(shiftstand rig ""); COMP_CWORD=2; _shiftstand; echo "bash: shiftstand rig: ${COMPREPLY[*]}"'
user "zsh -fc 'autoload -Uz compinit && compinit -u -D && echo zsh: shiftstand is completed by \$_comps[shiftstand]'"
user "fish -c 'echo fish: (complete -C \"shiftstand spec \" | string split -f1 \\t)'"

title "what the user may not do"
user 'touch /usr/lib/shiftstand/x /var/cache/shiftstand/x 2>&1; ls -l /var/cache/shiftstand' || :
[ -s "$root/var/cache/shiftstand/classes.jsa" ] || die "no class-data archive"

title "apt purge shiftstand, with what came along with it"
inside sh -c 'apt-get -y purge shiftstand && apt-get -y --purge autoremove' 2>&1 | grep -E '^(Removing|Purging)'
files >"$work/after"
if ! diff <(grep -v '/man/cat\|/var/cache/man' "$work/before") <(grep -v '/man/cat\|/var/cache/man' "$work/after"); then
  die "the lines above are left"
fi
inside sh -c '! command -v shiftstand && test ! -e /usr/lib/shiftstand && test ! -e /var/cache/shiftstand' >/dev/null || die "something of ours is left"
echo "nothing is left"
echo
echo "clean root: all well"
