package org.shiftstand.document;

/**
 * A place in a text file.
 *
 * @param line 1-based
 * @param column 1-based, in code points
 */
public record Place(int line, int column) {
    /** The place of the code point at an index of the text; for an index beyond the end, the end. */
    static Place at(String text, int index) {
        int line = 1;
        int column = 1;
        for (int i = 0; i < Math.min(index, text.length()); ) {
            int point = text.codePointAt(i);
            i += Character.charCount(point);
            boolean newLine = point == '\n' || (point == '\r' && (i >= text.length() || text.charAt(i) != '\n'));
            line = newLine ? line + 1 : line;
            column = newLine ? 1 : column + 1;
        }
        return new Place(line, column);
    }
}
