package org.shiftstand.report;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * Writes one JSON document (RFC 8259) in the order it is told, indented by two spaces, lines ended by LF; what is empty is
 * {@code null}. Not thread-safe.
 *
 * <p>Own code: a library's start-up would cost more than the whole rest of writing a result.
 */
public final class JsonWriter {
    private static final String HEX = "0123456789abcdef";

    private final Appendable out;
    private final Deque<Boolean> filled =
            new ArrayDeque<>(); // one for each open object or array: whether it has a member

    public JsonWriter(Appendable out) {
        this.out = out;
    }

    public JsonWriter object(String name) {
        return open(name, '{');
    }

    /** An object in an array, or the document itself. */
    public JsonWriter object() {
        return open('{');
    }

    public JsonWriter array(String name) {
        return open(name, '[');
    }

    public JsonWriter endObject() {
        return close('}');
    }

    public JsonWriter endArray() {
        return close(']');
    }

    public JsonWriter field(String name, String value) {
        key(name);
        quoted(value);
        return this;
    }

    public JsonWriter field(String name, Optional<String> value) {
        return value.isPresent() ? field(name, value.get()) : nothing(name);
    }

    public JsonWriter field(String name, long value) {
        key(name);
        raw(Long.toString(value));
        return this;
    }

    public JsonWriter field(String name, OptionalInt value) {
        return value.isPresent() ? field(name, value.getAsInt()) : nothing(name);
    }

    /** NaN is no value: {@code null}. */
    public JsonWriter field(String name, double value) {
        return Double.isNaN(value) ? nothing(name) : number(name, value);
    }

    public JsonWriter field(String name, OptionalDouble value) {
        return value.isPresent() ? number(name, value.getAsDouble()) : nothing(name);
    }

    public JsonWriter field(String name, boolean value) {
        key(name);
        raw(value ? "true" : "false");
        return this;
    }

    public JsonWriter nothing(String name) {
        key(name);
        raw("null");
        return this;
    }

    /** Whole numbers in one line. */
    public JsonWriter numbers(String name, List<Integer> values) {
        key(name);
        raw("[");
        for (int i = 0; i < values.size(); i++) {
            raw(i == 0 ? "" : ", ");
            raw(values.get(i).toString());
        }
        raw("]");
        return this;
    }

    /** A number in an array; NaN is no value: {@code null}. */
    public JsonWriter element(double value) {
        member();
        raw(Double.isNaN(value) ? "null" : JsonNumber.text(value));
        return this;
    }

    /** Numbers in one line; what is not finite is {@code null}. */
    public JsonWriter decimals(String name, double[] values) {
        key(name);
        raw("[");
        for (int i = 0; i < values.length; i++) {
            raw(i == 0 ? "" : ", ");
            raw(Double.isFinite(values[i]) ? JsonNumber.text(values[i]) : "null");
        }
        raw("]");
        return this;
    }

    /** Whole numbers in one line; what is empty is {@code null}. */
    public JsonWriter places(String name, List<OptionalInt> values) {
        key(name);
        raw("[");
        for (int i = 0; i < values.size(); i++) {
            OptionalInt value = values.get(i);
            raw(i == 0 ? "" : ", ");
            raw(value.isPresent() ? Integer.toString(value.getAsInt()) : "null");
        }
        raw("]");
        return this;
    }

    public JsonWriter texts(String name, List<String> values) {
        array(name);
        for (String value : values) {
            member();
            quoted(value);
        }
        return endArray();
    }

    public JsonWriter texts(String name, Map<String, String> values) {
        object(name);
        values.forEach(this::field);
        return endObject();
    }

    /** Ends the document. */
    public void end() {
        raw("\n");
    }

    private JsonWriter number(String name, double value) {
        key(name);
        raw(JsonNumber.text(value));
        return this;
    }

    private JsonWriter open(String name, char bracket) {
        key(name);
        return bracket(bracket);
    }

    private JsonWriter open(char bracket) {
        member();
        return bracket(bracket);
    }

    private JsonWriter bracket(char bracket) {
        raw(bracket);
        filled.push(false);
        return this;
    }

    private JsonWriter close(char bracket) {
        if (filled.pop()) {
            newLine();
        }
        raw(bracket);
        return this;
    }

    private void key(String name) {
        member();
        quoted(name);
        raw(": ");
    }

    private void member() {
        if (filled.isEmpty()) {
            return;
        }
        if (filled.pop()) {
            raw(",");
        }
        filled.push(true);
        newLine();
    }

    private void newLine() {
        raw("\n");
        for (int i = 0; i < filled.size(); i++) {
            raw("  ");
        }
    }

    private void quoted(String text) {
        raw('"');
        for (int i = 0; i < text.length(); i++) {
            character(text, i);
        }
        raw('"');
    }

    private void character(String text, int i) {
        char c = text.charAt(i);
        switch (c) {
            case '"' -> raw("\\\"");
            case '\\' -> raw("\\\\");
            case '\n' -> raw("\\n");
            case '\r' -> raw("\\r");
            case '\t' -> raw("\\t");
            default -> {
                if (c < 0x20 || c == 0x7f || lone(text, i)) {
                    raw("\\u");
                    for (int shift = 12; shift >= 0; shift -= 4) {
                        raw(HEX.charAt(c >> shift & 0xf));
                    }
                } else {
                    raw(c);
                }
            }
        }
    }

    /** Half of a pair without the other half has no UTF-8: it is written as an escape. */
    private static boolean lone(String text, int i) {
        char c = text.charAt(i);
        if (Character.isHighSurrogate(c)) {
            return i + 1 == text.length() || !Character.isLowSurrogate(text.charAt(i + 1));
        }
        return Character.isLowSurrogate(c) && (i == 0 || !Character.isHighSurrogate(text.charAt(i - 1)));
    }

    private void raw(String text) {
        try {
            out.append(text);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void raw(char c) {
        try {
            out.append(c);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
