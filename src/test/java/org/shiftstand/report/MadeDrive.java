package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.shiftstand.learn.CurrentSignature;
import org.shiftstand.learn.Dwell;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.LearnOptions;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedPosition;
import org.shiftstand.learn.LearnedSource;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.Overlay;
import org.shiftstand.learn.OvertravelPattern;
import org.shiftstand.learn.Proof;
import org.shiftstand.learn.SprocketCount;
import org.shiftstand.learn.StoppingBias;
import org.shiftstand.learn.Undecided;
import org.shiftstand.learn.Variation;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.spec.Verdict;

/** A learned drive put together by hand, with a place for text from outside wherever there is one. */
final class MadeDrive {
    private static final double STEP_S = 0.01;

    final int sprockets;
    /** Stands in every text that comes from files or people. */
    String text = "";

    int units = 1;
    int sources = 1;
    int strands = 3;
    double noiseDeg;
    boolean withLead = true;
    boolean withCurrent = true;
    boolean withJumps;
    boolean biasKnown = true;
    boolean bare;
    Optional<Verdict> verdict = Optional.of(Verdict.PASS);
    final Map<String, OvertravelPattern> patterns = new HashMap<>();
    final List<String> rang = new ArrayList<>();

    MadeDrive(int sprockets) {
        this.sprockets = sprockets;
    }

    MadeDrive gap(int from, int to) {
        patterns.put(
                from + "→" + to, new OvertravelPattern.Gap(said("no shift from " + from + " to " + to + " was seen")));
        return this;
    }

    MadeDrive none(int from, int to) {
        patterns.put(from + "→" + to, new OvertravelPattern.None(12, 0.221));
        return this;
    }

    MadeDrive irregular(int from, int to) {
        patterns.put(
                from + "→" + to,
                new OvertravelPattern.Irregular(
                        3, 9, estimate(254, 3), 260, 1.9, 0.05, 0.57, Optional.of(said("every shift of unit TD-2"))));
        return this;
    }

    /** Text of ours, or the text from outside where one is set. */
    private String said(String usual) {
        return text.isEmpty() ? usual : text;
    }

    private static Estimated.Estimate estimate(double mean, double sd) {
        return new Estimated.Estimate(12, mean, sd, 0.64 * sd, mean - 1.8 * sd, mean + 1.8 * sd);
    }

    Learned learned() {
        LearnOptions usual = LearnOptions.of("tarn-drive");
        return new Learned(
                text.isEmpty()
                        ? usual
                        : new LearnOptions(text, 0.999, 0.95, usual.margins(), 0.1, OptionalDouble.empty()),
                20,
                Collections.nCopies(sources, source()),
                unitNames(),
                new SprocketCount(sprockets, 18, 18, 0, 0, 1 - Math.pow(0.5, 18)),
                positions(),
                steps(),
                withJumps ? List.of(step(1, 3), step(3, 1)) : List.of(),
                biasKnown
                        ? new StoppingBias(
                                3,
                                0.6,
                                OptionalDouble.of(1.2),
                                said("from landings after a return against those without"),
                                true)
                        : new StoppingBias(
                                0,
                                Double.POSITIVE_INFINITY,
                                OptionalDouble.empty(),
                                said("no sprocket is reached both ways"),
                                false),
                dwell(20, 0.7, Measure.HOLD),
                dwell(10, 0.68, Measure.REST_HOLD),
                bare ? new Estimated.NotEstimated(said("the sensors were never off")) : estimate(0.1, 0.05),
                variations(),
                withCurrent ? List.of(signature(true), signature(false)) : List.of(),
                0.09,
                bare
                        ? List.of()
                        : List.of(new Undecided(said("overtravel 3→4"), said("none in 12 shifts is not much"), 17)),
                text.isEmpty() ? List.of() : List.of(text));
    }

    private List<String> unitNames() {
        List<String> names = new ArrayList<>();
        for (int i = 1; i <= units; i++) {
            names.add(said("TD-") + i);
        }
        return names;
    }

    private LearnedSource source() {
        return new LearnedSource(
                said("tarn.csv"),
                "ab".repeat(32),
                unitNames().get(0),
                text.isEmpty() ? Map.of() : Map.of(text, text),
                36 * (sprockets - 1),
                18,
                24 * (sprockets - 1),
                12 * (sprockets - 1),
                text.isEmpty() ? Map.of("displaced", 1) : Map.of(text, 2),
                1,
                sprockets,
                said("by itself"),
                said("forward, from assumed"));
    }

    private List<LearnedPosition> positions() {
        List<LearnedPosition> all = new ArrayList<>();
        for (int k = 1; k <= sprockets; k++) {
            double deg = at(k);
            Estimated not = new Estimated.NotEstimated("no such landing");
            all.add(new LearnedPosition(
                    k,
                    deg,
                    k == 1 ? 0 : 2.1,
                    k > 1 && !bare ? estimate(deg + 4, 5) : not,
                    k < sprockets && !bare ? estimate(deg - 5, 6) : not,
                    k < sprockets && withLead
                            ? OptionalDouble.of((at(k + 1) - deg) / 360 * 2.4)
                            : OptionalDouble.empty()));
        }
        return all;
    }

    private static double at(int k) {
        return (k - 1) * 702.5;
    }

    private List<LearnedStep> steps() {
        List<LearnedStep> all = new ArrayList<>();
        for (int k = 1; k < sprockets; k++) {
            all.add(step(k, k + 1));
        }
        for (int k = sprockets; k > 1; k--) {
            all.add(step(k, k - 1));
        }
        return all;
    }

    private LearnedStep step(int from, int to) {
        double deg = 60 + 20 * Math.abs(from - 0.3 * to);
        OvertravelPattern pattern = patterns.getOrDefault(
                from + "→" + to,
                new OvertravelPattern.Programmed(
                        estimate(deg, 1.2),
                        biasKnown ? deg + 6 : deg,
                        biasKnown ? 1.4 : Double.POSITIVE_INFINITY,
                        0.221));
        boolean seen = !(pattern instanceof OvertravelPattern.Gap);
        Map<Measure, Estimated> measures = new EnumMap<>(Measure.class);
        for (Measure m : seen && !bare
                ? List.of(Measure.HOLD, Measure.REST_HOLD, Measure.TRAVEL_TIME, Measure.SETTLE_TIME)
                : List.<Measure>of()) {
            measures.put(
                    m,
                    estimate(
                            m == Measure.TRAVEL_TIME ? 0.22 : m == Measure.SETTLE_TIME ? 1.1 : 0.7 - from * 0.001,
                            0.003));
        }
        if (seen && !bare) {
            measures.put(Measure.RINGING, estimate(3, 0.4));
            measures.put(Measure.RETURN_RINGING, new Estimated.NotEstimated(said("the clock stood still")));
            measures.put(Measure.PEAK_CURRENT, estimate(5.2, 0.1));
        }
        return new LearnedStep(
                from,
                to,
                seen ? 12 : 0,
                seen ? 6 : 0,
                seen ? Map.of(Outcome.LANDED, 12) : Map.of(),
                pattern,
                measures,
                rang.contains(from + "→" + to)
                        ? List.of(said("tarn.csv") + "#12", "tarn.csv#30", "tarn.csv#66", "tarn.csv#84", "tarn.csv#102")
                        : List.of());
    }

    private Dwell dwell(double within, double seconds, Measure measure) {
        return new Dwell(
                within,
                bare ? new Estimated.NotEstimated(said("no shift dwelt")) : estimate(seconds, 0.003),
                measure == Measure.HOLD && !bare ? Dwell.Common.DIFFERENT : Dwell.Common.NOT_DECIDED,
                0.01,
                measure == Measure.HOLD && !bare ? List.of("2→3") : List.of());
    }

    private List<Variation> variations() {
        OptionalDouble between = units > 1 ? OptionalDouble.of(9) : OptionalDouble.empty();
        OptionalDouble none = units > 1 ? OptionalDouble.of(0) : OptionalDouble.empty();
        return bare
                ? List.of()
                : List.of(
                        new Variation(Measure.LANDING, 6, 190, units, between, 10.8, 4.4, 12, List.of("3→2")),
                        new Variation(Measure.HOLD, 0.003, 190, units, none, 0.003, 190, 12, List.of()));
    }

    private static CurrentSignature signature(boolean past) {
        int n = past ? 130 : 40;
        double[] mean = new double[n];
        double[] sd = new double[n];
        for (int i = 0; i < n; i++) {
            mean[i] = i == 20 ? Double.NaN : 0.2 + 5 * Math.exp(-Math.pow((i - 3) / 4.0, 2)) + (i > 95 ? 2 : 0);
            sd[i] = i == 20 ? Double.NaN : 0.15;
        }
        return new CurrentSignature(Direction.INBOARD, past, 48, STEP_S, mean, sd);
    }

    /** One a row that was seen. */
    List<Overlay> overlays() {
        Random random = new Random(7);
        List<Overlay> all = new ArrayList<>();
        for (LearnedStep step : steps()) {
            if (step.learned() > 0) {
                List<Overlay.Strand> all1 = new ArrayList<>();
                for (int i = 0; i < strands; i++) {
                    all1.add(new Overlay.Strand(0, i + 1, i % 3 == 2, strand(step, i, random)));
                }
                all.add(new Overlay(step.from(), step.to(), STEP_S, all1, 15));
            }
        }
        return all;
    }

    private float[] strand(LearnedStep step, int i, Random random) {
        int n = noiseDeg > 0 ? 301 : 130;
        float[] deg = new float[n];
        double past = step.overtravel() instanceof OvertravelPattern.None ? 0 : 200;
        for (int k = 0; k < n; k++) {
            double target = k < 90 ? 702 + past : 702;
            double way = k < 90 ? target * (1 - Math.exp(-k / 8.0)) : 702 + past * Math.exp(-(k - 90) / 6.0);
            deg[k] = i == 0 && k > 60 && k < 66 ? Float.NaN : (float) (way + 4 * i + noiseDeg * random.nextGaussian());
        }
        return deg;
    }

    List<Proof> proofs() {
        return List.of(new Proof(
                said("tarn.csv"),
                verdict.isPresent() ? 34 : 0,
                verdict,
                said("all 51 clauses pass on 34 shifts held back"),
                List.of(),
                List.of()));
    }
}
