package org.shiftstand.capture;

import java.util.Arrays;
import java.util.Locale;

/** What the values of one column are like over the whole file; fixed size. */
final class ColumnSurvey {
    private static final int STEPS = 4096;

    final String name;
    final HeaderWord word;
    long rows;
    long numbers;
    long blanks;
    long stamps;
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    long atLeast;
    long atMost;
    double first;
    double last;
    long decreases;
    long standstills;
    boolean whole = true;
    boolean byOne = true;
    int decimals;
    int leastDecimals = Integer.MAX_VALUE;
    /** The first two values that differ, and whether there is a third. */
    private double one = Double.NaN;

    private double two = Double.NaN;
    private boolean more;
    private boolean marks = true;
    private final double[] steps = new double[STEPS];
    private int stepCount;
    private long lastMantissa;
    private int lastDecimals = -1;

    ColumnSurvey(String name, HeaderWord word) {
        this.name = name;
        this.word = word;
    }

    void blank() {
        rows++;
        blanks++;
    }

    void stamp() {
        rows++;
        stamps++;
    }

    void text() {
        rows++;
    }

    void number(NumberText read) {
        double value = read.value();
        rows++;
        if (numbers > 0) {
            step(read, value);
        } else {
            first = value;
        }
        numbers++;
        last = value;
        lastMantissa = read.mantissa();
        lastDecimals = read.isExact() ? read.decimals() : -1;
        whole &= value == Math.rint(value);
        marks &= value == 0 || value == 1 || value == -1;
        decimals = Math.max(decimals, read.isExact() ? read.decimals() : 0);
        leastDecimals = Math.min(leastDecimals, read.isExact() ? read.decimals() : 0);
        extremes(value);
        if (Double.isNaN(one)) {
            one = value;
        } else if (value != one && Double.isNaN(two)) {
            two = value;
        } else if (value != one && value != two) {
            more = true;
        }
    }

    private void extremes(double value) {
        if (value < least) {
            least = value;
            atLeast = 0;
        }
        if (value > most) {
            most = value;
            atMost = 0;
        }
        atLeast += value == least ? 1 : 0;
        atMost += value == most ? 1 : 0;
    }

    private void step(NumberText read, double value) {
        // an epoch in nanoseconds is no double: its steps are told from the digits
        boolean exact = read.isExact() && read.decimals() == lastDecimals && lastDecimals <= 22;
        double step = exact ? (read.mantissa() - lastMantissa) / Decimal.POWERS[lastDecimals] : value - last;
        decreases += step < 0 ? 1 : 0;
        standstills += step == 0 ? 1 : 0;
        byOne &= step == 1;
        if (stepCount < STEPS) {
            steps[stepCount++] = step;
        }
    }

    boolean isNumeric() {
        return numbers >= 2 && numbers + blanks == rows && numbers * 2 > rows;
    }

    boolean isStamped() {
        return stamps >= 2 && stamps + blanks == rows;
    }

    boolean isConstant() {
        return Double.isNaN(two);
    }

    /** Rises all along, but for rows repeated. */
    boolean rises() {
        return isNumeric() && blanks == 0 && !isConstant() && decreases == 0 && standstills * 2 < numbers;
    }

    boolean isTwoLevel() {
        return isNumeric() && !isConstant() && !more;
    }

    boolean isMarks() {
        return isNumeric() && marks;
    }

    /** Median of the steps that are not 0, of the first few thousand; NaN without any. */
    double step() {
        double[] some =
                Arrays.stream(steps, 0, stepCount).filter(s -> s != 0).sorted().toArray();
        return some.length == 0 ? Double.NaN : some[some.length / 2];
    }

    String range() {
        return plain(least) + " to " + plain(most);
    }

    static String plain(double value) {
        return value == Math.rint(value) && Math.abs(value) < 1e15
                ? Long.toString((long) value)
                : String.format(Locale.ROOT, "%.6g", value);
    }
}
