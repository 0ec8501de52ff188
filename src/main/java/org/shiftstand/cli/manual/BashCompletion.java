package org.shiftstand.cli.manual;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/** Completion for bash, without the library bash-completion: options, commands, words, files and folders. */
final class BashCompletion {
    private BashCompletion() {}

    static String of(List<Entry> entries) {
        String program = entries.get(0).word();
        String commands = entries.stream()
                .skip(1)
                .map(entry -> "      '%s') command='%s' ;;\n".formatted(entry.title(), entry.title()))
                .collect(Collectors.joining());
        String offers = entries.stream().map(BashCompletion::offers).collect(Collectors.joining());
        return """
                # bash completion for %1$s; made from its commands
                _%1$s() {
                  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command=%1$s i
                  # '--option=value' comes as three words
                  if [[ $cur == '=' ]]; then
                    cur=
                  elif [[ $prev == '=' ]]; then
                    prev=${COMP_WORDS[COMP_CWORD-2]}
                  fi
                  for ((i = 1; i < COMP_CWORD; i++)); do
                    case "$command ${COMP_WORDS[i]}" in
                %2$s    esac
                  done
                  COMPREPLY=()
                  case $command in
                %3$s  esac
                }
                _%1$s_words() {
                  mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -W "$1" -- "$cur")
                }
                _%1$s_files() {
                  compopt -o filenames
                  mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen "$1" -- "$cur")
                }
                complete -F _%1$s %1$s
                """.formatted(program, commands, offers);
    }

    private static String offers(Entry entry) {
        String program = entry.words().get(0);
        StringBuilder text = new StringBuilder("    '" + entry.title() + "')\n");
        String values = entry.options().stream()
                .filter(Entry::takesValue)
                .map(option -> "        %s) %sreturn ;;\n"
                        .formatted(String.join("|", option.names()), offer(program, Taken.by(option))))
                .collect(Collectors.joining());
        if (!values.isEmpty()) {
            text.append("      case $prev in\n").append(values).append("      esac\n");
        }
        text.append("      if [[ $cur == -* ]]; then\n        ")
                .append(words(program, names(entry)))
                .append("return\n      fi\n");
        List<String> below = entry.below().stream().map(Entry::word).toList();
        if (!below.isEmpty()) {
            text.append("      ").append(words(program, below)).append('\n');
        }
        arguments(entry)
                .forEach(taken ->
                        text.append("      ").append(offer(program, taken)).append('\n'));
        return text.append("      ;;\n").toString();
    }

    /** What may stand where no option does: of every argument together, since options may stand between them. */
    private static List<Taken> arguments(Entry entry) {
        List<Taken> all = new ArrayList<>();
        for (PositionalParamSpec argument : entry.arguments()) {
            Taken taken = Taken.by(argument);
            if (!all.contains(taken)) {
                all.add(taken);
            }
        }
        return all;
    }

    private static List<String> names(Entry entry) {
        List<String> names = new ArrayList<>();
        for (OptionSpec option : entry.options()) {
            names.addAll(Arrays.asList(option.names()));
        }
        return names;
    }

    private static String offer(String program, Taken taken) {
        String words = taken.words().isEmpty() ? "" : words(program, taken.words());
        return words
                + switch (taken.files()) {
                    case NONE -> "";
                    case ANY -> "_" + program + "_files -f; ";
                    case FOLDERS -> "_" + program + "_files -d; ";
                };
    }

    private static String words(String program, List<String> words) {
        return "_" + program + "_words '" + String.join(" ", words) + "'; ";
    }
}
