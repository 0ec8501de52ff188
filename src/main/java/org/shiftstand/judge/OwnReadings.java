package org.shiftstand.judge;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiConsumer;
import org.shiftstand.angle.Correction;
import org.shiftstand.bench.Contribution;
import org.shiftstand.bench.Contribution.Nature;
import org.shiftstand.bench.Declared.Input;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.stats.MeanRange;

/** What a run's samples tell of their own uncertainty: converter, Hall correction, noise, timing. */
final class OwnReadings {
    /** How the sources of these contributions begin. */
    static final String FROM_RUN = "this run: ";

    /** Root mean square range of three normal values in units of their sd, 1.912. */
    static final double RANGE_OF_THREE = MeanRange.d2Star(3, 1);

    private static final double MANY = Double.POSITIVE_INFINITY;
    private static final double FLAT = Math.sqrt(3); // JCGM 100, 4.3.7: half-width of a rectangle over its sd
    private static final double QUANTUM = Math.sqrt(12); // width over sd
    private static final double OF_MEDIAN = Math.sqrt(Math.PI / 2); // sd of a normal median over that of a mean
    private static final double SHORTEST_REST_S = 0.02; // a rest that reaches a window's end
    private static final double CLOCK = 100e-6; // crystals of controllers: common practice, no published source
    private static final double STAMP_S = 1e-6; // the microsecond of a rig's clock
    private static final int SAMPLES_BEFORE_MOTION = 4; // as few as a start may rest on

    private final RigDescription rig;
    private final Correction correction;
    private final double intervalS;
    private final boolean stamped;
    private final double bandDeg;
    private final TypicalShift typical;
    private final Sensitivity sensitivity;
    private final Map<Measure, List<Contribution>> lines = new EnumMap<>(Measure.class);

    OwnReadings(
            RigDescription rig,
            Correction correction,
            SampleSource source,
            ShiftTable table,
            TypicalShift typical,
            Sensitivity sensitivity) {
        this.rig = rig;
        this.correction = correction;
        this.intervalS = source.intervalS();
        this.stamped =
                !source.requests().isEmpty() && source.requests().stream().allMatch(r -> r.stamped());
        this.bandDeg = table.bandDeg();
        this.typical = typical;
        this.sensitivity = sensitivity;
        correction();
        noise();
        resolution();
        excursions();
        timing();
        current();
    }

    /** Measure and contribution, one by one. */
    void forEach(BiConsumer<Measure, Contribution> taker) {
        lines.forEach((measure, list) -> list.forEach(line -> taker.accept(measure, line)));
    }

    private void add(Measure measure, String name, double u, Nature nature, String source) {
        lines.computeIfAbsent(measure, m -> new ArrayList<>())
                .add(new Contribution(name, u, nature, MANY, FROM_RUN + source));
    }

    /** What is left of offset, gain, phase and harmonics depends on where in a turn the shaft stands: alike in each cycle. */
    private void correction() {
        double u = correction.uncertaintyDeg();
        String name = "Hall correction, harmonic residue";
        String from = correction.secondOrderFrom().equals("none")
                ? "no second-order term could be estimated"
                : "noise and harmonics across the circle, taken to be as large along it";
        for (Measure m : List.of(Measure.LANDING, Measure.LANDING_ERROR, Measure.EXTREME, Measure.CLEARANCE)) {
            add(m, name, u, Nature.COMMON, from);
        }
        // two places of the turn
        for (Measure m : List.of(Measure.OVERTRAVEL, Measure.RINGING, Measure.RETURN_RINGING)) {
            add(m, name, Math.sqrt(2) * u, Nature.COMMON, from);
        }
        // the plateau's edge comes too late and goes too early by the same angle
        for (Measure m : List.of(Measure.HOLD, Measure.REST_HOLD)) {
            add(m, name, 2 * Math.sqrt(2) * u * sensitivity.slowness(m), Nature.COMMON, from);
        }
        for (Measure m : List.of(Measure.TRAVEL_TIME, Measure.SETTLE_TIME)) {
            add(m, name, Math.sqrt(2) * u * sensitivity.slowness(m), Nature.COMMON, from);
        }
    }

    /** At most what was seen across the circle, and medians of rests have less of it. */
    private void noise() {
        double u = correction.uncertaintyDeg();
        double rest = u * OF_MEDIAN / Math.sqrt(Math.max(SAMPLES_BEFORE_MOTION, SHORTEST_REST_S / intervalS));
        double start = u * OF_MEDIAN / Math.sqrt(SAMPLES_BEFORE_MOTION);
        String name = "Hall noise";
        String ofRest = "scatter across the circle, median of the shortest rest";
        String ofOne = "scatter across the circle, single samples";
        add(Measure.LANDING, name, rest, Nature.EACH, ofRest);
        add(Measure.LANDING_ERROR, name, rest, Nature.EACH, ofRest);
        add(Measure.OVERTRAVEL, name, Math.sqrt(2) * rest, Nature.EACH, ofRest);
        add(Measure.CREEP, name, Math.hypot(start, rest), Nature.EACH, ofRest);
        add(Measure.WAKE_UP_ERROR, name, Math.hypot(u, start), Nature.EACH, ofOne);
        for (Measure m : List.of(Measure.HOLD, Measure.REST_HOLD)) {
            add(m, name, Math.sqrt(2) * u * sensitivity.slowness(m), Nature.EACH, ofOne);
        }
        for (Measure m : List.of(Measure.TRAVEL_TIME, Measure.SETTLE_TIME)) {
            add(m, name, u * sensitivity.slowness(m), Nature.EACH, ofOne);
        }
    }

    /** One count of the pair: a step of 1 / radius radians along the circle, wherever the shaft stands. */
    private void resolution() {
        double radius = correction.radius();
        double swing = (rig.hall().high() - rig.hall().low()) / 2.0;
        // counts that fill less than 2 % or more than all of the converter's range are none: volts, most likely
        boolean counts = radius > 0.02 * swing && radius <= 1.5 * swing;
        double step = counts ? 1 / radius : 5 / swing; // else taken to fill a fifth of the range
        double u = Math.toDegrees(step) * correction.turnsPerCycle() / QUANTUM;
        String from = counts
                ? "one count on a circle of " + Math.round(radius) + " counts"
                : "one count of the rig's converter, the pair taken to fill a fifth of its range";
        for (Measure m : Measure.values()) {
            sensitivity
                    .of(Input.ANGLE, Nature.EACH, m)
                    .ifPresent(factor -> add(m, "converter resolution", factor * u, Nature.EACH, from));
        }
    }

    /** A largest value is that of the noisiest sample, and the true peak lies between two. */
    private void excursions() {
        double samples = Math.max(2, typical.restS() / intervalS);
        double tooFar = correction.uncertaintyDeg() * Math.sqrt(2 * Math.log(samples));
        double v = typical.crossingDegPerS().orElse(0);
        double between = v * v / bandDeg * intervalS * intervalS / 8; // parabola, deceleration v²/b
        for (Measure m : List.of(Measure.EXTREME, Measure.CLEARANCE, Measure.RINGING, Measure.RETURN_RINGING)) {
            add(
                    m,
                    "largest of noisy samples",
                    tooFar,
                    Nature.COMMON,
                    "expected excess of the largest of " + Math.round(samples) + " samples, not corrected");
            add(m, "peak between samples", between / FLAT, Nature.EACH, "braking at the band's edge, sample interval");
        }
    }

    private void timing() {
        double request = (stamped ? STAMP_S : intervalS) / QUANTUM;
        String from = stamped ? "stamped by the rig, to the microsecond" : "placed in the middle between two samples";
        double v = typical.crossingDegPerS().orElse(0);
        double bend = intervalS * intervalS * v / (8 * bandDeg) / FLAT; // of a crossing, deceleration v²/b
        for (Measure m : List.of(Measure.TRAVEL_TIME, Measure.SETTLE_TIME)) {
            add(m, "instant of the request", request, Nature.EACH, from);
            add(m, "interpolation between samples", bend, Nature.EACH, "braking at the band's edge, sample interval");
        }
        for (Measure m : List.of(Measure.HOLD, Measure.REST_HOLD)) {
            double twice = Math.sqrt(2) * bend;
            add(m, "interpolation between samples", twice, Nature.EACH, "braking at the band's edge, sample interval");
        }
        boolean told = rig.uncertainties().stream()
                .anyMatch(d -> d.nature() == Nature.SCALE
                        && d.of().filter(i -> i == Input.TIME).isPresent());
        if (!told) {
            for (Measure m : Measure.values()) {
                sensitivity
                        .of(Input.TIME, Nature.SCALE, m)
                        .ifPresent(share -> add(
                                m,
                                "clock",
                                share * CLOCK / FLAT,
                                Nature.SCALE,
                                "100 ppm, common practice: none declared"));
            }
        }
    }

    private void current() {
        if (rig.currentScaleA().isEmpty()) {
            return;
        }
        double u = rig.currentScaleA().getAsDouble() / QUANTUM;
        double charge = u * Math.sqrt(intervalS * typical.chargedS());
        add(Measure.PEAK_CURRENT, "converter resolution", u, Nature.EACH, "one count of the current channel");
        add(Measure.CHARGE, "converter resolution", charge, Nature.EACH, "one count of the current channel");
        typical.supplyV()
                .ifPresent(v -> add(
                        Measure.ENERGY,
                        "converter resolution",
                        charge * v,
                        Nature.EACH,
                        "one count of the current channel"));
    }
}
