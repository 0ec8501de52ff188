package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import org.apache.commons.math3.distribution.TDistribution;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;

/**
 * Learns from measured captures of one kind of unit. Pure: the same inputs give the same, whatever the machine.
 *
 * <p>Every third cycle is held back and not looked at, but for its outcome words in the ends of the cassette.
 */
public final class Learning {
    private static final List<Measure> SCATTERING = List.of(
            Measure.LANDING,
            Measure.OVERTRAVEL,
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

    private final List<LearningInput> inputs;
    private final LearnOptions options;
    private final OptionalDouble screwLeadMm;
    private final Joining joining;
    private final List<String> units;
    private final List<SeenShift> all;
    private final LandingFit fit;
    private final int origin;
    private final double measurementDeg;
    private final double intervalS;
    private final double bandDeg;

    private Learning(List<LearningInput> inputs, LearnOptions options, OptionalDouble screwLeadMm) {
        this.inputs = inputs;
        this.options = options;
        this.screwLeadMm = screwLeadMm;
        this.joining = Joining.of(inputs, options.confidence());
        Set<String> ids = new LinkedHashSet<>();
        inputs.forEach(input -> ids.add(input.unit()));
        this.units = List.copyOf(ids);
        this.all = seen();
        List<SeenShift> landed = all.stream()
                .filter(s -> s.learned()
                        && s.value(Measure.LANDING).isPresent()
                        && s.value(Measure.OVERTRAVEL).isPresent())
                .toList();
        this.fit = LandingFit.of(
                landed,
                joining.sprockets(),
                inputs.size(),
                options.stoppingBiasDeg().orElse(Double.NaN));
        this.origin = firstSeen();
        this.measurementDeg = inputs.stream()
                .mapToDouble(input -> input.measured().track().correction().uncertaintyDeg())
                .max()
                .orElse(0);
        this.intervalS = inputs.stream()
                .mapToDouble(input -> input.measured().track().intervalS())
                .max()
                .orElse(0);
        this.bandDeg = inputs.get(0).measured().table().bandDeg();
    }

    /**
     * Learns.
     *
     * @param inputs one or more, measured with one settle band
     * @param screwLeadMm for millimetres, where it is known
     * @throws org.shiftstand.document.BadInput where captures cannot be joined; says what to tell
     */
    public static Learned learn(List<LearningInput> inputs, LearnOptions options, OptionalDouble screwLeadMm) {
        if (inputs.isEmpty()) {
            throw new IllegalArgumentException("one input or more: inputs=0");
        }
        List<Problem> nothing = inputs.stream()
                .filter(input -> input.measured().table().shifts().isEmpty())
                .map(input -> new Problem(
                        input.name(),
                        0,
                        0,
                        "shows no shift, so that there is nothing to learn from; expected a capture of sweeps over the"
                                + " cassette. Look whether the shaft moves in it and whether its columns were recognised"
                                + " ('shiftstand import --dry-run')."))
                .toList();
        if (!nothing.isEmpty()) {
            throw new BadInput(nothing);
        }
        return new Learning(inputs, options, screwLeadMm).learned();
    }

    private List<SeenShift> seen() {
        List<SeenShift> seen = new ArrayList<>();
        for (int i = 0; i < inputs.size(); i++) {
            int lift = joining.firsts()[i] - 1;
            int unit = units.indexOf(inputs.get(i).unit());
            for (Shift shift : inputs.get(i).measured().table().shifts()) {
                seen.add(new SeenShift(i, unit, shift.from() + lift, shift.to() + lift, shift));
            }
        }
        return List.copyOf(seen);
    }

    private int firstSeen() {
        for (int k = 1; k <= joining.sprockets(); k++) {
            if (fit.seen(k)) {
                return k;
            }
        }
        return 1;
    }

    private Learned learned() {
        StoppingBias stopping = stopping();
        List<Variation> variations = variations();
        List<String> names = inputs.stream().map(LearningInput::name).toList();
        RowLearner rows = new RowLearner(
                options, variations, stopping, measurementDeg, intervalS, bandDeg, names, units, this::landing);
        int n = joining.sprockets();
        List<LearnedStep> steps = new ArrayList<>();
        for (int from = 1; from < n; from++) {
            steps.add(rows.row(from, from + 1, of(from, from + 1)));
        }
        for (int from = n; from > 1; from--) {
            steps.add(rows.row(from, from - 1, of(from, from - 1)));
        }
        List<LearnedStep> jumps = all.stream()
                .filter(s -> s.shift().cycle() > 0 && Math.abs(s.to() - s.from()) > 1)
                .map(s -> List.of(s.from(), s.to()))
                .distinct()
                .sorted(java.util.Comparator.<List<Integer>>comparingInt(pair -> pair.get(0))
                        .thenComparingInt(pair -> pair.get(1)))
                .map(pair -> rows.row(pair.get(0), pair.get(1), of(pair.get(0), pair.get(1))))
                .toList();
        List<SeenShift> learnedFrom = all.stream().filter(SeenShift::learned).toList();
        Dwell hold = DwellRule.of(
                Measure.HOLD,
                bandDeg,
                steps,
                rows.estimated(Measure.HOLD, "", learnedFrom),
                intervalS,
                options.alpha());
        Dwell restHold = DwellRule.of(
                Measure.REST_HOLD,
                bandDeg / 2,
                steps,
                rows.estimated(Measure.REST_HOLD, "", learnedFrom),
                intervalS,
                options.alpha());
        SprocketCount count = EndsOfCassette.of(all, n);
        List<LearnedPosition> positions = positions(steps);
        return new Learned(
                options,
                bandDeg,
                sources(),
                units,
                count,
                positions,
                steps,
                jumps,
                stopping,
                hold,
                restHold,
                rows.estimated(Measure.WAKE_UP_ERROR, "", learnedFrom),
                variations,
                List.of(),
                measurementDeg,
                OpenQuestions.of(options, count, steps, stopping, hold, units.size(), positions, senseAssumed()),
                notices());
    }

    private boolean senseAssumed() {
        return inputs.stream()
                .anyMatch(input -> input.measured().table().senseFrom().equals("assumed"));
    }

    private List<SeenShift> of(int from, int to) {
        return all.stream()
                .filter(s -> s.from() == from
                        && s.to() == to
                        && s.shift().cycle() > 0
                        && s.shift().inPlace())
                .toList();
    }

    /** In the common frame: origins of the captures taken out, zero at the programmed position of sprocket 1. */
    private OptionalDouble landing(SeenShift shift) {
        OptionalDouble landing = shift.value(Measure.LANDING);
        return landing.isPresent()
                ? OptionalDouble.of(landing.getAsDouble() - fit.originDeg(shift.source()) - fit.positionDeg(origin))
                : landing;
    }

    private StoppingBias stopping() {
        OptionalDouble reversal = fit.reversalKnown() ? OptionalDouble.of(fit.reversalDeg()) : OptionalDouble.empty();
        if (options.stoppingBiasDeg().isPresent()) {
            return new StoppingBias(
                    options.stoppingBiasDeg().getAsDouble(), 0, reversal, "as the user said, not estimated", true);
        }
        if (!fit.biasKnown() || !(fit.freedom() > 0)) {
            return new StoppingBias(
                    0,
                    Double.POSITIVE_INFINITY,
                    OptionalDouble.empty(),
                    "not known: the captures hold no sprockets that are reached inboard with overtravel beside others"
                            + " without, so that stopping short cannot be told from reversal; the table holds achieved"
                            + " values",
                    false);
        }
        double half = t(fit.freedom()) * fit.biasErrorDeg();
        return new StoppingBias(
                fit.biasDeg(),
                half,
                reversal,
                "from landings after a return against landings without one, over all sprockets",
                true);
    }

    private double t(double freedom) {
        return freedom > 0
                ? new TDistribution(null, freedom).inverseCumulativeProbability(1 - options.alpha() / 2)
                : Double.POSITIVE_INFINITY;
    }

    private List<Variation> variations() {
        List<Variation> found = new ArrayList<>();
        for (Measure measure : SCATTERING) {
            Scatter scatter = new Scatter(measure);
            for (SeenShift s : all) {
                boolean takes = s.learned() && (measure != Measure.OVERTRAVEL || s.wentPast());
                OptionalDouble value = measure == Measure.LANDING ? landing(s) : s.value(measure);
                if (takes && value.isPresent()) {
                    // landings differ by the way they were reached, which an irregular row mixes
                    String approach = measure == Measure.LANDING && s.wentPast() ? " past" : "";
                    scatter.add(s.from() + "→" + s.to() + approach, s.unit(), value.getAsDouble());
                }
            }
            if (!scatter.isEmpty()) {
                found.add(scatter.variation(floor(measure), options.alpha()));
            }
        }
        return found;
    }

    private double floor(Measure measure) {
        return switch (measure.unit()) {
            case DEG -> Math.max(measurementDeg, 0.1);
            case S -> intervalS / 2;
            default -> 0;
        };
    }

    private List<LearnedPosition> positions(List<LearnedStep> steps) {
        List<LearnedPosition> positions = new ArrayList<>();
        int n = joining.sprockets();
        double[] deg = new double[n + 1];
        double[] half = new double[n + 1];
        for (int k = 1; k <= n; k++) {
            if (fit.seen(k)) {
                deg[k] = fit.positionDeg(k) - fit.positionDeg(origin);
                half[k] = k == origin
                        ? 0
                        : Math.hypot(
                                t(fit.freedomOfPlaces()) * fit.distanceErrorDeg(k, origin),
                                1.96 * measurementDeg * Math.sqrt(2));
            } else {
                leftOnly(k, deg, half);
            }
        }
        int first = 1;
        while (first < n && Double.isNaN(deg[first])) {
            first++; // sprocket 1 was not seen: counted from the outermost that was
        }
        double zero = Double.isNaN(deg[first]) ? 0 : deg[first];
        for (int k = 1; k <= n; k++) {
            OptionalDouble pitch = k < n && screwLeadMm.isPresent() && Double.isFinite(deg[k + 1] - deg[k])
                    ? OptionalDouble.of((deg[k + 1] - deg[k]) / 360 * screwLeadMm.getAsDouble())
                    : OptionalDouble.empty();
            positions.add(new LearnedPosition(
                    k,
                    deg[k] - zero,
                    k == first ? 0 : origin == first ? half[k] : Math.hypot(half[k], half[first]),
                    moved(
                            k > 1
                                    ? steps.get(k - 2).get(Measure.LANDING)
                                    : notAsked("no shift goes inboard to sprocket 1"),
                            zero),
                    moved(
                            k < n
                                    ? steps.get(n - 1 + n - k - 1).get(Measure.LANDING)
                                    : notAsked("no shift goes outboard to sprocket " + n),
                            zero),
                    pitch));
        }
        return positions;
    }

    private static Estimated notAsked(String why) {
        return new Estimated.NotEstimated(why);
    }

    private static Estimated moved(Estimated estimated, double zero) {
        return estimated
                .estimate()
                .<Estimated>map(e -> new Estimated.Estimate(
                        e.n(), e.mean() - zero, e.sd(), e.halfWidth(), e.least() - zero, e.greatest() - zero))
                .orElse(estimated);
    }

    /** A sprocket that was left but never landed on: where it was left, off by reversal and bias in an unknown way. */
    private void leftOnly(int k, double[] deg, double[] half) {
        double[] starts = all.stream()
                .filter(s -> s.from() == k && !s.heldBack() && s.shift().cycle() > 0)
                .filter(s -> s.value(Measure.START).isPresent())
                .mapToDouble(
                        s -> s.value(Measure.START).getAsDouble() - fit.originDeg(s.source()) - fit.positionDeg(origin))
                .toArray();
        deg[k] = starts.length == 0
                ? Double.NaN
                : java.util.Arrays.stream(starts).average().orElse(Double.NaN);
        double unknown = fit.reversalKnown() ? Math.abs(fit.reversalDeg()) + Math.abs(fit.biasDeg()) : bandDeg;
        half[k] = starts.length == 0
                ? Double.POSITIVE_INFINITY
                : unknown
                        + 2 * (Double.isNaN(fit.scatterDeg()) ? bandDeg : fit.scatterDeg()) / Math.sqrt(starts.length);
    }

    private List<LearnedSource> sources() {
        List<LearnedSource> sources = new ArrayList<>();
        for (int i = 0; i < inputs.size(); i++) {
            int index = i;
            LearningInput input = inputs.get(i);
            List<SeenShift> own = all.stream().filter(s -> s.source() == index).toList();
            Map<String, Integer> leftOut = new TreeMap<>();
            for (SeenShift s : own) {
                if (s.shift().cycle() == 0) {
                    leftOut.merge("before the first cycle", 1, Integer::sum);
                } else if (s.shift().displaced()) {
                    leftOut.merge("did not start on its sprocket", 1, Integer::sum);
                } else if (s.shift().outcome() != Outcome.LANDED) {
                    leftOut.merge(
                            s.shift().outcome() == Outcome.UNKNOWN
                                    ? "outcome unknown"
                                    : s.shift().outcome().word().replace('-', ' '),
                            1,
                            Integer::sum);
                }
            }
            var table = input.measured().table();
            sources.add(new LearnedSource(
                    input.name(),
                    input.measured().source().sha256(),
                    input.unit(),
                    input.identity(),
                    own.size(),
                    own.stream().mapToInt(s -> s.shift().cycle()).max().orElse(0),
                    (int) own.stream().filter(SeenShift::learned).count(),
                    (int) own.stream().filter(s -> s.counts() && s.heldBack()).count(),
                    new LinkedHashMap<>(leftOut),
                    joining.firsts()[i],
                    joining.firsts()[i] + table.sprockets() - 1,
                    joining.told()[i],
                    table.sense()
                            + (table.senseFrom().equals("assumed") ? ", assumed" : ", from " + table.senseFrom())));
        }
        return sources;
    }

    private List<String> notices() {
        Set<String> notices = new LinkedHashSet<>();
        boolean many = inputs.size() > 1;
        for (LearningInput input : inputs) {
            input.measured().notices().forEach(notice -> notices.add(many ? input.name() + ": " + notice : notice));
        }
        return List.copyOf(notices);
    }
}
