package org.shiftstand.classification;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.sim.ShiftTruth;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.Selection;
import org.shiftstand.spec.Spec;

/**
 * Holds the noise-free truth of a run against the bounds of a spec. Own arithmetic from the definitions: calls nothing that
 * decodes, measures or evaluates, so that a mistake there cannot confirm itself. A clause of a kind it does not know is
 * refused, not left out.
 */
final class TruthJudge {
    private final Profile profile;
    private final Spec spec;
    /** True angle that the spec's angles are counted from, degrees. */
    private final double originDeg;

    private double worst = Double.NEGATIVE_INFINITY;
    private String worstWords = "";

    private TruthJudge(Spec spec, Profile profile, double originDeg) {
        this.spec = spec;
        this.profile = profile;
        this.originDeg = originDeg;
    }

    /** Shifts before the first cycle bring the unit home; no clause is about them. */
    static Truth judge(Spec spec, Profile profile, List<ShiftTruth> shifts) {
        List<ShiftTruth> made = shifts.stream().filter(s -> s.cycle() > 0).toList();
        TruthJudge fromOrigin = new TruthJudge(spec, profile, 0).all(made);
        TruthJudge aligned = new TruthJudge(spec, profile, alignedOriginDeg(profile, made)).all(made);
        return new Truth(aligned.worst, fromOrigin.worst, aligned.worstWords);
    }

    private TruthJudge all(List<ShiftTruth> shifts) {
        for (Clause clause : spec.clauses()) {
            clause(
                    clause,
                    shifts.stream().filter(s -> selects(clause.where(), s)).toList());
        }
        return this;
    }

    /**
     * Where a run's angles begin that are aligned by their own landings: median over sprockets of the mean of both
     * directions' mean landings less the nominal position; 0 without any landing.
     */
    static double alignedOriginDeg(Profile profile, List<ShiftTruth> shifts) {
        double[] offsets = IntStream.rangeClosed(1, profile.sprockets())
                .mapToObj(sprocket -> Stream.of(Direction.values())
                        .map(direction -> shifts.stream()
                                .filter(s -> s.to() == sprocket && s.direction() == direction)
                                .filter(s -> s.outcome().equals("landed"))
                                .mapToDouble(s -> s.landingDeg().orElseThrow() - profile.positionDeg(sprocket))
                                .average())
                        .flatMapToDouble(OptionalDouble::stream)
                        .average())
                .flatMapToDouble(OptionalDouble::stream)
                .toArray();
        return offsets.length == 0 ? 0 : percentile(offsets, 0.5);
    }

    static boolean selects(Selection where, ShiftTruth s) {
        if (!where.step().isEmpty() || !where.supplyV().isEmpty()) {
            throw new UnsupportedOperationException("truth knows neither step nor supply of a shift");
        }
        return where.direction().map(d -> d == s.direction()).orElse(true)
                && in(where.from(), s.from())
                && in(where.to(), s.to())
                && in(where.cycle(), s.cycle());
    }

    static boolean in(List<Selection.Range> ranges, int x) {
        return ranges.isEmpty() || ranges.stream().anyMatch(r -> r.low() <= x && x <= r.high());
    }

    private void clause(Clause clause, List<ShiftTruth> shifts) {
        if (clause.outcome().isPresent()) {
            count(clause, shifts);
            return;
        }
        Map<String, List<Double>> groups = new TreeMap<>();
        for (ShiftTruth s : shifts) {
            OptionalDouble value = value(clause.measureKey(), s);
            if (value.isPresent()) {
                groups.computeIfAbsent(group(clause, s), g -> new ArrayList<>()).add(value.getAsDouble());
            }
        }
        groups.forEach((group, values) ->
                values(clause, group, values.stream().mapToDouble(v -> v).toArray()));
    }

    private void count(Clause clause, List<ShiftTruth> shifts) {
        Clause.OutcomeTest test = clause.outcome().orElseThrow();
        if (!clause.statistic().kind().word().equals("count") || !clause.per().isEmpty()) {
            throw new UnsupportedOperationException("outcomes other than counted over the run: " + clause.id());
        }
        long n = shifts.stream()
                .filter(s -> test.outcomes().stream().anyMatch(o -> o.word().equals(s.outcome())) != test.negated())
                .count();
        found(clause, "", n, 0);
    }

    private void values(Clause clause, String group, double[] x) {
        double width = width(clause.measureKey());
        String statistic = clause.statistic().kind().word();
        if (statistic.equals("every")) {
            for (double value : x) {
                found(clause, group, value, width);
            }
            return;
        }
        if (statistic.equals("standard-deviation") && x.length < 2) {
            return; // has no value
        }
        double value = switch (statistic) {
            case "minimum" -> Arrays.stream(x).min().orElseThrow();
            case "maximum" -> Arrays.stream(x).max().orElseThrow();
            case "mean" -> mean(x);
            case "standard-deviation" -> standardDeviation(x);
            case "percentile" -> percentile(x, clause.statistic().fraction());
            default -> throw new UnsupportedOperationException(statistic + " of clause " + clause.id());
        };
        found(clause, group, value, width);
    }

    /** @param width what a measurement of it may be off; 0 for a count: infinitely far outside or inside */
    private void found(Clause clause, String group, double value, double width) {
        double outside = outside(clause, value);
        double beyond = width > 0 ? outside / width : outside > 0 ? Double.POSITIVE_INFINITY : Double.NEGATIVE_INFINITY;
        if (beyond > worst) {
            worst = beyond;
            worstWords = (clause.id() + " " + group).strip() + ": " + words(clause, outside);
        }
    }

    private static String words(Clause clause, double outside) {
        double size = Math.abs(outside);
        String amount = switch (clause.measureKey()) {
            case "outcome" -> String.format(Locale.ROOT, "%.0f shifts", size);
            case "hold", "travel-time", "settle-time" -> String.format(Locale.ROOT, "%.1f ms", 1000 * size);
            case "peak-current" -> String.format(Locale.ROOT, "%.2f A", size);
            default -> String.format(Locale.ROOT, "%.2f deg", size);
        };
        return amount + (outside > 0 ? " outside" : " inside");
    }

    /** Above zero beyond a bound, in the base unit. */
    private static double outside(Clause clause, double value) {
        double below = clause.bound().atLeast().orElse(Double.NEGATIVE_INFINITY) - value;
        double above = value - clause.bound().atMost().orElse(Double.POSITIVE_INFINITY);
        return Math.max(below, above);
    }

    private static double width(String measure) {
        return switch (measure) {
            case "hold", "travel-time", "settle-time" -> Truth.TIME_S;
            case "peak-current" -> Truth.CURRENT_A;
            default -> Truth.ANGLE_DEG;
        };
    }

    private OptionalDouble value(String measure, ShiftTruth s) {
        return switch (measure) {
            case "landing" -> s.landingDeg();
            case "landing-error" ->
                s.landingDeg().isPresent()
                        ? OptionalDouble.of(s.landingDeg().getAsDouble() - originDeg - profile.positionDeg(s.to()))
                        : OptionalDouble.empty();
            case "overtravel" -> s.overtravelDeg();
            case "hold" -> s.holdS();
            case "ringing" -> s.ringingDeg();
            case "return-ringing" -> s.returnRingingDeg();
            case "travel-time" -> s.travelTimeS();
            case "settle-time" -> s.settleTimeS();
            case "clearance" ->
                s.clearanceDeg().isPresent()
                        ? OptionalDouble.of(s.clearanceDeg().getAsDouble()
                                + originDeg * s.direction().sign())
                        : OptionalDouble.empty();
            case "creep" -> s.creepDeg();
            case "peak-current" -> OptionalDouble.of(s.peakCurrentA());
            default -> throw new UnsupportedOperationException("truth of " + measure + " in spec " + spec.name());
        };
    }

    private static String group(Clause clause, ShiftTruth s) {
        return clause.per().stream().map(per -> group(per, s)).collect(Collectors.joining(" "));
    }

    private static String group(Per per, ShiftTruth s) {
        return switch (per) {
            case SPROCKET -> String.valueOf(s.to());
            case PAIR -> s.from() + "→" + s.to();
            case DIRECTION -> s.direction().word();
            case CYCLE -> "cycle " + s.cycle();
            case EACH -> "shift " + s.number();
        };
    }

    private static double mean(double[] x) {
        return Arrays.stream(x).sum() / x.length;
    }

    private static double standardDeviation(double[] x) {
        double mean = mean(x);
        return Math.sqrt(Arrays.stream(x).map(v -> (v - mean) * (v - mean)).sum() / (x.length - 1));
    }

    /** Linear interpolation at (n − 1)p. */
    private static double percentile(double[] x, double p) {
        double[] sorted = x.clone();
        Arrays.sort(sorted);
        double at = (sorted.length - 1) * p;
        int low = (int) Math.floor(at);
        int high = Math.min(low + 1, sorted.length - 1);
        return sorted[low] + (at - low) * (sorted[high] - sorted[low]);
    }
}
