package org.shiftstand.capture;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * How a CSV capture differs from the usual one.
 *
 * @param columns capture column, such as {@code hall_sin}, to the header that holds it in this file, such as
 *     {@code CH1}; columns not named here are found by their own name
 * @param scales capture column to the factor its numbers are multiplied with, such as {@code current_a} to 0.001; finite
 *     and not 0, above 0 for {@code time_s}
 * @param dialect of another logger, instead of both; empty for a plain capture
 */
public record CsvOptions(Map<String, String> columns, Map<String, Double> scales, Optional<Dialect> dialect) {
    public CsvOptions {
        columns = Map.copyOf(columns);
        scales = Map.copyOf(scales);
    }

    public CsvOptions(Map<String, String> columns, Map<String, Double> scales) {
        this(columns, scales, Optional.empty());
    }

    /** As a mapping file or a recognition says. */
    public static CsvOptions of(Dialect dialect) {
        return new CsvOptions(Map.of(), Map.of(), Optional.of(dialect));
    }

    /** Columns by their own names, no scales. */
    public static CsvOptions usual() {
        return new CsvOptions(Map.of(), Map.of());
    }

    /**
     * Options as written on a command line, each {@code name=value}.
     *
     * @param columns such as {@code hall_sin=CH1}
     * @param scales such as {@code current_a=0.001}
     * @throws BadInput naming every one that cannot be used
     */
    public static CsvOptions parse(List<String> columns, List<String> scales) {
        var problems = new ArrayList<Problem>();
        Map<String, String> mapped =
                BadInput.gathered(problems, () -> parse("--column", columns)).orElseGet(Map::of);
        var factors = new LinkedHashMap<String, Double>();
        for (String text : scales) {
            int equals = text.indexOf('=');
            double factor = equals < 1 ? Double.NaN : number(text.substring(equals + 1));
            String name = equals < 1 ? text : text.substring(0, equals);
            if (!Double.isFinite(factor) || factor == 0 || (name.equals(Column.TIME.header()) && factor < 0)) {
                problems.add(new Problem(
                        "--scale",
                        0,
                        0,
                        "cannot read '" + text + "'; expected NAME=FACTOR with a number"
                                + " other than 0 (above 0 for time_s), such as current_a=0.001"));
            } else if (known(name, "--scale", problems) && factors.put(name, factor) != null) {
                problems.add(new Problem("--scale", 0, 0, name + " is given twice; expected once"));
            }
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return new CsvOptions(mapped, factors);
    }

    /**
     * Each {@code NAME=HEADER}.
     *
     * @throws BadInput naming every one that cannot be used
     */
    static Map<String, String> parse(String option, List<String> texts) {
        var problems = new ArrayList<Problem>();
        var mapped = new LinkedHashMap<String, String>();
        for (String text : texts) {
            int equals = text.indexOf('=');
            if (equals < 1 || equals == text.length() - 1) {
                problems.add(new Problem(
                        option, 0, 0, "cannot read '" + text + "'; expected NAME=HEADER, such as" + " hall_sin=CH1"));
            } else if (known(text.substring(0, equals), option, problems)
                    && mapped.put(text.substring(0, equals), text.substring(equals + 1)) != null) {
                problems.add(new Problem(option, 0, 0, text.substring(0, equals) + " is given twice; expected once"));
            }
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return mapped;
    }

    private static boolean known(String name, String option, List<Problem> problems) {
        if (Column.named(name).isPresent()) {
            return true;
        }
        problems.add(new Problem(
                option,
                0,
                0,
                "unknown capture column '" + name + "'; expected one of " + Column.all() + "."
                        + Nearest.hint(name, Column.headers())));
        return false;
    }

    private static double number(String text) {
        byte[] bytes = text.strip().toLowerCase(Locale.ROOT).getBytes(StandardCharsets.UTF_8);
        return Decimal.isNumber(bytes, 0, bytes.length) ? Decimal.parse(bytes, 0, bytes.length) : Double.NaN;
    }

    double scale(Column column) {
        return scales.getOrDefault(column.header(), 1.0);
    }
}
