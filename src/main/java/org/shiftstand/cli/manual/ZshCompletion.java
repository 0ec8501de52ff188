package org.shiftstand.cli.manual;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/** Completion for zsh, by its own {@code _arguments}: with what the help says of each option and command. */
final class ZshCompletion {
    private ZshCompletion() {}

    static String of(List<Entry> entries) {
        Entry top = entries.get(0);
        return "#compdef " + top.word() + "\n# made from its commands\n"
                + entries.stream().map(ZshCompletion::function).collect(Collectors.joining())
                + name(top) + " \"$@\"\n";
    }

    private static String name(Entry entry) {
        return "_" + String.join("_", entry.words()).replace('-', '_');
    }

    private static String function(Entry entry) {
        List<String> lines = new ArrayList<>();
        entry.options().forEach(option -> options(option, lines));
        entry.arguments().forEach(argument -> lines.add(argument(argument)));
        List<Entry> below = entry.below();
        String opening = "\n" + name(entry) + "() {\n";
        if (below.isEmpty()) {
            return opening + "  _arguments -s -S : \\\n" + joined(lines) + "\n}\n";
        }
        lines.add("':command:->command'");
        lines.add("'*::argument:->argument'");
        String described = below.stream()
                .map(child ->
                        "        " + quoted(child.word() + ":" + child.summary().replace(":", "\\:")) + "\n")
                .collect(Collectors.joining());
        String called = below.stream()
                .map(child -> "        " + child.word() + ") " + name(child) + " ;;\n")
                .collect(Collectors.joining());
        return opening + "  local curcontext=$curcontext state line\n  typeset -A opt_args\n"
                + "  _arguments -C -s : \\\n" + joined(lines) + "\n"
                + "  case $state in\n"
                + "    command)\n      local -a commands=(\n" + described + "      )\n"
                + "      _describe command commands\n      ;;\n"
                + "    argument)\n      case $words[1] in\n" + called + "      esac\n      ;;\n"
                + "  esac\n}\n";
    }

    private static String joined(List<String> lines) {
        return lines.stream().map(line -> "    " + line).collect(Collectors.joining(" \\\n"));
    }

    private static void options(OptionSpec option, List<String> lines) {
        boolean again = option.isMultiValue();
        String others = again ? "*" : "(" + String.join(" ", option.names()) + ")";
        for (String name : option.names()) {
            String value = Entry.takesValue(option) ? value(option.paramLabel(), Taken.by(option)) : "";
            String joint = value.isEmpty() ? "" : name.startsWith("--") ? "=" : "+";
            lines.add(
                    quoted(others + name + joint + "[" + bracketed(Entry.sentence(Entry.said(option))) + "]" + value));
        }
    }

    private static String argument(PositionalParamSpec argument) {
        String position = argument.arity().max() > 1 || argument.isMultiValue() ? "*" : argument.required() ? "" : ":";
        return quoted(position + value(argument.paramLabel(), Taken.by(argument)));
    }

    private static String value(String label, Taken taken) {
        String words = "(" + String.join(" ", taken.words()) + ")";
        String files = switch (taken.files()) {
            case NONE -> "";
            case ANY -> "_files";
            case FOLDERS -> "_files -/";
        };
        String action = taken.words().isEmpty()
                ? files.isEmpty() ? " " : files
                : files.isEmpty()
                        ? words
                        : "{_alternative 'words\\:packed\\:" + words + "' 'files\\:file\\:" + files + "'}";
        return ":" + label.replace(":", "\\:") + ":" + action;
    }

    private static String bracketed(String text) {
        return text.replace("\\", "\\\\")
                .replace("[", "\\[")
                .replace("]", "\\]")
                .replace(":", "\\:");
    }

    /** In quotes of the shell. */
    private static String quoted(String text) {
        return "'" + text.replace("'", "'\\''") + "'";
    }
}
