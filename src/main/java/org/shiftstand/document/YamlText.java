package org.shiftstand.document;

import java.util.Locale;

/** Text as a value of a YAML file that this program writes. */
public final class YamlText {
    private YamlText() {}

    /** In double quotes, so that it is text whatever it says; control characters escaped. One line. */
    public static String quoted(String text) {
        StringBuilder out = new StringBuilder("\"");
        text.codePoints().forEach(c -> {
            if (c == '"' || c == '\\') {
                out.append('\\').appendCodePoint(c);
            } else if (c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029 || c == 0xFEFF) {
                out.append(String.format(Locale.ROOT, "\\u%04X", c)); // YAML 1.2.2, 5.7
            } else if (c >= 0xD800 && c <= 0xDFFF) {
                out.append('?'); // half a character is no text
            } else {
                out.appendCodePoint(c);
            }
        });
        return out.append('"').toString();
    }
}
