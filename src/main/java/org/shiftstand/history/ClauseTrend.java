package org.shiftstand.history;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeMap;
import org.shiftstand.history.History.Asked;
import org.shiftstand.history.History.Point;
import org.shiftstand.stats.Capability;
import org.shiftstand.stats.Ewma;
import org.shiftstand.stats.Sample;

/**
 * How the value of one clause went from run to run: of each run the value of its worst group.
 *
 * @param unit what the values are measured in
 * @param atLeast bound in the last run
 * @param atMost likewise
 * @param points of runs with a value, in order of time
 * @param notMeasured runs without a value
 * @param chart exponentially weighted moving average; empty where there are too few values, or they are all alike
 * @param whyNoChart why there is none; empty where there is one
 * @param firstOutside unit of the first run at which the average is outside of its limits; empty where none is
 * @param weeks capability by ISO week of the runs whose date is known
 */
public record ClauseTrend(
        String id,
        String unit,
        OptionalDouble atLeast,
        OptionalDouble atMost,
        List<Point> points,
        int notMeasured,
        Optional<Chart> chart,
        String whyNoChart,
        String firstOutside,
        List<Week> weeks) {
    /** λ and k of NIST/SEMATECH e-Handbook 6.3.2.4, which names 0.2 to 0.3, and 3. */
    static final double WEIGHT = 0.2;

    static final double WIDTH = 3;

    /** The first runs say what is usual: NIST/SEMATECH e-Handbook 6.3.2.4 takes it from past data; how many, is our choice. */
    static final int BASELINE = 20;

    /** Fewest values in a week for a standard deviation that says something; common practice, no published source. */
    static final int FEWEST_IN_WEEK = 8;

    private static final long DAY_MICROS = 86_400_000_000L;

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

    static ClauseTrend of(String id, History history, Filter filter) throws SQLException {
        List<Point> points = history.points(id, filter);
        double[] values = new double[points.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = points.get(i).value();
        }
        String why = "";
        Optional<Chart> chart = Optional.empty();
        if (values.length < BASELINE + 1) {
            why = values.length + (values.length == 1 ? " run has" : " runs have") + " a value; a chart needs "
                    + (BASELINE + 1) + ", the first " + BASELINE + " of which say what is usual";
        } else {
            double sd = sd(Arrays.copyOf(values, BASELINE));
            if (sd > 0) {
                chart = Optional.of(chart(values, sd));
            } else {
                why = "the first " + BASELINE + " runs all have the same value, so nothing says what is usual";
            }
        }
        Asked asked = values.length == 0
                ? new Asked("", OptionalDouble.empty(), OptionalDouble.empty())
                : history.asked(id, points.get(values.length - 1).run());
        String left = chart.isPresent() && chart.get().firstOutside().isPresent()
                ? history.unitOf(
                        points.get(chart.get().firstOutside().getAsInt()).run())
                : "";
        return new ClauseTrend(
                id,
                asked.unit(),
                asked.atLeast(),
                asked.atMost(),
                points,
                history.notMeasured(id, filter),
                chart,
                why,
                left,
                weeks(id, history, points));
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

    private static List<Week> weeks(String id, History history, List<Point> points) throws SQLException {
        Map<String, List<Point>> byWeek = new TreeMap<>();
        List<Point> now = List.of();
        long until = Long.MIN_VALUE; // points come in order of time: their week is looked up once a day
        for (Point point : points) {
            if (point.startedMicros().isPresent()) {
                long at = point.startedMicros().getAsLong();
                if (at >= until) {
                    now = byWeek.computeIfAbsent(Trend.week(at), w -> new ArrayList<>());
                    until = (Math.floorDiv(at, DAY_MICROS) + 1) * DAY_MICROS;
                }
                now.add(point);
            }
        }
        List<Week> weeks = new ArrayList<>();
        for (Map.Entry<String, List<Point>> each : byWeek.entrySet()) {
            List<Point> own = each.getValue();
            weeks.add(week(
                    each.getKey(),
                    own,
                    history.asked(id, own.get(0).run()),
                    history.asked(id, own.get(own.size() - 1).run())));
        }
        return weeks;
    }

    private static Week week(String week, List<Point> points, Asked first, Asked last) {
        double[] values = points.stream().mapToDouble(Point::value).toArray();
        double mean = mean(values);
        if (values.length < 2) {
            return new Week(week, values.length, mean, OptionalDouble.empty(), Optional.empty(), "one run only");
        }
        double sd = sd(values);
        double low = last.atLeast().orElse(Double.NEGATIVE_INFINITY);
        double high = last.atMost().orElse(Double.POSITIVE_INFINITY);
        boolean oneBound = first.equals(last);
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
