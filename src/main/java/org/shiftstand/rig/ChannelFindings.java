package org.shiftstand.rig;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.judge.HallTrace;
import org.shiftstand.judge.HallTrace.Angles;
import org.shiftstand.judge.HallTrace.Ellipse;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** What the samples of a few shifts say of the channels: whether they live, how they are scaled, how noisy they are. */
final class ChannelFindings {
    // an eighth of the converter's range from top to bottom: less leaves an angle to the noise
    private static final double LEAST_SWING = 1.0 / 8;
    // motion of any such drive takes more than this above rest; common practice, no published source
    private static final double LEAST_RISE_A = 0.1;
    private static final double SCALES_APART = 0.01;
    // half a degree at the least swing: a two-hundred-and-thirtieth of the radius
    private static final double MOST_HALL_NOISE = 1.0 / 115;
    private static final double MOST_CURRENT_NOISE_A = 0.05;
    private static final double MOST_SUPPLY_NOISE_V = 0.1;
    // offset beyond a third of the radius, gain a fifth apart, ten degrees off quadrature: a magnet out of its place
    private static final double MOST_OFFSET = 1.0 / 3;
    private static final double MOST_GAIN_APART = 0.2;
    private static final double MOST_PHASE_DEG = 10;
    // the accuracy that the bench promises needs what is left to be small
    private static final double MOST_HARMONIC_DEG = 2;
    private static final double MOST_RESIDUE_DEG = 0.5;
    private static final double STILL_S = 0.06;

    private final RigSession talk;
    private final HallTrace trace;
    private final Angles angles;
    private final int restTo;

    /** @param restTo samples before this were taken at rest, before anything was asked of the unit */
    ChannelFindings(RigSession talk, int restTo) {
        this.talk = talk;
        this.trace = talk.trace();
        this.angles = trace.decode();
        this.restTo = restTo;
    }

    List<Finding> all() {
        List<Finding> found = new ArrayList<>();
        found.add(hall());
        found.add(current());
        found.add(noise());
        Ellipse ellipse = angles.ellipse();
        found.add(
                ellipse.fitted() ? ellipse(ellipse) : new Finding(Check.HALL_ELLIPSE, Result.NOT_MEASURED, NO_CIRCLE));
        found.add(
                ellipse.harmonicFitted()
                        ? residue(ellipse)
                        : new Finding(
                                Check.HARMONIC_RESIDUE,
                                Result.NOT_MEASURED,
                                "these shifts have too few stretches of steady speed to estimate it; angles are uncertain by "
                                        + number(angles.uncertaintyDeg()) + " deg"));
        return found;
    }

    private static final String NO_CIRCLE = "the Hall pair does not go round: no ellipse fits it";

    private Finding hall() {
        int[] least = {Integer.MAX_VALUE, Integer.MAX_VALUE};
        int[] most = {Integer.MIN_VALUE, Integer.MIN_VALUE};
        long clipped = 0;
        int full = talk.identity().hallCounts();
        for (int i = 0; i < trace.size(); i++) {
            if (angles.good(i)) {
                for (int c = 0; c < 2; c++) {
                    least[c] = Math.min(least[c], trace.counts(i, c));
                    most[c] = Math.max(most[c], trace.counts(i, c));
                    clipped += trace.counts(i, c) <= 0 || trace.counts(i, c) >= full - 1 ? 1 : 0;
                }
            }
        }
        if (least[0] > most[0]) {
            return new Finding(
                    Check.HALL_CHANNELS, Result.ATTENTION, "no sample with a usable Hall pair in all shifts");
        }
        double swing = Math.min(most[0] - least[0], most[1] - least[1]);
        boolean alive = swing >= LEAST_SWING * full && clipped == 0 && talk.lostBlocks() == 0;
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("sine-swing", new Quantity(most[0] - least[0], Unit.ONE));
        values.put("cosine-swing", new Quantity(most[1] - least[1], Unit.ONE));
        return ProbeTalks.finding(
                Check.HALL_CHANNELS,
                alive,
                String.format(
                        Locale.ROOT,
                        "sine %d to %d, cosine %d to %d of %d counts%s%s%s",
                        least[0],
                        most[0],
                        least[1],
                        most[1],
                        full,
                        swing >= LEAST_SWING * full ? "" : "; they should swing over an eighth of the range",
                        clipped == 0 ? "" : "; " + clipped + " values at the converter's ends",
                        talk.lostBlocks() == 0 ? "" : "; " + talk.lostBlocks() + " blocks were lost on the line"),
                values);
    }

    private Finding current() {
        if (talk.ampsPerCount() <= 0) {
            return new Finding(
                    Check.CURRENT_CHANNEL,
                    Result.NOT_MEASURED,
                    "the rig states no scale for it: it does not measure the current");
        }
        double rest = 0;
        double peak = 0;
        for (int i = 0; i < trace.size(); i++) {
            double amps = trace.counts(i, 2) * talk.ampsPerCount();
            rest += i < restTo ? amps / restTo : 0;
            peak = Math.max(peak, amps);
        }
        double stated = talk.identity().currentMicroampPerCount() / 1e6;
        boolean sameScale = stated <= 0 || Math.abs(talk.ampsPerCount() / stated - 1) <= SCALES_APART;
        boolean alive = peak - rest >= LEAST_RISE_A && Math.abs(rest) < LEAST_RISE_A;
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("rest", ProbeTalks.rounded(rest * 1e3, Unit.MA, 1));
        values.put("peak", ProbeTalks.rounded(peak, Unit.A, 3));
        return ProbeTalks.finding(
                Check.CURRENT_CHANNEL,
                alive && sameScale,
                String.format(
                        Locale.ROOT,
                        "%.1f mA at rest, %.2f A at most in motion%s%s",
                        rest * 1e3,
                        peak,
                        alive ? "" : "; it should be near 0 at rest and rise by 0.1 A in motion",
                        sameScale
                                ? ""
                                : String.format(
                                        Locale.ROOT,
                                        "; the description scales it %.4g mA/count, the rig %.4g mA/count",
                                        talk.ampsPerCount() * 1e3,
                                        stated * 1e3)),
                values);
    }

    /** Of the Hall pair while the shaft rests with its sensors on, of the others before anything was asked. */
    private Finding noise() {
        double radius = angles.ellipse().radius();
        double sin = hallNoise(0);
        double cos = hallNoise(1);
        double amps = noise(2, 0, restTo) * talk.ampsPerCount();
        double volts = noise(3, 0, restTo) * talk.identity().supplyMicrovoltPerCount() / 1e6;
        if (Double.isNaN(sin) || Double.isNaN(amps)) {
            return new Finding(Check.NOISE, Result.NOT_MEASURED, "no stretch of rest with the sensors on");
        }
        double worst = Math.max(sin, cos);
        boolean quiet =
                worst <= MOST_HALL_NOISE * radius && amps <= MOST_CURRENT_NOISE_A && volts <= MOST_SUPPLY_NOISE_V;
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("sine-counts", ProbeTalks.rounded(sin, Unit.ONE, 2));
        values.put("cosine-counts", ProbeTalks.rounded(cos, Unit.ONE, 2));
        values.put("angle", ProbeTalks.rounded(Math.toDegrees(worst / radius), Unit.DEG, 3));
        values.put("current", ProbeTalks.rounded(amps * 1e3, Unit.MA, 2));
        values.put("supply", ProbeTalks.rounded(volts * 1e3, Unit.MV, 2));
        return ProbeTalks.finding(
                Check.NOISE,
                quiet,
                String.format(
                        Locale.ROOT,
                        "sine %.1f, cosine %.1f counts (%.2f deg), current %.1f mA, supply %.1f mV, each one sd%s",
                        sin,
                        cos,
                        Math.toDegrees(worst / radius),
                        amps * 1e3,
                        volts * 1e3,
                        quiet
                                ? ""
                                : "; at most half a degree, 50 mA and 100 mV are expected: look at shields and grounds"),
                values);
    }

    /** Over the last moments before the sensors went off, or before the end of the samples. */
    private double hallNoise(int channel) {
        int still = (int) Math.ceil(STILL_S / talk.intervalS());
        double sum = 0;
        int stretches = 0;
        for (int i = 1; i <= trace.size(); i++) {
            boolean ends = i == trace.size() || !angles.good(i);
            if (ends && angles.good(i - 1) && i > still && resting(i - still, i)) {
                double sd = noise(channel, i - still, i);
                sum += sd * sd;
                stretches++;
            }
        }
        return stretches == 0 ? Double.NaN : Math.sqrt(sum / stretches);
    }

    private boolean resting(int from, int to) {
        for (int i = from; i < to; i++) {
            if (!angles.good(i) || Math.abs(angles.deg(i) - angles.deg(to - 1)) > 5) {
                return false;
            }
        }
        return true;
    }

    /** From differences of neighbours, so that a slow change is no noise; NaN for fewer than 3 samples. */
    private double noise(int channel, int from, int to) {
        double sum = 0;
        for (int i = from + 1; i < to; i++) {
            double step = trace.counts(i, channel) - trace.counts(i - 1, channel);
            sum += step * step;
        }
        return to - from < 3 ? Double.NaN : Math.sqrt(sum / 2 / (to - from - 1));
    }

    private Finding ellipse(Ellipse e) {
        double middle = talk.identity().hallCounts() / 2.0;
        double offset = Math.hypot(e.sinOffset() - middle, e.cosOffset() - middle);
        boolean round = offset <= MOST_OFFSET * e.radius()
                && Math.abs(e.gainRatio() - 1) <= MOST_GAIN_APART
                && Math.abs(e.phaseDeg()) <= MOST_PHASE_DEG;
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("sine-offset", ProbeTalks.rounded(e.sinOffset(), Unit.ONE, 1));
        values.put("cosine-offset", ProbeTalks.rounded(e.cosOffset(), Unit.ONE, 1));
        values.put("gain-ratio", ProbeTalks.rounded(e.gainRatio(), Unit.ONE, 4));
        values.put("phase", ProbeTalks.rounded(e.phaseDeg(), Unit.DEG, 2));
        values.put("radius", ProbeTalks.rounded(e.radius(), Unit.ONE, 1));
        return ProbeTalks.finding(
                Check.HALL_ELLIPSE,
                round,
                String.format(
                        Locale.ROOT,
                        "offset %.0f and %.0f counts, gain ratio %.3f, phase %.1f deg, radius %.0f counts%s",
                        e.sinOffset(),
                        e.cosOffset(),
                        e.gainRatio(),
                        e.phaseDeg(),
                        e.radius(),
                        round ? "" : "; far from a circle about the converter's middle: look at the magnet's place"),
                values);
    }

    private Finding residue(Ellipse e) {
        boolean small = e.harmonicDeg() <= MOST_HARMONIC_DEG && e.residualDeg() <= MOST_RESIDUE_DEG;
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("second-order", ProbeTalks.rounded(e.harmonicDeg(), Unit.DEG, 3));
        values.put("residual", ProbeTalks.rounded(e.residualDeg(), Unit.DEG, 3));
        values.put("uncertainty", ProbeTalks.rounded(angles.uncertaintyDeg(), Unit.DEG, 3));
        return ProbeTalks.finding(
                Check.HARMONIC_RESIDUE,
                small,
                String.format(
                        Locale.ROOT,
                        "second-order term %.2f deg, %.2f deg left after correction, angles uncertain by %.2f deg%s",
                        e.harmonicDeg(),
                        e.residualDeg(),
                        angles.uncertaintyDeg(),
                        small ? "" : "; at most 2 deg and 0.5 deg are expected"),
                values);
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.1f", value);
    }
}
