package org.shiftstand.fuzz;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.zip.GZIPInputStream;
import org.shiftstand.profile.Profile;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The first cycles of a bench capture as fields, and what its unit was built to. Invented data, see captures/README.md. */
record Bench(List<String> header, List<String[]> rows, Profile profile) {
    /** So many cycles and the rest after them. */
    static Bench of(String name, int cycles) {
        try {
            JsonNode truth = JsonMapper.shared().readTree(read(name + ".truth.json"));
            double until = Double.MAX_VALUE;
            for (JsonNode shift : truth.get("shifts")) {
                if (shift.get("cycle").asInt() == cycles + 1) {
                    until = Math.min(until, shift.get("request_s").asDouble() - 0.2);
                }
            }
            List<String[]> rows = new ArrayList<>();
            List<String> header;
            try (var in = new BufferedReader(
                    new InputStreamReader(new GZIPInputStream(open(name + ".csv.gz")), StandardCharsets.UTF_8))) {
                header = List.of(Objects.requireNonNull(in.readLine()).split(",", -1));
                for (String line = in.readLine(); line != null; line = in.readLine()) {
                    String[] fields = line.split(",", -1);
                    if (Double.parseDouble(fields[0]) > until) {
                        break;
                    }
                    rows.add(fields);
                }
            }
            return new Bench(header, rows, profile(truth));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Changing the copy's fields changes nothing here. */
    List<String[]> copy() {
        List<String[]> copy = new ArrayList<>(rows.size());
        rows.forEach(row -> copy.add(row.clone()));
        return copy;
    }

    /** Where a column stands; −1 where there is none. */
    int column(String named) {
        return header.indexOf(named);
    }

    byte[] csv(List<String[]> changed) {
        var text = new StringBuilder(String.join(",", header)).append("\r\n");
        for (String[] row : changed) {
            text.append(row[0]);
            for (int i = 1; i < row.length; i++) {
                text.append(',').append(row[i]);
            }
            text.append("\r\n");
        }
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    Path write(List<String[]> changed, Path folder) {
        try {
            return Files.write(folder.resolve("changed.csv"), csv(changed));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    double timeS(int row) {
        return Double.parseDouble(rows.get(Math.max(0, Math.min(rows.size() - 1, row)))[0]);
    }

    private static Profile profile(JsonNode truth) {
        return new Profile(
                truth.get("name").asString(),
                1,
                truth.get("sprockets").asInt(),
                numbers(truth, "positions_deg"),
                OptionalDouble.empty(),
                OptionalDouble.of(numbers(truth, "limits_deg").get(0)),
                OptionalDouble.of(numbers(truth, "limits_deg").get(1)),
                OptionalDouble.of(truth.get("hold_s").asDouble()),
                numbers(truth, "overtravel_inboard_deg"),
                numbers(truth, "overtravel_outboard_deg"),
                List.of(),
                "0".repeat(64));
    }

    private static List<Double> numbers(JsonNode truth, String key) {
        List<Double> numbers = new ArrayList<>();
        truth.get(key).forEach(number -> numbers.add(number.asDouble()));
        return numbers;
    }

    private static InputStream open(String file) {
        return Objects.requireNonNull(Bench.class.getResourceAsStream("/captures/" + file), file);
    }

    private static byte[] read(String file) throws IOException {
        try (InputStream in = open(file)) {
            return in.readAllBytes();
        }
    }
}
