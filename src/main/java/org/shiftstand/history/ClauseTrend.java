package org.shiftstand.history;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeMap;
import org.shiftstand.history.History.Point;
import org.shiftstand.stats.Capability;
import org.shiftstand.stats.Ewma;
import org.shiftstand.stats.Sample;

/**
 * How the value of one clause went from run to run: of each run the value of its worst group.
 *
 * @param unit what the values are measured in
 * @param points of runs with a value, in order of time
 * @param notMeasured runs without a value
 * @param chart exponentially weighted moving average; empty where there are too few values, or they are all alike
 * @param whyNoChart why there is none; empty where there is one
 * @param weeks capability by ISO week of the runs whose date is known
 */
public record ClauseTrend(
        String id,
        String unit,
        List<Point> points,
        int notMeasured,
        Optional<Chart> chart,
        String whyNoChart,
        List<Week> weeks) {
    /** λ and k of NIST/SEMATECH e-Handbook 6.3.2.4, which names 0.2 to 0.3, and 3. */
    static final double WEIGHT = 0.2;

    static final double WIDTH = 3;

    /** The first runs say what is usual: NIST/SEMATECH e-Handbook 6.3.2.4 takes it from past data; how many, is our choice. */
    static final int BASELINE = 20;

    /** Fewest values in a week for a standard deviation that says something; common practice, no published source. */
    static final int FEWEST_IN_WEEK = 8;

    /**
     * The chart.
     *
     * @param target mean of the first runs
     * @param sd standard deviation of the first runs
     * @param means after each point
     * @param reach half the distance of the limits, once there are many values
     * @param firstOutside place of the first point outside, from 0
     */
    public record Chart(double target, double sd, double[] means, double reach, OptionalInt firstOutside) {}

    /**
     * One week.
     *
     * @param capability empty where it cannot be told
     * @param why it cannot be told; empty where it can
     */
    public record Week(
            String week, int n, double mean, OptionalDouble sd, Optional<Capability> capability, String why) {}

    static ClauseTrend of(String id, List<Point> all) {
        List<Point> points = all.stream().filter(p -> p.value().isPresent()).toList();
        String unit = points.isEmpty() ? "" : points.get(points.size() - 1).measuredIn();
        double[] values =
                points.stream().mapToDouble(p -> p.value().getAsDouble()).toArray();
        String why = "";
        Optional<Chart> chart = Optional.empty();
        if (values.length < BASELINE + 1) {
            why = values.length + " runs have a value; a chart needs " + (BASELINE + 1) + ", the first " + BASELINE
                    + " of which say what is usual";
        } else {
            double sd = sd(Arrays.copyOf(values, BASELINE));
            if (sd > 0) {
                chart = Optional.of(chart(values, sd));
            } else {
                why = "the first " + BASELINE + " runs all have the same value, so nothing says what is usual";
            }
        }
        return new ClauseTrend(id, unit, points, all.size() - points.size(), chart, why, weeks(points));
    }

    private static Chart chart(double[] values, double sd) {
        double target = mean(Arrays.copyOf(values, BASELINE));
        Ewma ewma = Ewma.of(values, target, sd, WEIGHT, WIDTH);
        return new Chart(target, sd, ewma.means(), ewma.reach(), ewma.firstOutside());
    }

    private static double mean(double[] values) {
        return Sample.of(values).mean().orElse(Double.NaN);
    }

    private static double sd(double[] values) {
        return Sample.of(values).standardDeviation().orElse(0);
    }

    private static List<Week> weeks(List<Point> points) {
        Map<String, List<Point>> byWeek = new TreeMap<>();
        for (Point point : points) {
            if (point.startedMicros().isPresent()) {
                byWeek.computeIfAbsent(Trend.week(point.startedMicros()), w -> new ArrayList<>())
                        .add(point);
            }
        }
        return byWeek.entrySet().stream()
                .map(e -> week(e.getKey(), e.getValue()))
                .toList();
    }

    private static Week week(String week, List<Point> points) {
        double[] values =
                points.stream().mapToDouble(p -> p.value().getAsDouble()).toArray();
        double mean = mean(values);
        if (values.length < 2) {
            return new Week(week, values.length, mean, OptionalDouble.empty(), Optional.empty(), "one run only");
        }
        double sd = sd(values);
        Point last = points.get(points.size() - 1);
        double low = last.atLeast().orElse(Double.NEGATIVE_INFINITY);
        double high = last.atMost().orElse(Double.POSITIVE_INFINITY);
        boolean oneBound = points.stream()
                .allMatch(p -> p.atLeast().equals(last.atLeast()) && p.atMost().equals(last.atMost()));
        String why = values.length < FEWEST_IN_WEEK
                ? values.length + " runs; expected " + FEWEST_IN_WEEK + " or more"
                : !oneBound
                        ? "the bound changed within the week"
                        : Double.isInfinite(low) && Double.isInfinite(high)
                                ? "the clause has no bound in numbers"
                                : sd > 0 ? "" : "all values are the same";
        return new Week(
                week,
                values.length,
                mean,
                OptionalDouble.of(sd),
                why.isEmpty()
                        ? Optional.of(new Capability(mean, sd, values.length, values.length - 1, low, high))
                        : Optional.empty(),
                why);
    }
}
