package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import org.apache.commons.math3.distribution.TDistribution;
import org.apache.commons.math3.util.CombinatoricsUtils;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.stats.ConfidenceLimits;

/** Learns one row of the table from its shifts. */
final class RowLearner {
    /** Measures that a row carries, beside overtravel. */
    static final List<Measure> MEASURES = List.of(
            Measure.LANDING,
            Measure.RINGING,
            Measure.RETURN_RINGING,
            Measure.HOLD,
            Measure.REST_HOLD,
            Measure.TRAVEL_TIME,
            Measure.SETTLE_TIME,
            Measure.CREEP,
            Measure.WAKE_UP_ERROR,
            Measure.PEAK_CURRENT,
            Measure.CHARGE,
            Measure.ENERGY);

    private final LearnOptions options;
    private final Map<Measure, Variation> variations;
    private final StoppingBias stopping;
    private final double measurementDeg;
    private final double intervalS;
    private final double bandDeg;
    private final List<String> sourceNames;
    private final List<String> unitNames;
    /** Landing of a shift in the common frame, degrees. */
    private final Function<SeenShift, java.util.OptionalDouble> landing;

    RowLearner(
            LearnOptions options,
            List<Variation> variations,
            StoppingBias stopping,
            double measurementDeg,
            double intervalS,
            double bandDeg,
            List<String> sourceNames,
            List<String> unitNames,
            Function<SeenShift, java.util.OptionalDouble> landing) {
        this.options = options;
        this.variations = new EnumMap<>(Measure.class);
        variations.forEach(v -> this.variations.put(v.measure(), v));
        this.stopping = stopping;
        this.measurementDeg = measurementDeg;
        this.intervalS = intervalS;
        this.bandDeg = bandDeg;
        this.sourceNames = sourceNames;
        this.unitNames = unitNames;
        this.landing = landing;
    }

    /** @param all shifts of the row that are of the script, good or not, held back or not */
    LearnedStep row(int from, int to, List<SeenShift> all) {
        List<SeenShift> learned = all.stream().filter(SeenShift::learned).toList();
        int held = (int) all.stream().filter(s -> s.counts() && s.heldBack()).count();
        Map<Outcome, Integer> outcomes = new EnumMap<>(Outcome.class);
        all.stream()
                .filter(s -> !s.heldBack() && s.shift().cycle() > 0)
                .forEach(s -> outcomes.merge(s.shift().outcome(), 1, Integer::sum));
        Map<Measure, Estimated> measures = new EnumMap<>(Measure.class);
        for (Measure measure : MEASURES) {
            measures.put(measure, estimated(measure, from + "→" + to, learned));
        }
        List<String> rang = all.stream()
                .filter(s -> s.shift().cycle() > 0 && !s.heldBack())
                .filter(s -> s.value(Measure.RINGING).orElse(0) > bandDeg / 2)
                .map(s -> sourceNames.get(s.source()) + "#" + s.shift().number())
                .toList();
        return new LearnedStep(
                from, to, learned.size(), held, outcomes, pattern(from, to, all, learned), measures, rang);
    }

    java.util.OptionalDouble value(Measure measure, SeenShift shift) {
        return measure == Measure.LANDING ? landing.apply(shift) : shift.value(measure);
    }

    Estimated estimated(Measure measure, String row, List<SeenShift> shifts) {
        Map<Integer, List<Double>> units = new TreeMap<>();
        for (SeenShift shift : shifts) {
            value(measure, shift)
                    .ifPresent(v -> units.computeIfAbsent(shift.unit(), k -> new ArrayList<>())
                            .add(v));
        }
        if (units.isEmpty()) {
            return new Estimated.NotEstimated(reason(measure, shifts));
        }
        return estimate(measure, row, units);
    }

    /** Why there is no number: the first reason that the shifts give. */
    private static String reason(Measure measure, List<SeenShift> shifts) {
        return shifts.isEmpty()
                ? "no shift of this row was learned from"
                : shifts.stream()
                        .map(s -> s.shift().get(measure))
                        .map(RowLearner::why)
                        .flatMap(Optional::stream)
                        .findFirst()
                        .orElse("does not exist in any shift of this row");
    }

    private static Optional<String> why(Measured measured) {
        return measured.match(new Measured.Cases<>() {
            @Override
            public Optional<String> value(double value) {
                return Optional.empty();
            }

            @Override
            public Optional<String> notMeasured(String reason) {
                return Optional.of(reason);
            }

            @Override
            public Optional<String> notApplicable() {
                return Optional.empty();
            }
        });
    }

    /**
     * Mean over shifts (of several units: over unit means), its interval from the scatter pooled over rows where the row is not
     * uneven, units' scatter and measurement added.
     */
    private Estimated.Estimate estimate(Measure measure, String row, Map<Integer, List<Double>> units) {
        int n = units.values().stream().mapToInt(List::size).sum();
        double mean =
                units.values().stream().mapToDouble(RowLearner::mean).average().orElseThrow();
        double squares = units.values().stream()
                .mapToDouble(cell -> {
                    double m = mean(cell);
                    return cell.stream().mapToDouble(v -> (v - m) * (v - m)).sum();
                })
                .sum();
        int ownFreedom = n - units.size();
        double own = ownFreedom > 0 ? Math.sqrt(squares / ownFreedom) : 0;
        Variation pooled = variations.get(measure);
        boolean usePooled = pooled != null && !pooled.uneven().contains(row) && pooled.withinFreedom() > ownFreedom;
        double sd = usePooled && pooled != null ? pooled.withinSd() : own;
        double freedom = usePooled && pooled != null ? pooled.withinFreedom() : ownFreedom;
        double inverse =
                units.values().stream().mapToDouble(cell -> 1.0 / cell.size()).sum();
        double within = sd * sd * inverse / (units.size() * (double) units.size());
        double between = pooled == null || units.size() < 2
                ? 0
                : Math.pow(pooled.betweenSd().orElse(0), 2) / units.size();
        double variance = within + between;
        double effective = between == 0
                ? freedom
                : variance
                        * variance
                        / ((freedom > 0 ? within * within / freedom : 0) + between * between / (units.size() - 1.0));
        double ofMeasuring = measuring(measure);
        double half = effective > 0
                ? Math.hypot(t(effective) * Math.sqrt(variance), 1.96 * ofMeasuring) // JCGM 100, 5.1: independent parts
                : Double.POSITIVE_INFINITY;
        return new Estimated.Estimate(
                n,
                mean,
                own,
                half,
                units.values().stream()
                        .flatMap(List::stream)
                        .mapToDouble(v -> v)
                        .min()
                        .orElseThrow(),
                units.values().stream()
                        .flatMap(List::stream)
                        .mapToDouble(v -> v)
                        .max()
                        .orElseThrow());
    }

    private double t(double freedom) {
        return new TDistribution(null, freedom).inverseCumulativeProbability(1 - options.alpha() / 2);
    }

    /** What measuring adds to a mean, common to its shifts: standard uncertainty, base unit. */
    private double measuring(Measure measure) {
        if (measure.unit() == Unit.DEG) {
            return measurementDeg * Math.sqrt(2); // each is a difference of two angles
        }
        return measure.unit() == Unit.S ? intervalS / Math.sqrt(12) : 0;
    }

    private static double mean(List<Double> values) {
        return values.stream().mapToDouble(v -> v).average().orElseThrow();
    }

    private OvertravelPattern pattern(int from, int to, List<SeenShift> all, List<SeenShift> learned) {
        List<SeenShift> known = learned.stream()
                .filter(s -> s.value(Measure.OVERTRAVEL).isPresent())
                .toList();
        if (known.isEmpty()) {
            return new OvertravelPattern.Gap(gap(from, to, all, learned));
        }
        List<SeenShift> with = known.stream().filter(SeenShift::wentPast).toList();
        int n = known.size();
        double unseen = unseen(n);
        if (with.isEmpty()) {
            return new OvertravelPattern.None(n, unseen);
        }
        Map<Integer, List<Double>> units = new TreeMap<>();
        with.forEach(s -> units.computeIfAbsent(s.unit(), k -> new ArrayList<>())
                .add(s.value(Measure.OVERTRAVEL).orElseThrow()));
        Estimated.Estimate achieved = estimate(Measure.OVERTRAVEL, from + "→" + to, units);
        double programmed = achieved.mean() + 2 * stopping.biasDeg();
        double half = Math.hypot(achieved.halfWidth(), 2 * stopping.halfWidthDeg());
        if (with.size() == n) {
            return new OvertravelPattern.Programmed(achieved, programmed, half, unseen);
        }
        ConfidenceLimits.Limits rate = ConfidenceLimits.proportion(with.size(), n, 1 - options.alpha() / 2);
        return new OvertravelPattern.Irregular(
                with.size(), n - with.size(), achieved, programmed, half, rate.low(), rate.high(), follows(known));
    }

    private String gap(int from, int to, List<SeenShift> all, List<SeenShift> learned) {
        String shift = "from " + from + " to " + to;
        if (all.isEmpty()) {
            return "no shift " + shift + " was seen";
        }
        if (learned.isEmpty()) {
            boolean heldBack = all.stream().anyMatch(s -> s.counts() && s.heldBack());
            return heldBack
                    ? "the shifts " + shift + " are all held back for proving"
                    : "none of " + all.size() + (all.size() == 1 ? " shift " : " shifts ") + shift
                            + " landed on its sprocket";
        }
        return "overtravel " + shift + " is not measured: " + reason(Measure.OVERTRAVEL, learned);
    }

    /** The largest rate that none in n leaves open: 1 − α^(1/n). */
    double unseen(int n) {
        return 1 - Math.pow(options.alpha(), 1.0 / n);
    }

    private record Factor(String sentence, Function<SeenShift, String> level) {}

    /**
     * One thing that parts shifts with a plateau from those without, leaving no exception, and that chance does not: the
     * probability of so clean a parting by chance is 1 / (n over k), times the things tried.
     */
    private Optional<String> follows(List<SeenShift> known) {
        List<Factor> factors = List.of(
                new Factor("unit ", s -> unitNames.get(s.unit())),
                new Factor("capture ", s -> sourceNames.get(s.source())),
                new Factor(
                        "supply ",
                        s -> s.shift().supplyV().isPresent()
                                ? org.shiftstand.quantity.Decimal.text(
                                                s.shift().supplyV().getAsDouble()) + " V"
                                : "not told"),
                new Factor("cycles that are ", s -> s.shift().cycle() % 2 == 0 ? "even" : "odd"));
        int with = (int) known.stream().filter(SeenShift::wentPast).count();
        double chance = factors.size() / CombinatoricsUtils.binomialCoefficientDouble(known.size(), with);
        if (chance >= options.alpha()) {
            return Optional.empty();
        }
        for (Factor factor : factors) {
            Map<String, List<SeenShift>> levels = new TreeMap<>();
            known.forEach(s -> levels.computeIfAbsent(factor.level().apply(s), k -> new ArrayList<>())
                    .add(s));
            boolean clean = levels.size() > 1
                    && levels.values().stream()
                            .allMatch(level -> level.stream()
                                            .map(SeenShift::wentPast)
                                            .distinct()
                                            .count()
                                    == 1);
            if (clean) {
                List<String> names = levels.entrySet().stream()
                        .filter(e -> e.getValue().get(0).wentPast())
                        .map(Map.Entry::getKey)
                        .toList();
                return Optional.of("with overtravel for " + factor.sentence() + String.join(", ", names)
                        + ", without for all others");
            }
        }
        return Optional.empty();
    }
}
