package org.shiftstand.cli.manual;

import java.util.ArrayList;
import java.util.List;
import picocli.CommandLine;
import picocli.CommandLine.Help;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * A command in the tree.
 *
 * @param words that call it, the program's name first: {@code shiftstand rig list}
 */
record Entry(List<String> words, CommandLine line) {
    /** Columns; wider than any paragraph. */
    private static final int NO_WRAPPING = 20_000;

    Entry {
        words = List.copyOf(words);
    }

    /** Every command from this one on, parents before children; hidden ones are left out. */
    static List<Entry> all(CommandLine root) {
        List<Entry> found = new ArrayList<>();
        collect(new Entry(List.of(root.getCommandName()), root), found);
        return found;
    }

    private static void collect(Entry entry, List<Entry> found) {
        found.add(entry);
        entry.below().forEach(child -> collect(child, found));
    }

    /** The commands right below it, in the order of its help. */
    List<Entry> below() {
        List<Entry> children = new ArrayList<>();
        line.getSubcommands().forEach((word, child) -> {
            // an alias is another word for the same command
            if (word.equals(child.getCommandName())
                    && !child.getCommandSpec().usageMessage().hidden()) {
                List<String> deeper = new ArrayList<>(words);
                deeper.add(word);
                children.add(new Entry(deeper, child));
            }
        });
        return children;
    }

    /** Its own word: {@code list}. */
    String word() {
        return words.get(words.size() - 1);
    }

    /** All its words: {@code shiftstand rig list}. */
    String title() {
        return String.join(" ", words);
    }

    /** Name of its page, and of a shell's function: {@code shiftstand-rig-list}. */
    String page() {
        return String.join("-", words);
    }

    CommandSpec spec() {
        return line.getCommandSpec();
    }

    List<OptionSpec> options() {
        return spec().options().stream().filter(option -> !option.hidden()).toList();
    }

    List<PositionalParamSpec> arguments() {
        return spec().positionalParameters().stream()
                .filter(argument -> !argument.hidden())
                .toList();
    }

    /** What its help says first, to the end of the sentence. */
    String summary() {
        return sentence(String.join(" ", description()));
    }

    /** What the help says of an argument, on one line; picocli gives it formatted. */
    static String said(ArgSpec argument) {
        return String.join(" ", argument.description()).replaceAll("\\s+", " ").strip();
    }

    static boolean takesValue(OptionSpec option) {
        return option.arity().max() > 0;
    }

    /** The first sentence; a dot within a name or a number ends none. */
    static String sentence(String text) {
        int end = text.indexOf(". ");
        return end < 0 ? text : text.substring(0, end + 1);
    }

    /** What its help says it does: each paragraph on one line, read as the help reads it. */
    List<String> description() {
        StringBuilder text =
                Help.join(Ansi.OFF, NO_WRAPPING, false, spec().usageMessage().description(), new StringBuilder());
        return text.toString()
                .lines()
                .map(String::strip)
                .filter(line -> !line.isEmpty())
                .toList();
    }
}
