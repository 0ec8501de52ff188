package org.shiftstand.cli.manual;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/**
 * A piece of what a help ends with.
 *
 * @param lines without the heading of examples, and without their common indent
 */
record Block(Kind kind, List<String> lines) {
    /** How it is set. */
    enum Kind {
        /** Commands that can be typed. */
        EXAMPLES,
        /** Running text. */
        TEXT,
        /** Indented lines that are no examples: kept as they are. */
        TABLE
    }

    private static final Set<String> HEADINGS = Set.of("Examples:", "Example:");

    Block {
        lines = List.copyOf(lines);
    }

    /** Blocks in order: an empty line ends one, and so does a change of indent but within examples. */
    static List<Block> of(String text) {
        List<Block> blocks = new ArrayList<>();
        List<String> lines = new ArrayList<>();
        Kind kind = Kind.TEXT;
        for (String line : text.split("\\R")) {
            boolean heading = HEADINGS.contains(line);
            Kind next = heading || kind == Kind.EXAMPLES && line.startsWith(" ")
                    ? Kind.EXAMPLES
                    : line.startsWith(" ") ? Kind.TABLE : Kind.TEXT;
            if (line.isBlank() || next != kind) {
                add(kind, lines, blocks);
                lines.clear();
                kind = line.isBlank() ? Kind.TEXT : next;
            }
            if (!line.isBlank() && !heading) {
                lines.add(line);
            }
        }
        add(kind, lines, blocks);
        return blocks;
    }

    private static void add(Kind kind, List<String> lines, List<Block> blocks) {
        if (!lines.isEmpty()) {
            blocks.add(new Block(kind, kind == Kind.TEXT ? lines : unindented(lines)));
        }
    }

    private static List<String> unindented(List<String> lines) {
        int common = lines.stream()
                .mapToInt(line -> line.length() - line.stripLeading().length())
                .min()
                .orElse(0);
        return lines.stream().map(line -> line.substring(common)).toList();
    }
}
