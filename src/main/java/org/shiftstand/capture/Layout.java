package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import org.shiftstand.capture.Dialect.DecimalMark;
import org.shiftstand.capture.Dialect.Delimiter;
import org.shiftstand.capture.Dialect.Format;
import org.shiftstand.capture.Dialect.Grouping;

/**
 * How a file is laid out, told by its first lines: what separates fields is the mark that cuts most lines into the same number
 * of fields that are numbers.
 *
 * @param format how it is written
 * @param heading what stands before the samples
 * @param preamble the lines before the header
 * @param because why it is taken so
 * @param open what its lines do not decide; empty where all is clear
 */
record Layout(Format format, Heading heading, List<String> preamble, List<String> because, Optional<Open> open) {
    private static final int LINES = 2000;
    private static final int OF_SAMPLES = 200;

    /** What two readings of the same lines have in common, and what tells them apart. */
    record Open(String what, List<String> options) {}

    /** One way to cut the lines. */
    private record Cut(Delimiter delimiter, List<List<String>> rows, int width, double even) {}

    /** One way to read a cut. */
    private record Reading(Cut cut, DecimalMark decimal, Grouping grouping, int numbers, int samples) {
        Format format(boolean header) {
            return new Format(cut.delimiter, decimal, grouping, header);
        }
    }

    static Layout of(String file, Bytes bytes, Answers answers, CsvProblems problems) {
        List<String> lines = lines(bytes);
        List<Reading> best = List.of();
        double most = 0;
        for (Delimiter delimiter : answers.delimiter().map(List::of).orElse(List.of(Delimiter.values()))) {
            Cut cut = cut(lines, delimiter);
            List<Reading> readings = cut.width < 2 ? List.of() : readings(cut, answers);
            double score = readings.isEmpty() ? 0 : cut.even * readings.get(0).numbers / readings.get(0).samples;
            if (score > most + 1e-9) {
                most = score;
                best = readings;
            }
        }
        if (best.isEmpty() || most < 0.3) {
            throw problems.fatal(
                    0,
                    0,
                    "no rows of numbers separated by commas, semicolons or tabs; expected one sample a line, with two Hall"
                            + " outputs. Is this a capture? Else name its marks with --delimiter and --decimal.");
        }
        return heading(lines, best, problems);
    }

    private static List<String> lines(Bytes bytes) {
        List<String> lines = new ArrayList<>();
        var whole = new Fields((byte) '\n');
        int p = bytes.position;
        while (p < bytes.limit && lines.size() < LINES) {
            int end = p;
            while (bytes.buffer[end] != '\n') {
                end++;
            }
            if (end >= bytes.limit && !bytes.isEnd(end)) {
                break; // the buffer ends inside this line
            }
            whole.line(p, end > p && bytes.buffer[end - 1] == '\r' ? end - 1 : end);
            lines.add(whole.raw(bytes.buffer));
            p = end + 1;
        }
        return lines;
    }

    private static Cut cut(List<String> lines, Delimiter delimiter) {
        List<List<String>> rows = new ArrayList<>();
        for (String line : lines) {
            byte[] b = (line + "\n\n").getBytes(java.nio.charset.StandardCharsets.UTF_8);
            var fields = new Fields(delimiter.mark());
            fields.split(b, 0, b.length - 2);
            rows.add(fields.texts(b));
        }
        List<List<String>> tail = samples(rows);
        int width = 0;
        int times = 0;
        for (List<String> row : tail) {
            int same = (int) tail.stream()
                    .filter(r ->
                            Heading.trimmed(r).size() == Heading.trimmed(row).size())
                    .count();
            if (same > times) {
                times = same;
                width = Heading.trimmed(row).size();
            }
        }
        return new Cut(delimiter, rows, width, tail.isEmpty() ? 0 : (double) times / tail.size());
    }

    /** Rows that are surely behind the header: from the second half. */
    private static List<List<String>> samples(List<List<String>> rows) {
        int n = rows.size();
        int from = Math.max(n / 2, n - OF_SAMPLES);
        List<List<String>> tail = rows.subList(n > 1 ? Math.max(1, from) : 0, n);
        return tail.stream().filter(r -> r.size() > 1 || !r.get(0).isEmpty()).toList();
    }

    /** The readings that make most fields a number, the plainest first. */
    private static List<Reading> readings(Cut cut, Answers answers) {
        List<Reading> best = new ArrayList<>();
        for (Grouping grouping : answers.grouping().map(List::of).orElse(List.of(Grouping.values()))) {
            for (DecimalMark decimal : answers.decimal().map(List::of).orElse(List.of(DecimalMark.values()))) {
                if (grouping.mark() == decimal.mark()) {
                    continue;
                }
                Reading reading = reading(cut, decimal, grouping);
                if (!best.isEmpty() && reading.numbers > best.get(0).numbers) {
                    best.clear();
                }
                if (best.isEmpty() || reading.numbers == best.get(0).numbers) {
                    best.add(reading);
                }
            }
        }
        return best;
    }

    private static Reading reading(Cut cut, DecimalMark decimal, Grouping grouping) {
        int numbers = 0;
        int samples = 0;
        for (List<String> row : samples(cut.rows)) {
            for (String field : row) {
                samples += field.isEmpty() ? 0 : 1;
                numbers += isNumber(field, decimal, grouping) || isStamp(field) ? 1 : 0;
            }
        }
        return new Reading(cut, decimal, grouping, numbers, Math.max(1, samples));
    }

    static boolean isNumber(String field, DecimalMark decimal, Grouping grouping) {
        byte[] b = field.getBytes(java.nio.charset.StandardCharsets.UTF_8);
        return new NumberText(decimal, grouping).read(b, 0, b.length);
    }

    static boolean isStamp(String field) {
        return Stamp.nanos(field).isPresent();
    }

    private static Layout heading(List<String> lines, List<Reading> best, CsvProblems problems) {
        Reading reading = best.get(0);
        List<List<String>> rows = reading.cut.rows;
        int first = 0;
        while (first < rows.size() && !isSample(rows.get(first), reading)) {
            first++;
        }
        if (first > DialectParser.MOST_PREAMBLE) {
            throw problems.fatal(
                    0,
                    0,
                    "more than " + DialectParser.MOST_PREAMBLE + " lines before the first sample;"
                            + " expected the notes of a logger, and samples. Cut them off.");
        }
        int above = first - 1;
        List<String> units = List.of();
        if (above > 0 && Heading.areUnits(rows.get(above)) && isNames(rows.get(above - 1), reading.cut.width)) {
            units = rows.get(above);
            above--;
        }
        boolean header = above >= 0 && isNames(rows.get(above), reading.cut.width);
        if (above >= 0 && !header) {
            refuseDecimalCommas(rows.get(above), above + 1, reading, problems);
        }
        List<String> names = header ? Heading.trimmed(rows.get(above)) : Heading.numbered(widthOf(rows, first));
        int preamble = header ? above : first;
        var found = new Heading(preamble, names, units, header ? above + 1 : 0);
        return new Layout(
                reading.format(header), found, lines.subList(0, preamble), because(reading, found, header), open(best));
    }

    private static int widthOf(List<List<String>> rows, int first) {
        List<String> row = rows.get(Math.min(first, rows.size() - 1));
        return Heading.trimmed(row).size();
    }

    private static boolean isSample(List<String> row, Reading reading) {
        long numbers = row.stream()
                .filter(f -> isNumber(f, reading.decimal, reading.grouping) || isStamp(f))
                .count();
        return numbers >= 2 && Math.abs(Heading.trimmed(row).size() - reading.cut.width) <= 1;
    }

    /** A row of as many fields, none a number, none empty. */
    private static boolean isNames(List<String> row, int width) {
        List<String> names = Heading.trimmed(row);
        return names.size() >= 2
                && names.size() == width
                && names.stream().noneMatch(n -> n.isEmpty() || n.matches("[-+]?[0-9][0-9.,'eE+-]*"));
    }

    /** {@code t,sin,cos} above {@code 0,001953,2961,3365}: nobody can cut that. */
    private static void refuseDecimalCommas(List<String> row, int line, Reading reading, CsvProblems problems) {
        int names = Heading.trimmed(row).size();
        boolean words = row.stream().allMatch(n -> n.matches("[\\p{L}].*"));
        if (reading.cut.delimiter == Delimiter.COMMA && words && names >= 2 && reading.cut.width > names) {
            throw problems.fatal(
                    line,
                    1,
                    "the header has " + names + " fields and the rows have " + reading.cut.width
                            + ": it looks as if commas separated fields and decimals as well, and nobody can tell them"
                            + " apart. Nothing was read. Let the logger write semicolons or tabs, or a decimal point.");
        }
    }

    private static List<String> because(Reading reading, Heading heading, boolean header) {
        List<String> because = new ArrayList<>();
        because.add(String.format(
                Locale.ROOT,
                "delimiter %s: it cuts %.0f %% of the lines into %d fields, of which %.0f %% are numbers or times",
                reading.cut.delimiter.word(),
                100 * reading.cut.even,
                reading.cut.width,
                100.0 * reading.numbers / reading.samples));
        if (reading.decimal == DecimalMark.COMMA) {
            because.add("decimal comma: read with a point, fewer fields are numbers");
        }
        if (reading.grouping != Grouping.NONE) {
            because.add("digits grouped by " + reading.grouping.word() + ": read without, fewer fields are numbers");
        }
        because.add(
                header
                        ? "header: line " + heading.line() + ", the last before the samples, has no number"
                        : "no header:"
                                + " the first line with numbers has none above it that names as many columns; they go by "
                                + heading.names().get(0) + ", …");
        if (heading.preamble() > 0) {
            because.add(heading.preamble() + (heading.preamble() == 1 ? " line" : " lines") + " before it left out");
        }
        if (!heading.units().isEmpty()) {
            because.add("units: line " + (heading.line() + 1) + " has nothing but units");
        }
        return because;
    }

    private static Optional<Open> open(List<Reading> best) {
        Set<DecimalMark> decimals = new LinkedHashSet<>();
        best.forEach(r -> decimals.add(r.decimal));
        boolean marks = best.get(0).cut.rows.stream()
                .flatMap(List::stream)
                .anyMatch(f -> f.matches("[-+]?[0-9]{1,3}([.,][0-9]{3})+"));
        return decimals.size() > 1 && marks && best.stream().noneMatch(r -> isPlain(r, best))
                ? Optional.of(new Open(
                        "whether '.' and ',' set off decimals or thousands: all numbers that have one have three digits"
                                + " behind it",
                        List.of("--decimal point", "--decimal comma")))
                : Optional.empty();
    }

    /** Whether another reading of the same lines gives every number another value never: there are no marks in it. */
    private static boolean isPlain(Reading reading, List<Reading> best) {
        return best.stream()
                .filter(r -> r.decimal != reading.decimal)
                .noneMatch(r -> samples(reading.cut.rows).stream()
                        .flatMap(List::stream)
                        .anyMatch(f -> valueOf(f, reading) != valueOf(f, r)));
    }

    private static double valueOf(String field, Reading reading) {
        byte[] b = field.getBytes(java.nio.charset.StandardCharsets.UTF_8);
        var number = new NumberText(reading.decimal, reading.grouping);
        return number.read(b, 0, b.length) ? number.value() : 0;
    }
}
