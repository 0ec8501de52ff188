package org.shiftstand.document;

/**
 * One thing that is wrong in a file that people wrote.
 *
 * @param file as the user named it
 * @param line 1-based; 0 where there is none
 * @param column 1-based; 0 where there is none
 * @param text what is wrong; what is expected
 */
public record Problem(String file, int line, int column, String text) {
    /** {@code file:line:column: text}. */
    @Override
    public String toString() {
        if (line == 0) {
            return file + ": " + text;
        }
        return file + ":" + line + (column == 0 ? "" : ":" + column) + ": " + text;
    }
}
