package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;

/** What was learned of an invented drive, put together by hand. */
public final class MadeLearned {
    private final double[] positionsDeg;
    private final Map<String, OvertravelPattern> patterns = new TreeMap<>();
    private final List<Variation> variations = new ArrayList<>();
    private List<String> units = List.of("TD-1");
    private String source = "made.csv";
    private LearnOptions options = LearnOptions.of("made");
    private StoppingBias stopping =
            new StoppingBias(3, 0.5, OptionalDouble.of(1), "from landings after a return against those without", true);
    private OptionalDouble screwLeadMm = OptionalDouble.empty();
    private Dwell hold = dwell(20, 0.7, Dwell.Common.COMMON);

    private MadeLearned(double... positionsDeg) {
        this.positionsDeg = positionsDeg;
    }

    /** Every row is none unless {@link #row} says otherwise. */
    public static MadeLearned drive(double... positionsDeg) {
        return new MadeLearned(positionsDeg);
    }

    /** 0, 700, 1405.5, 2100 deg; 1→2 and 2→3 and all outboard but 4→3 with overtravel. */
    public static MadeLearned four() {
        return drive(0, 700, 1405.5, 2100)
                .row(1, 2, programmed(270))
                .row(2, 3, programmed(300.3))
                .row(3, 2, programmed(90))
                .row(2, 1, programmed(160));
    }

    public static OvertravelPattern programmed(double deg) {
        return new OvertravelPattern.Programmed(estimate(deg - 6, 3), deg, 2.4, 1 - Math.pow(0.05, 0.25));
    }

    public static OvertravelPattern gap(String reason) {
        return new OvertravelPattern.Gap(reason);
    }

    public static OvertravelPattern irregular(double deg) {
        return new OvertravelPattern.Irregular(
                1, 3, estimate(deg - 6, 3), deg, Double.POSITIVE_INFINITY, 0.006, 0.81, Optional.empty());
    }

    static Estimated.Estimate estimate(double mean, double sd) {
        return new Estimated.Estimate(4, mean, sd, 2 * sd / 2, mean - sd, mean + sd);
    }

    static Dwell dwell(double within, double seconds, Dwell.Common common) {
        return new Dwell(within, estimate(seconds, 0.002), common, 0.01, List.of());
    }

    public MadeLearned row(int from, int to, OvertravelPattern pattern) {
        patterns.put(from + "→" + to, pattern);
        return this;
    }

    public MadeLearned units(String... ids) {
        units = List.of(ids);
        return this;
    }

    public MadeLearned source(String name) {
        source = name;
        return this;
    }

    public MadeLearned options(LearnOptions chosen) {
        options = chosen;
        return this;
    }

    public MadeLearned stopping(StoppingBias bias) {
        stopping = bias;
        return this;
    }

    public MadeLearned screwLead(double mm) {
        screwLeadMm = OptionalDouble.of(mm);
        return this;
    }

    public MadeLearned hold(Dwell dwell) {
        hold = dwell;
        return this;
    }

    /** One unit, no row uneven. */
    public MadeLearned scatter(Measure measure, double sd, double freedom) {
        return scatter(
                new Variation(measure, sd, freedom, units.size(), OptionalDouble.empty(), sd, freedom, 4, List.of()));
    }

    public MadeLearned scatter(Variation variation) {
        variations.add(variation);
        return this;
    }

    public Learned learned() {
        int n = positionsDeg.length;
        List<LearnedStep> steps = new ArrayList<>();
        for (int k = 1; k < n; k++) {
            steps.add(step(k, k + 1));
        }
        for (int k = n; k > 1; k--) {
            steps.add(step(k, k - 1));
        }
        List<LearnedPosition> positions = new ArrayList<>();
        for (int k = 1; k <= n; k++) {
            positions.add(position(k));
        }
        return new Learned(
                options,
                20,
                List.of(new LearnedSource(
                        source,
                        "ab".repeat(32),
                        units.get(0),
                        Map.of(),
                        36,
                        6,
                        24,
                        12,
                        Map.of(),
                        1,
                        n,
                        "by itself",
                        "forward, from assumed")),
                units,
                new SprocketCount(n, 6, 6, 0, 0, 1 - Math.pow(0.5, 6)),
                positions,
                steps,
                List.of(),
                stopping,
                hold,
                dwell(10, 0.68, Dwell.Common.NOT_DECIDED),
                new Estimated.NotEstimated("the sensors were never off"),
                variations,
                List.of(),
                0.1,
                List.of(new Undecided("overtravel 3→4", "none in all of 4 shifts is not much", 25)),
                List.of("a notice"));
    }

    private LearnedPosition position(int k) {
        double deg = positionsDeg[k - 1];
        Estimated not = new Estimated.NotEstimated("no landing on sprocket " + k + " was seen");
        boolean known = Double.isFinite(deg);
        return new LearnedPosition(
                k,
                deg,
                k == 1 ? 0 : known ? 1.5 : Double.POSITIVE_INFINITY,
                k > 1 && known ? estimate(deg, 8) : not,
                k < positionsDeg.length && known ? estimate(deg, 8) : not,
                k < positionsDeg.length && screwLeadMm.isPresent()
                        ? OptionalDouble.of((positionsDeg[k] - deg) / 360 * screwLeadMm.getAsDouble())
                        : OptionalDouble.empty());
    }

    private LearnedStep step(int from, int to) {
        OvertravelPattern pattern =
                patterns.getOrDefault(from + "→" + to, new OvertravelPattern.None(4, 1 - Math.pow(0.05, 0.25)));
        boolean seen = !(pattern instanceof OvertravelPattern.Gap);
        Map<Measure, Estimated> measures = new EnumMap<>(Measure.class);
        if (seen) {
            if (Double.isFinite(positionsDeg[to - 1])) {
                measures.put(Measure.LANDING, estimate(positionsDeg[to - 1], 8));
            }
            measures.put(Measure.TRAVEL_TIME, estimate(0.2, 0.01));
        }
        return new LearnedStep(
                from,
                to,
                seen ? 4 : 0,
                seen ? 2 : 0,
                seen ? Map.of(Outcome.LANDED, 4) : Map.of(),
                pattern,
                measures,
                List.of());
    }
}
