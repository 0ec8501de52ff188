package org.shiftstand.report;

/** Sentences for a terminal of 100 columns: wrapped at spaces, with plain spaces and minus signs. Not thread-safe. */
final class Wrapped {
    private static final int WIDTH = 98;
    /** A space that no line is broken at, until it is printed. */
    private static final char HELD = '\u0001';

    private final StringBuilder out = new StringBuilder();

    /** A sentence; every line of it begins with the indent. */
    Wrapped line(String indent, String sentence) {
        return line(indent, indent, sentence);
    }

    /** A sentence whose first line begins with {@code first}, all others with {@code further}. */
    Wrapped line(String first, String further, String sentence) {
        StringBuilder line = new StringBuilder(first);
        boolean empty = true;
        for (String word :
                sentence.replace(Figures.NO_BREAK, String.valueOf(HELD)).split(" ", -1)) {
            if (!empty && line.length() + 1 + word.length() > WIDTH) {
                flush(line);
                line.append(further);
                empty = true;
            }
            line.append(empty ? "" : " ").append(word);
            empty = false;
        }
        flush(line);
        return this;
    }

    Wrapped gap() {
        out.append('\n');
        return this;
    }

    private void flush(StringBuilder line) {
        String plain = line.toString().replace(HELD, ' ').replace(Figures.MINUS, "-");
        out.append(plain.stripTrailing()).append('\n');
        line.setLength(0);
    }

    /** All lines, each ended by LF. */
    String text() {
        return Words.clean(out.toString());
    }
}
