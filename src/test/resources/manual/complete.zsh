# What zsh offers for a command line: complete.zsh FOLDER LINE, where FOLDER holds the completion function. One offer a line.
# In the inner shell, compadd prints what it would offer; what the system's own functions ask for themselves passes by.
zmodload zsh/zpty
zpty inner zsh -f -i
zpty -w inner "
PROMPT=
fpath=($1 \$fpath)
autoload -Uz compinit && compinit -u -C -d \"\$HOME/.zcompdump\"
bindkey '^I' complete-word
zstyle ':completion:*' verbose no
compadd() {
  if [[ \${@[1,(i)(-|--)]} == *-(O|A|D)\ * ]]; then builtin compadd \"\$@\"; return \$?; fi
  typeset -a hits
  builtin compadd -A hits \"\$@\"
  print -l -- HIT:\$^hits
}
finished() { print END; exit }
comppostfuncs=(finished)
print READY
"
zpty -r inner start $'*READY\r\n*' || exit 1
zpty -w -n inner "$2"$'\t'
zpty -r inner all $'*END\r\n*'
print -r -- "$all" | tr -d '\r' | sed -n 's/^.*HIT:\(..*\)$/\1/p'
zpty -d inner
