package org.shiftstand.angle;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Reference data of this package: CSV with comment lines, and JSON. */
final class ReferenceTable {
    private final List<String> header;
    private final double[][] rows;

    private ReferenceTable(List<String> header, double[][] rows) {
        this.header = header;
        this.rows = rows;
    }

    static ReferenceTable csv(String name) {
        List<String> lines = text(name).lines().filter(l -> !l.startsWith("#")).toList();
        double[][] rows = lines.stream()
                .skip(1)
                .map(l -> Arrays.stream(l.split(","))
                        .mapToDouble(Double::parseDouble)
                        .toArray())
                .toArray(double[][]::new);
        return new ReferenceTable(List.of(lines.get(0).split(",")), rows);
    }

    static JsonNode json(String name) {
        return JsonMapper.shared().readTree(text(name));
    }

    private static String text(String name) {
        try (InputStream in =
                Objects.requireNonNull(ReferenceTable.class.getResourceAsStream("/angle/" + name), name)) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    double[] column(String name) {
        int index = header.indexOf(name);
        return Arrays.stream(rows).mapToDouble(r -> r[index]).toArray();
    }
}
