package org.shiftstand.capture;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.shiftstand.document.BadInput;

/** Parses one capture of a dialect into a spool: what {@link CsvParser} does for the plain one. */
final class DialectParser implements CsvCapture.Parser {
    /** More lines before a header are no preamble of a logger. */
    static final int MOST_PREAMBLE = 1000;

    private final String file;
    private final Dialect dialect;
    private final Spool spool;
    private final CsvProblems problems;
    private final List<String> notices = new ArrayList<>();
    private final Bytes bytes;
    private final Fields fields;

    DialectParser(String file, InputStream text, Dialect dialect, Spool spool) {
        this.file = file;
        this.dialect = dialect;
        this.spool = spool;
        problems = new CsvProblems(file);
        bytes = new Bytes(text, problems);
        fields = new Fields(dialect.format().delimiter().mark());
    }

    @Override
    public long line() {
        return bytes.line;
    }

    @Override
    public SpooledSource.Parsed parse() throws IOException {
        if (!bytes.hasLine()) {
            throw problems.fatal(0, 0, "the file is empty; expected samples. Check that the logger wrote something.");
        }
        CsvEncoding.check(bytes, problems);
        List<String> names = dialect.format().header() ? header() : List.of();
        var present = new boolean[Column.COUNT];
        present[Column.TIME.index()] = true;
        dialect.columns().keySet().forEach(key -> present[index(key)] = true);
        var check = new RowCheck(CsvOptions.usual(), present.clone());
        var rows = new DialectRows(dialect, places(names), names.size(), check, problems, notices);
        if (!dialect.format().header()) {
            skipPreamble(rows);
        }
        StagedRows.spool(present, bytes, rows, check, spool);
        present[Column.REQUEST.index()] = false; // not spooled: a request is an event
        problems.throwIfAny();
        check.whole(problems);
        problems.throwIfAny();
        rows.notices();
        notices.addAll(check.notices());
        var scale = new double[Column.COUNT];
        Arrays.fill(scale, 1); // the rows have been scaled, exactly
        return new SpooledSource.Parsed(spool, present, scale, check.intervalS(), check.requests(), notices);
    }

    private static int index(String header) {
        return Column.named(header).orElseThrow().index();
    }

    /** Every header that the dialect names. */
    static Set<String> wanted(Dialect dialect) {
        Set<String> wanted = new LinkedHashSet<>();
        dialect.time().match(new TimeFrom.Cases<Boolean>() {
            @Override
            public Boolean numbers(TimeFrom.Numbers from) {
                return wanted.add(from.column());
            }

            @Override
            public Boolean stamps(TimeFrom.Stamps from) {
                return wanted.add(from.column());
            }

            @Override
            public Boolean counted(TimeFrom.Counted from) {
                return from.column().map(wanted::add).orElse(false);
            }
        });
        dialect.columns().values().forEach(from -> {
            wanted.add(from.column());
            from.minus().ifPresent(wanted::add);
        });
        return wanted;
    }

    private List<String> header() throws IOException {
        Set<String> wanted = wanted(dialect);
        List<String> nearest = List.of();
        long nearestLine = 0;
        long shared = -1;
        int skipped = 0;
        while (bytes.hasLine() && skipped <= MOST_PREAMBLE) {
            fields.split(bytes.buffer, bytes.position, bytes.limit);
            List<String> names = fields.texts(bytes.buffer);
            long line = bytes.line;
            bytes.nextLine(fields.end());
            if (names.containsAll(wanted)) {
                refuseTwice(names, wanted, line);
                if (skipped > 0) {
                    notices.add(skipped + (skipped == 1 ? " line" : " lines") + " before the header left out");
                }
                skipUnits();
                return Heading.trimmed(names);
            }
            long found = names.stream().distinct().filter(wanted::contains).count();
            if (found > shared) {
                shared = found;
                nearest = names;
                nearestLine = line;
            }
            skipped++;
        }
        throw noHeader(wanted, nearest, nearestLine, shared);
    }

    private BadInput noHeader(Set<String> wanted, List<String> nearest, long line, long shared) {
        List<String> missing =
                wanted.stream().filter(name -> !nearest.contains(name)).toList();
        if (shared <= 0) {
            return problems.fatal(
                    0,
                    0,
                    "no header row with " + quoted(wanted) + " by "
                            + dialect.format().delimiter().word()
                            + "s; the mapping " + dialect.name()
                            + " is of another logger. Find its own: shiftstand import --dry-run " + file);
        }
        return problems.fatal(
                line,
                1,
                "no column " + quoted(missing) + ", which the mapping " + dialect.name() + " names; found "
                        + CsvHeader.shown(String.join(", ", nearest)) + "."
                        + Nearest.hint(missing.get(0), nearest)
                        + " Correct the mapping, or find another: shiftstand import --dry-run " + file);
    }

    private static String quoted(Iterable<String> names) {
        List<String> all = new ArrayList<>();
        names.forEach(name -> all.add("'" + CsvHeader.shown(name) + "'"));
        return String.join(", ", all);
    }

    private void refuseTwice(List<String> names, Set<String> wanted, long line) {
        for (String name : wanted) {
            if (names.indexOf(name) != names.lastIndexOf(name)) {
                throw problems.fatal(
                        line,
                        1,
                        "the header '" + CsvHeader.shown(name) + "' stands twice (fields " + (names.indexOf(name) + 1)
                                + " and " + (names.lastIndexOf(name) + 1)
                                + "); expected each name once. Rename one of them.");
            }
        }
    }

    private void skipUnits() throws IOException {
        if (!bytes.hasLine()) {
            return;
        }
        fields.split(bytes.buffer, bytes.position, bytes.limit);
        if (Heading.areUnits(fields.texts(bytes.buffer))) {
            bytes.nextLine(fields.end());
            notices.add("the row of units below the header left out");
        }
    }

    private void skipPreamble(DialectRows rows) throws IOException {
        int skipped = 0;
        while (bytes.hasLine() && skipped <= MOST_PREAMBLE && !rows.isSample(bytes)) {
            fields.split(bytes.buffer, bytes.position, bytes.limit);
            bytes.nextLine(fields.end());
            skipped++;
        }
        if (skipped > 0) {
            notices.add(skipped + (skipped == 1 ? " line" : " lines") + " before the first sample left out");
        }
    }

    private Map<String, Integer> places(List<String> names) {
        Map<String, Integer> places = new HashMap<>();
        if (dialect.format().header()) {
            for (int i = 0; i < names.size(); i++) {
                places.putIfAbsent(names.get(i), i);
            }
            return places;
        }
        for (String name : wanted(dialect)) {
            int number = name.matches("column-[1-9]\\d{0,3}") ? Integer.parseInt(name.substring(7)) : 0;
            if (number == 0) {
                throw problems.fatal(
                        0,
                        0,
                        "the mapping " + dialect.name() + " has no header row but the column '" + CsvHeader.shown(name)
                                + "'; expected column-1, column-2, … in order of the fields");
            }
            places.put(name, number - 1);
        }
        return places;
    }
}
