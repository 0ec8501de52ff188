package org.shiftstand.cli.manual;

import java.util.List;
import java.util.stream.Collectors;
import picocli.CommandLine.Model.OptionSpec;

/** Completion for fish: commands, options, words, files and folders, with what the help says of them. */
final class FishCompletion {
    private FishCompletion() {}

    static String of(List<Entry> entries) {
        String program = entries.get(0).word();
        String known =
                entries.stream().skip(1).map(entry -> quoted(entry.title())).collect(Collectors.joining(" "));
        return """
                # fish completion for %1$s; made from its commands
                function __%1$s_at --argument-names wanted
                    set -l known %2$s
                    set -l at %1$s
                    for word in (commandline -opc)[2..-1]
                        contains -- "$at $word" $known; and set at "$at $word"
                    end
                    test "$at" = "$wanted"
                end
                complete -c %1$s -f
                """.formatted(program, known)
                + entries.stream().map(FishCompletion::lines).collect(Collectors.joining());
    }

    private static String lines(Entry entry) {
        String at = "complete -c " + entry.words().get(0) + " -n "
                + quoted("__" + entry.words().get(0) + "_at '" + entry.title() + "'");
        StringBuilder text = new StringBuilder();
        for (Entry child : entry.below()) {
            text.append(at)
                    .append(" -f -a ")
                    .append(child.word())
                    .append(" -d ")
                    .append(quoted(child.summary()))
                    .append('\n');
        }
        for (OptionSpec option : entry.options()) {
            text.append(at);
            for (String name : option.names()) {
                text.append(name.startsWith("--") ? " -l " : name.length() == 2 ? " -s " : " -o ")
                        .append(name.replaceFirst("^-+", ""));
            }
            text.append(Entry.takesValue(option) ? " -r" + offer(Taken.by(option)) : "")
                    .append(" -d ")
                    .append(quoted(Entry.sentence(Entry.said(option))))
                    .append('\n');
        }
        entry.arguments().stream()
                .map(Taken::by)
                .distinct()
                .filter(taken ->
                        taken.files() != Taken.Files.NONE || !taken.words().isEmpty())
                .forEach(taken -> text.append(at).append(offer(taken)).append('\n'));
        return text.toString();
    }

    private static String offer(Taken taken) {
        String words = taken.words().isEmpty() ? "" : " -a " + quoted(String.join(" ", taken.words()));
        return switch (taken.files()) {
            case NONE -> " -f" + words;
            case ANY -> " -F" + words;
            case FOLDERS -> " -f" + words + " -a '(__fish_complete_directories)'";
        };
    }

    private static String quoted(String text) {
        return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'";
    }
}
