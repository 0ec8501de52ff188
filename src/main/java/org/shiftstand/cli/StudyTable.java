package org.shiftstand.cli;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.stats.CrossedStudy;

/**
 * Values of a gauge study in a CSV file: columns {@code unit, mount, repeat, value} in any order, others ignored; lines that
 * start with {@code #} before the header are comments. {@code part, appraiser, trial} name the same columns.
 */
final class StudyTable {
    private static final List<String> PACKED = List.of("study-10x3x3.csv", "rig/study-10x3x3.csv");
    private static final List<List<String>> COLUMNS = List.of(
            List.of("unit", "part"),
            List.of("mount", "appraiser", "operator"),
            List.of("repeat", "trial"),
            List.of("value"));

    private final String name;
    private final List<Problem> problems = new ArrayList<>();
    private final Map<String, Map<String, Map<String, Double>>> cells = new LinkedHashMap<>();

    private StudyTable(String name) {
        this.name = name;
    }

    /**
     * Reads a file, or the one that is packed with the program.
     *
     * @throws BadInput with everything that is wrong
     */
    static CrossedStudy read(String typed) {
        StudyTable table = new StudyTable(typed);
        table.rows(text(typed));
        return table.study();
    }

    private static String text(String typed) {
        Path path = Path.of(typed);
        if (!Files.exists(path) && PACKED.contains(typed)) {
            try (InputStream in = StudyTable.class.getResourceAsStream("/bundled/rig/study-10x3x3.csv")) {
                if (in != null) {
                    return new String(in.readAllBytes(), StandardCharsets.UTF_8);
                }
            } catch (IOException e) {
                throw new IllegalStateException("a packed file cannot be read: name=" + typed, e);
            }
        }
        return TextFile.read(typed, path).text();
    }

    private void rows(String text) {
        int[] at = new int[0];
        List<String> lines = text.lines().toList();
        for (int i = 0; i < lines.size(); i++) {
            String line = lines.get(i).strip();
            if (line.isEmpty() || line.startsWith("#")) {
                continue;
            }
            List<String> fields =
                    Arrays.stream(line.split(",", -1)).map(String::strip).toList();
            if (at.length == 0) {
                at = header(fields, i + 1);
            } else {
                row(fields, at, i + 1);
            }
        }
        if (at.length == 0) {
            problem(0, "has no header; expected the columns unit, mount, repeat, value");
        }
        check();
    }

    private int[] header(List<String> fields, int line) {
        int[] at = COLUMNS.stream()
                .mapToInt(names -> names.stream()
                        .mapToInt(fields::indexOf)
                        .filter(i -> i >= 0)
                        .findFirst()
                        .orElse(-1))
                .toArray();
        for (int i = 0; i < at.length; i++) {
            if (at[i] < 0) {
                problem(line, "has no column '" + COLUMNS.get(i).get(0) + "'; expected unit, mount, repeat, value");
            }
        }
        check();
        return at;
    }

    private void row(List<String> fields, int[] at, int line) {
        if (Arrays.stream(at).max().orElse(0) >= fields.size()) {
            problem(line, "has " + fields.size() + " fields; expected one for each column of the header");
            return;
        }
        double value = number(fields.get(at[3]));
        if (!Double.isFinite(value)) {
            problem(line, "value is '" + fields.get(at[3]) + "'; expected a number such as 12.5");
            return;
        }
        Double before = cells.computeIfAbsent(fields.get(at[0]), u -> new LinkedHashMap<>())
                .computeIfAbsent(fields.get(at[1]), m -> new LinkedHashMap<>())
                .putIfAbsent(fields.get(at[2]), value);
        if (before != null) {
            problem(
                    line,
                    "gives unit " + fields.get(at[0]) + ", mount " + fields.get(at[1]) + ", repeat " + fields.get(at[2])
                            + " a second time; expected each once");
        }
    }

    private static double number(String text) {
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException e) {
            return Double.NaN;
        }
    }

    private CrossedStudy study() {
        List<String> mounts = cells.values().stream()
                .flatMap(m -> m.keySet().stream())
                .distinct()
                .toList();
        List<String> units = List.copyOf(cells.keySet());
        double[][][] values = new double[units.size()][mounts.size()][];
        for (int i = 0; i < units.size(); i++) {
            for (int j = 0; j < mounts.size(); j++) {
                values[i][j] =
                        cells
                                .getOrDefault(units.get(i), Map.of())
                                .getOrDefault(mounts.get(j), Map.of())
                                .values()
                                .stream()
                                .mapToDouble(v -> v)
                                .toArray();
                if (values[i][j].length != values[0][0].length) {
                    problem(
                            0,
                            "has " + values[i][j].length + " repeats of unit " + units.get(i) + " in mount "
                                    + mounts.get(j)
                                    + "; expected " + values[0][0].length
                                    + ", as many as of the first: a crossed study has"
                                    + " every unit in every mount");
                }
            }
        }
        check();
        if (units.size() < 2 || mounts.size() < 2 || values[0][0].length < 2) {
            problem(
                    0,
                    "has " + units.size() + " units, " + mounts.size() + " mounts and "
                            + (values.length == 0 || mounts.isEmpty() ? 0 : values[0][0].length)
                            + " repeats; expected at least 2 of each");
        }
        check();
        return CrossedStudy.of(values);
    }

    private void problem(int line, String text) {
        problems.add(new Problem(name, line, 0, text));
    }

    private void check() {
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }
}
