package org.shiftstand.cli.manual;

/** Text of a man page in roff, by the macros of {@code man(7)}: what groff and mandoc both read. */
final class Roff {
    /** Of a line of a page's source. */
    private static final int MOST_COLUMNS = 78;

    private final StringBuilder page = new StringBuilder();

    /** The last line opened a section, which opens a paragraph by itself. */
    private boolean opened;

    /** First line of a page: name in capitals, section 1, date, where from. */
    Roff title(String name, String date, String source, String manual) {
        return marked(
                ".TH \"" + escaped(name) + "\" 1 " + date + " \"" + escaped(source) + "\" \"" + escaped(manual) + '"');
    }

    Roff section(String heading) {
        marked(".SH \"" + escaped(heading) + '"');
        opened = true;
        return this;
    }

    Roff paragraph(String text) {
        apart();
        return line(text);
    }

    private void apart() {
        if (!opened) {
            marked(".PP");
        }
    }

    /** A term with what it means, indented. The term comes marked up, see {@link #bold}. */
    Roff term(String marked, String text) {
        return marked(".TP").marked(marked).line(text);
    }

    /** Running text, over as many lines as it takes. */
    Roff line(String text) {
        StringBuilder line = new StringBuilder();
        for (String word : text.split(" ")) {
            String next = escaped(word);
            if (line.length() > 0 && line.length() + 1 + next.length() > MOST_COLUMNS) {
                marked(line.toString());
                line.setLength(0);
            }
            line.append(line.length() == 0 ? "" : " ").append(next);
        }
        return marked(line.toString());
    }

    /** A line that is marked up already. */
    Roff marked(String text) {
        page.append(text).append('\n');
        opened = false;
        return this;
    }

    /** Lines as they are, in a fixed width. */
    Roff example(Iterable<String> lines) {
        apart();
        marked(".in +4n").marked(".nf");
        lines.forEach(line -> marked(escaped(line)));
        return marked(".fi").marked(".in");
    }

    static String bold(String text) {
        return "\\fB" + escaped(text) + "\\fR";
    }

    static String italic(String text) {
        return "\\fI" + escaped(text) + "\\fR";
    }

    /** Text that no roff takes for a request; what is not ASCII by its number, whatever the reader's locale is. */
    static String escaped(String text) {
        StringBuilder out = new StringBuilder();
        if (text.startsWith(".") || text.startsWith("'")) {
            out.append("\\&");
        }
        text.codePoints().forEach(c -> out.append(escaped(c)));
        return out.toString();
    }

    private static String escaped(int c) {
        return switch (c) {
            case '\\' -> "\\e";
            case '-' -> "\\-"; // a minus that can be copied to a command line, not a hyphen
            case '\'' -> "\\(aq";
            case '"' -> "\\(dq";
            case '`' -> "\\(ga";
            case '^' -> "\\(ha";
            case '~' -> "\\(ti";
            default -> c < 128 ? Character.toString(c) : "\\[u%04X]".formatted(c);
        };
    }

    @Override
    public String toString() {
        return page.toString();
    }
}
