package org.shiftstand.capture;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The fields of one line, by a delimiter of its own; quotes around a field are taken off. A quoted field ends in its line. */
final class Fields {
    private final byte delimiter;
    private int[] from = new int[16];
    private int[] to = new int[16];
    private int count;
    private int end;
    private boolean closed;

    Fields(byte delimiter) {
        this.delimiter = delimiter;
    }

    /** Splits the line that starts at {@code start}; the bytes hold its whole line. */
    void split(byte[] b, int start, int limit) {
        count = 0;
        closed = true;
        int p = start;
        while (true) {
            if (count == from.length) {
                from = Arrays.copyOf(from, 2 * count);
                to = Arrays.copyOf(to, 2 * count);
            }
            int first = p;
            while (first < limit && b[first] == ' ') {
                first++; // blanks before a quote
            }
            if (first < limit && b[first] == '"') {
                p = quoted(b, first + 1, limit);
            } else {
                from[count] = p;
                while (b[p] != delimiter && b[p] != '\n' && p < limit) {
                    p++;
                }
                to[count] = p > from[count] && b[p] != delimiter && b[p - 1] == '\r' ? p - 1 : p;
            }
            count++;
            if (p >= limit || b[p] != delimiter) {
                end = p;
                return;
            }
            p++;
        }
    }

    private int quoted(byte[] b, int start, int limit) {
        int p = start;
        from[count] = p;
        while (p < limit && b[p] != '\n' && !(b[p] == '"' && b[p + 1] != '"')) {
            p += b[p] == '"' ? 2 : 1;
        }
        to[count] = Math.min(p, limit);
        if (p >= limit || b[p] != '"') {
            closed = false;
            return Math.min(p, limit);
        }
        p++;
        while (b[p] != delimiter && b[p] != '\n' && p < limit) {
            closed &= b[p] == ' ' || b[p] == '\r';
            p++;
        }
        return p;
    }

    /** Takes the bytes from {@code start} to {@code stop} for one field. */
    void line(int start, int stop) {
        count = 1;
        from[0] = start;
        to[0] = stop;
        end = stop;
    }

    /** The first field as it stands. */
    String raw(byte[] b) {
        return decoded(b, from[0], to[0]);
    }

    int count() {
        return count;
    }

    /** Where the line's break stands, or the limit. */
    int end() {
        return end;
    }

    /** False where a quote has no end in its line, or something follows it. */
    boolean isClosed() {
        return closed;
    }

    int from(int field) {
        return from[field];
    }

    int to(int field) {
        return to[field];
    }

    boolean isBlank(byte[] b, int field) {
        for (int p = from[field]; p < to[field]; p++) {
            if (b[p] != ' ' && b[p] != '\t') {
                return false;
            }
        }
        return true;
    }

    String text(byte[] b, int field) {
        return decoded(b, from[field], to[field]).replace("\"\"", "\"").strip();
    }

    List<String> texts(byte[] b) {
        List<String> all = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            all.add(text(b, i));
        }
        return all;
    }

    /** UTF-8, and where it is none the older western encoding: a logger's degree and micro signs. */
    private static String decoded(byte[] b, int from, int to) {
        try {
            return StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(b, from, to - from))
                    .toString();
        } catch (CharacterCodingException e) {
            return new String(b, from, to - from, StandardCharsets.ISO_8859_1);
        }
    }
}
