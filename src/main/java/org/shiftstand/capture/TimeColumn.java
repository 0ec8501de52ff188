package org.shiftstand.capture;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Pattern;
import org.shiftstand.capture.HeaderWord.Meaning;
import org.shiftstand.capture.TimeFrom.TimeUnit;

/** Finds where time is from. */
final class TimeColumn {
    /** Rates that are measured at are 128 Hz to 50 kHz; wide enough around them for a count that is a little off. */
    private static final double LEAST_HZ = 100;

    private static final double MOST_HZ = 65_000;

    /** A first time later than this, about 11 days, is no time since the logger was started. */
    private static final double EPOCH_S = 1e6;

    private static final Pattern RATE = Pattern.compile("(?i).*(rate|freq|hz|sampl).*\\d.*");

    private final Recogniser all;

    TimeColumn(Recogniser all) {
        this.all = all;
    }

    Optional<TimeFrom> find() {
        if (all.answers().rateHz().isPresent()) {
            return Optional.of(counted(all.answers().rateHz().getAsDouble()));
        }
        OptionalInt said = all.said(Column.TIME);
        if (said.isPresent()) {
            return read(said.getAsInt(), "as told with --column");
        }
        List<Integer> named = new ArrayList<>(all.named(Meaning.TIME, false));
        named.removeIf(i -> !isTime(i));
        if (named.size() == 1) {
            return read(named.get(0), "its header is a word for time");
        }
        if (named.size() > 1) {
            all.ask(
                    "which column is the time: " + names(named) + " all have a word for it",
                    all.choices(Column.TIME, named));
            return Optional.empty();
        }
        return byValues();
    }

    private boolean isTime(int i) {
        ColumnSurvey column = all.all().get(i);
        return column.isStamped() || (column.isNumeric() && !column.isConstant());
    }

    private String names(List<Integer> columns) {
        return String.join(
                ", ",
                columns.stream().map(i -> "'" + all.all().get(i).name + "'").toList());
    }

    private Optional<TimeFrom> byValues() {
        List<Integer> rising = new ArrayList<>();
        List<Integer> counts = new ArrayList<>();
        for (int i = 0; i < all.all().size(); i++) {
            ColumnSurvey column = all.all().get(i);
            Meaning meaning = column.word.meaning();
            if (column.isStamped()) {
                rising.add(i);
            } else if (column.rises() && meaning != Meaning.WINDOW) {
                (column.byOne || meaning == Meaning.COUNT ? counts : rising).add(i);
            }
        }
        if (rising.size() == 1) {
            return read(rising.get(0), "it is the only column that rises from row to row");
        }
        if (rising.size() > 1) {
            all.ask(
                    "which column is the time: " + names(rising) + " all rise from row to row",
                    all.choices(Column.TIME, rising));
            return Optional.empty();
        }
        for (int i : counts) {
            all.found(i, "count of samples", "it rises by one from row to row; seconds need the sample rate");
        }
        askForRate(counts);
        return Optional.empty();
    }

    private void askForRate(List<Integer> counts) {
        String hint = all.survey().layout().preamble().stream()
                .filter(line -> RATE.matcher(line).matches())
                .findFirst()
                .map(line -> " (a line above the header reads '" + CsvHeader.shown(line.strip()) + "')")
                .orElse("");
        Optional<ColumnSurvey> unread = all.all().stream()
                .filter(c -> c.word.meaning() == Meaning.TIME && !c.isNumeric() && !c.isStamped())
                .findFirst();
        if (unread.isPresent() && counts.isEmpty()) {
            all.ask(
                    "the time: '" + unread.get().name + "' holds neither numbers nor times such as"
                            + " 2026-09-14T08:15:00.001953Z or 08:15:00.001953. Let the logger write one of these, or count"
                            + " samples",
                    List.of("--rate HZ, such as --rate 512"));
            return;
        }
        all.ask(
                (counts.isEmpty()
                                ? "the sample rate: no column is a time"
                                : "the sample rate: " + names(counts) + " counts samples, and no column is a time")
                        + hint,
                List.of("--rate HZ, such as --rate 512"));
    }

    private TimeFrom counted(double rateHz) {
        List<Integer> counts = new ArrayList<>();
        for (int i = 0; i < all.all().size(); i++) {
            ColumnSurvey column = all.all().get(i);
            boolean named = column.word.meaning() == Meaning.COUNT
                    || (column.word.meaning() == Meaning.UNKNOWN && column.byOne);
            if (named && column.rises() && column.whole) {
                counts.add(i);
            }
        }
        String rate = "sample count over " + ColumnSurvey.plain(rateHz) + " Hz, as told with --rate";
        if (counts.size() == 1) {
            all.found(counts.get(0), Column.TIME.header(), "it counts samples from row to row; time is the " + rate);
            return new TimeFrom.Counted(Optional.of(all.all().get(counts.get(0)).name), rateHz);
        }
        all.note("rows are counted, none may be missing: time is the " + rate);
        return new TimeFrom.Counted(Optional.empty(), rateHz);
    }

    private Optional<TimeFrom> read(int i, String because) {
        ColumnSurvey column = all.all().get(i);
        if (column.isStamped()) {
            all.found(i, Column.TIME.header(), because + "; all its fields are dates or times of day");
            return Optional.of(new TimeFrom.Stamps(column.name));
        }
        if (!column.isNumeric()) {
            all.found(i, "not read", because + ", but it has fields that are neither numbers nor times");
            all.ask(
                    "the time: '" + column.name + "' has fields that are neither numbers nor times",
                    List.of("--column time_s=HEADER", "--rate HZ"));
            return Optional.empty();
        }
        return unit(i, column).map(found -> numbers(i, column, found, because));
    }

    private TimeFrom numbers(int i, ColumnSurvey column, Unit found, String because) {
        boolean epoch = Math.abs(column.first * found.unit.seconds()) >= EPOCH_S;
        double rate = 1 / (column.step() * found.unit.seconds());
        all.found(
                i,
                Column.TIME.header(),
                because + "; " + found.because
                        + String.format(
                                Locale.ROOT,
                                "; %s rises by %s, which is %.5g samples a second",
                                column.decreases > 0 ? "where it rises, it" : "it",
                                ColumnSurvey.plain(column.step()),
                                rate)
                        + (epoch ? "; " + epoch(column.first * found.unit.seconds()) : ""));
        return new TimeFrom.Numbers(column.name, found.unit, epoch);
    }

    private static String epoch(double seconds) {
        boolean likely = seconds > 0 && seconds < 1e10;
        return "it starts at " + String.format(Locale.ROOT, "%.0f", seconds) + " s"
                + (likely ? ", " + Instant.ofEpochSecond((long) seconds) + " if counted from 1970" : "")
                + ", so it is counted from the first sample, exactly";
    }

    private record Unit(TimeUnit unit, String because) {}

    private Optional<Unit> unit(int i, ColumnSurvey column) {
        Optional<Double> said = Optional.ofNullable(all.answers().scales().get(Column.TIME.header()));
        for (TimeUnit unit : TimeUnit.values()) {
            if (said.filter(s -> s == unit.seconds()).isPresent()) {
                return Optional.of(new Unit(unit, "in " + unit.word() + " as told with --scale"));
            }
        }
        if (said.isPresent()) {
            all.found(i, "not read", "its unit is not told");
            all.ask("the unit of time: a factor of " + said.get() + " is none of s, ms, us, ns", scales());
            return Optional.empty();
        }
        Optional<TimeUnit> written = column.word.unit().flatMap(HeaderWord::timeUnit);
        if (written.isPresent()) {
            return written(i, column, written.get());
        }
        if (column.word.unit().isPresent()) {
            all.found(i, "not read", "its unit is not told");
            all.ask(
                    "the unit of '" + column.name + "': '" + column.word.unit().get() + "' is no unit of time",
                    scales());
            return Optional.empty();
        }
        return byRate(i, column);
    }

    private Optional<Unit> written(int i, ColumnSurvey column, TimeUnit unit) {
        double rate = 1 / (column.step() * unit.seconds());
        if (rate >= LEAST_HZ / 2 && rate <= 2 * MOST_HZ) {
            return Optional.of(new Unit(unit, "in " + unit.word() + " as the header says"));
        }
        all.found(i, "not read", "its unit is not told");
        all.ask(
                String.format(
                        Locale.ROOT,
                        "the unit of '%s': the header says %s, but a step of %s would be %.4g samples a second",
                        column.name,
                        unit.word(),
                        ColumnSurvey.plain(column.step()),
                        rate),
                scales());
        return Optional.empty();
    }

    private Optional<Unit> byRate(int i, ColumnSurvey column) {
        List<TimeUnit> possible = new ArrayList<>();
        for (TimeUnit unit : TimeUnit.values()) {
            double rate = 1 / (column.step() * unit.seconds());
            if (rate >= LEAST_HZ && rate <= MOST_HZ) {
                possible.add(unit);
            }
        }
        if (possible.size() == 1 && !column.byOne) {
            return Optional.of(new Unit(
                    possible.get(0),
                    "in " + possible.get(0).word()
                            + ", since in s, ms, us, ns only that is a rate from 100 Hz to 65 kHz"));
        }
        all.found(i, "not read", "its unit is not told");
        List<String> options = new ArrayList<>(scales());
        options.add("--rate HZ where it counts samples");
        all.ask(
                "the unit of '" + column.name + "': the header says none, and it rises by "
                        + ColumnSurvey.plain(column.step()) + (column.byOne ? ", as a count of samples does" : ""),
                options);
        return Optional.empty();
    }

    private static List<String> scales() {
        return List.of(
                "--scale time_s=1 for s",
                "--scale time_s=0.001 for ms",
                "--scale time_s=1e-6 for us",
                "--scale time_s=1e-9 for ns");
    }
}
