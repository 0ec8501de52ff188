package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.quantity.Direction;

/** Checks what the numbers of a row must be, and keeps what a capture says once: interval, requests, range. */
final class RowCheck {
    private static final int DIFFERENCES = 1 << 16;

    private final boolean[] present;
    private final double timeScale;
    private final double[] least = new double[2];
    private final double[] most = new double[2];
    private double[] differences = new double[1024];
    private long rows;
    private long repeated;
    private boolean kept;
    private double last;
    /** By column, of the last row of the stage before. */
    private final double[] lastValue = new double[Column.COUNT];

    private double lastRequest;
    private final List<Mark> marks = new ArrayList<>();

    /** A mark on the sample at {@code timeS}, the sample before it at {@code beforeS}. */
    private record Mark(double timeS, double beforeS, Direction direction) {}

    RowCheck(CsvOptions options, boolean[] present) {
        this.present = present;
        timeScale = options.scale(Column.TIME);
        Arrays.fill(least, Double.POSITIVE_INFINITY);
        Arrays.fill(most, Double.NEGATIVE_INFINITY);
    }

    /** Why a row cannot be used: the column, and what is wrong with it. */
    record Refusal(Column column, String text) {}

    /** Checks the row that is staged; empty where it is good. */
    Optional<Refusal> row(RowStage stage) {
        int i = stage.rows;
        double time = stage.value[Column.TIME.index()][i] * timeScale;
        double before = last;
        last = time; // also of a refused row: one jump is reported once
        kept = true;
        if (rows > 0 && !(time > before)) {
            if (time == before && repeatsTheLast(stage)) {
                repeated++;
                kept = false;
                return Optional.empty();
            }
            return Optional.of(new Refusal(Column.TIME, backwards(time, before)));
        }
        if (rows > 0 && rows <= DIFFERENCES) {
            keep(time - before);
        }
        if (present[Column.POWER.index()] && !isBit(stage.value[Column.POWER.index()][i])) {
            return refusal(stage, Column.POWER, "0 or 1");
        }
        if (present[Column.WINDOW.index()] && !isWhole(stage.value[Column.WINDOW.index()][i])) {
            return refusal(stage, Column.WINDOW, "a whole number");
        }
        if (present[Column.REQUEST.index()] && !request(stage.value[Column.REQUEST.index()][i], time, before)) {
            return refusal(stage, Column.REQUEST, "-1, 0 or 1");
        }
        range(0, stage.value[Column.SIN.index()][i]);
        range(1, stage.value[Column.COS.index()][i]);
        rows++;
        return Optional.empty();
    }

    /** False where the row checked last is the one before it once more, and is to be left out. */
    boolean kept() {
        return kept;
    }

    private boolean repeatsTheLast(RowStage stage) {
        int row = stage.rows;
        for (int c = 0; c < present.length; c++) {
            if (present[c]) {
                double before = row == 0 ? lastValue[c] : stage.value[c][row - 1];
                if (Double.doubleToRawLongBits(stage.value[c][row]) != Double.doubleToRawLongBits(before)) {
                    return false;
                }
            }
        }
        return true;
    }

    /** Keeps the last row of a stage, with which the first of the next is compared. */
    void lastOf(RowStage stage) {
        for (int c = 0; c < present.length && stage.rows > 0; c++) {
            if (present[c]) {
                lastValue[c] = stage.value[c][stage.rows - 1];
            }
        }
    }

    /** What was left out. */
    List<String> notices() {
        return repeated == 0
                ? List.of()
                : List.of(repeated + (repeated == 1 ? " repeated row" : " repeated rows")
                        + " left out: time and all values were those of the row before");
    }

    private void keep(double difference) {
        if (rows > differences.length) {
            differences = Arrays.copyOf(differences, differences.length * 2);
        }
        differences[(int) rows - 1] = difference;
    }

    private static String backwards(double time, double last) {
        String values = "(" + seconds(time) + " s after " + seconds(last) + " s)";
        if (time == last) {
            return "time stands still " + values
                    + " with other values; times must increase. Nothing was measured. Check the logger's clock and its"
                    + " number of decimals, or count samples instead: shiftstand import --rate HZ.";
        }
        return "time goes back by " + String.format(Locale.ROOT, "%.2f", (last - time) * 1e3) + " ms " + values
                + "; times must increase. Nothing was measured. Check the logger's clock, or cut the file before this"
                + " line.";
    }

    private static String seconds(double s) {
        return String.format(Locale.ROOT, "%.6f", s);
    }

    private boolean request(double mark, double time, double before) {
        if (mark != 0 && mark != 1 && mark != -1) {
            return false;
        }
        if (mark != 0 && mark != lastRequest) { // held over several samples it is still one request
            marks.add(new Mark(time, rows == 0 ? Double.NEGATIVE_INFINITY : before, Direction.of(mark)));
        }
        lastRequest = mark;
        return true;
    }

    private static Optional<Refusal> refusal(RowStage stage, Column column, String expected) {
        double value = stage.value[column.index()][stage.rows];
        return Optional.of(new Refusal(
                column,
                column.header() + " is " + value + "; expected " + expected
                        + ". Nothing was measured. Repair the row, or map another column with --column."));
    }

    private static boolean isBit(double value) {
        return value == 0 || value == 1;
    }

    private static boolean isWhole(double value) {
        return value == (int) value;
    }

    private void range(int k, double value) {
        least[k] = Math.min(least[k], value);
        most[k] = Math.max(most[k], value);
    }

    /** What only the whole file can tell. */
    void whole(CsvProblems problems) {
        if (rows == 0) {
            throw problems.fatal(
                    0,
                    0,
                    "the file has a header but no samples; expected one row a sample. Check that the" + " logger ran.");
        }
        if (rows == 1) {
            throw problems.fatal(0, 0, "the file has one sample only; expected at least two, a motion needs hundreds.");
        }
        Column[] hall = {Column.SIN, Column.COS};
        for (int k = 0; k < 2; k++) {
            if (least[k] == most[k]) {
                problems.add(
                        0,
                        0,
                        hall[k].header() + " is " + least[k] + " in all " + rows
                                + " samples; expected a Hall output that changes while the shaft turns. Nothing was measured."
                                + " Check its wiring, or name the right column with --column " + hall[k].header()
                                + "=HEADER.");
            }
        }
    }

    /** Median difference of neighbours, made finer by the mean of all differences within 5 % of it. */
    double intervalS() {
        double[] sorted = Arrays.copyOf(differences, (int) Math.min(rows - 1, DIFFERENCES));
        Arrays.sort(sorted);
        double median = sorted[sorted.length / 2];
        double sum = 0;
        int n = 0;
        for (double difference : sorted) {
            if (Math.abs(difference - median) <= 0.05 * median) {
                sum += difference;
                n++;
            }
        }
        return sum / n;
    }

    /** Marks placed between samples: at the middle of neighbours, half an interval before the first of a stretch. */
    List<Request> requests() {
        double interval = intervalS();
        return marks.stream().map(m -> request(m, interval)).toList();
    }

    private static Request request(Mark mark, double interval) {
        boolean neighbours = mark.timeS - mark.beforeS <= 1.5 * interval;
        double timeS = neighbours ? (mark.timeS + mark.beforeS) / 2 : mark.timeS - interval / 2;
        return new Request(
                timeS,
                Optional.of(mark.direction),
                OptionalInt.empty(),
                OptionalInt.empty(),
                OptionalInt.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                false);
    }
}
