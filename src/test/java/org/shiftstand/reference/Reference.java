package org.shiftstand.reference;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Data files of published figures: JSON, and CSV with comment lines before the header. */
final class Reference {
    private final List<String> header;
    private final List<List<String>> rows;

    private Reference(List<String> header, List<List<String>> rows) {
        this.header = header;
        this.rows = rows;
    }

    /** A table of {@code src/test/resources}, such as {@code reference/stats/gear_dat.csv}; no quoted fields. */
    static Reference csv(String resource) {
        List<List<String>> lines = text(resource)
                .lines()
                .filter(line -> !line.startsWith("#") && !line.isBlank())
                .map(line -> Arrays.asList(line.split(",", -1)))
                .toList();
        return new Reference(lines.get(0), lines.subList(1, lines.size()));
    }

    static JsonNode json(String resource) {
        return JsonMapper.shared().readTree(text(resource));
    }

    static String text(String resource) {
        try (InputStream in = Objects.requireNonNull(Reference.class.getResourceAsStream("/" + resource), resource)) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    int size() {
        return rows.size();
    }

    double[] column(String name) {
        return words(name).stream().mapToDouble(Double::parseDouble).toArray();
    }

    /** The first column. */
    List<String> first() {
        return words(header.get(0));
    }

    /** The last column. */
    double[] last() {
        return column(header.get(header.size() - 1));
    }

    List<String> words(String name) {
        int index = header.indexOf(name);
        if (index < 0) {
            throw new IllegalArgumentException("no such column: name=" + name + ", header=" + header);
        }
        return rows.stream().map(row -> row.get(index)).toList();
    }

    /** An array of numbers in JSON. */
    static double[] numbers(JsonNode array) {
        double[] values = new double[array.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = array.get(i).asDouble();
        }
        return values;
    }
}
