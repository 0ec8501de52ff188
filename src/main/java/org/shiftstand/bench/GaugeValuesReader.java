package org.shiftstand.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Problem;
import org.shiftstand.document.Problems;
import org.shiftstand.document.TextFile;

/**
 * Reads the values of a gauge study out of a table: comma separated, one value a line, lines that begin with {@code #} left
 * out. Columns {@code unit, mount, repeat, value}, in any order, {@code shifts} where a value is a mean; others are not read.
 */
public final class GaugeValuesReader {
    private static final int MOST_SHIFTS = 100_000;

    /** Beyond this squares lose what tells values apart, and no measure of a shift is as large. */
    private static final double LARGEST = 1e9;

    /** Column, and what others call it. */
    private static final Map<String, List<String>> COLUMNS = Map.of(
            "unit", List.of("unit", "part"),
            "mount", List.of("mount", "appraiser", "operator"),
            "repeat", List.of("repeat", "trial"),
            "value", List.of("value"),
            "shifts", List.of("shifts"));

    private static final List<String> NEEDED = List.of("unit", "mount", "repeat", "value");
    private static final String EXPECTED =
            "expected columns unit (or part), mount (or appraiser, operator), repeat (or trial) and value";

    private final Problems problems;
    private final List<GaugeValue> values = new ArrayList<>();
    private final Set<List<String>> seen = new HashSet<>();
    private @Nullable List<String> header;

    private GaugeValuesReader(String name) {
        this.problems = new Problems(name);
    }

    /**
     * Finds the values as the user named them and reads them.
     *
     * @throws BadInput with everything that is wrong
     */
    public static GaugeValues find(String typed) {
        TextFile file = Bundled.find(typed, Bundled.Kind.STUDY);
        return GaugeValues.of(file.name(), read(file));
    }

    /**
     * Reads values, of a whole study or a part of one.
     *
     * @throws BadInput with everything that is wrong
     */
    public static List<GaugeValue> read(TextFile file) {
        return new GaugeValuesReader(file.name()).values(file.text());
    }

    private List<GaugeValue> values(String text) {
        int number = 0;
        for (String line : text.replace("\uFEFF", "").lines().toList()) {
            number++;
            if (line.isBlank() || line.startsWith("#")) {
                continue;
            }
            List<String> cells = cells(line);
            if (header == null) {
                header = header(cells, line, number);
                problems.check(); // without columns every line would be wrong
            } else {
                value(header, cells, number);
            }
        }
        if (header == null) {
            say(0, "has no values; " + EXPECTED);
        } else if (values.isEmpty() && problems.none()) {
            say(0, "has a header and no values below it; expected a line for each value");
        }
        problems.check();
        return List.copyOf(values);
    }

    private static List<String> cells(String line) {
        return Arrays.stream(line.split(",", -1))
                .map(String::strip)
                .map(cell -> cell.length() > 1 && cell.startsWith("\"") && cell.endsWith("\"")
                        ? cell.substring(1, cell.length() - 1)
                        : cell)
                .toList();
    }

    private List<String> header(List<String> cells, String line, int number) {
        List<String> names =
                cells.stream().map(c -> column(c.toLowerCase(Locale.ROOT))).toList();
        List<String> missing = NEEDED.stream().filter(n -> !names.contains(n)).toList();
        if (!missing.isEmpty()) {
            String why = line.contains(";") ? "; a table with semicolons is to be saved with commas" : "";
            say(
                    number,
                    "has no column " + String.join(", ", missing) + " (its first line is '" + shortened(line) + "'); "
                            + EXPECTED + why);
        }
        for (String name : COLUMNS.keySet()) {
            if (names.stream().filter(name::equals).count() > 1) {
                say(number, "has the column " + name + " twice; expected it once");
            }
        }
        return names;
    }

    private static String column(String word) {
        return COLUMNS.entrySet().stream()
                .filter(c -> c.getValue().contains(word))
                .map(Map.Entry::getKey)
                .findFirst()
                .orElse(word);
    }

    private void value(List<String> names, List<String> cells, int line) {
        if (cells.size() != names.size()) {
            say(
                    line,
                    "has " + cells.size() + " cells; expected " + names.size()
                            + " as the header has, and a decimal point in numbers, no comma");
            return;
        }
        String unit = cells.get(names.indexOf("unit"));
        String mount = cells.get(names.indexOf("mount"));
        String repeat = cells.get(names.indexOf("repeat"));
        for (String name : List.of("unit", "mount", "repeat")) {
            if (cells.get(names.indexOf(name)).isEmpty()) {
                say(line, "has no " + name + "; expected its name or number");
                return;
            }
        }
        Optional<Double> number = number(cells.get(names.indexOf("value")), line);
        Optional<Integer> shifts = shifts(names, cells, line);
        if (!seen.add(List.of(unit, mount, repeat))) {
            say(
                    line,
                    "has unit " + unit + ", mount " + mount + ", repeat " + repeat
                            + " a second time; expected each once");
        } else if (number.isPresent() && shifts.isPresent()) {
            values.add(new GaugeValue(unit, mount, repeat, number.get(), shifts.get()));
        }
    }

    private Optional<Double> number(String text, int line) {
        try {
            double value = Double.parseDouble(text);
            if (Math.abs(value) <= LARGEST && text.matches("[-+0-9.eE]+")) {
                return Optional.of(value);
            }
        } catch (NumberFormatException e) {
            // told below, together with what is no finite number
        }
        say(
                line,
                text.isEmpty()
                        ? "has no value; expected a number. A value that could not be had is to be measured again"
                        : "value is '" + shortened(text)
                                + "'; expected a number such as -0.56, without a unit, of 1e9 at most");
        return Optional.empty();
    }

    private Optional<Integer> shifts(List<String> names, List<String> cells, int line) {
        if (!names.contains("shifts")) {
            return Optional.of(1);
        }
        String text = cells.get(names.indexOf("shifts"));
        if (text.matches("[0-9]{1,6}") && Integer.parseInt(text) >= 1 && Integer.parseInt(text) <= MOST_SHIFTS) {
            return Optional.of(Integer.parseInt(text));
        }
        say(line, "shifts is '" + shortened(text) + "'; expected how many shifts the value is the mean of, 1 or more");
        return Optional.empty();
    }

    private static String shortened(String text) {
        String plain = text.replaceAll("\\p{Cntrl}", "?");
        return plain.length() <= 60 ? plain : plain.substring(0, 60) + "…";
    }

    private void say(int line, String text) {
        problems.add(new Problem(problems.file(), line, 0, text));
    }
}
