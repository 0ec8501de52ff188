package org.shiftstand.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.Correction;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.angle.HigherOrder;
import org.shiftstand.angle.OffsetDrift;
import org.shiftstand.angle.Rails;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.ShiftFinder;
import org.shiftstand.shift.ShiftTable;

/** Measures every shift of a source, without a spec. */
public final class Measuring {
    private Measuring() {}

    /**
     * Measures. Reads the source two or more times; it stays open, and must while the track is used.
     *
     * @param profile to number and align by; empty numbers what is seen from its outermost sprocket
     */
    public static Measurement measure(SampleSource source, Optional<Profile> profile, JudgeOptions options) {
        AngleTrack track = HallDecoder.decode(source, decoding(options));
        ShiftTable table = ShiftFinder.find(track, profile, options.shifts());
        List<String> notices = new ArrayList<>(source.notices());
        notices.addAll(gaps(source));
        notices.addAll(correction(track.correction()));
        notices.addAll(turns(track, options));
        notices.addAll(higherOrder(track.correction()));
        notices.addAll(drift(track.correction()));
        notices.addAll(clipped(track.correction().rails()));
        notices.addAll(table.notices());
        return new Measurement(
                source.identity(),
                profile,
                track.rebased(rebases(table)),
                table,
                notices.stream().distinct().toList());
    }

    private static DecodeOptions decoding(JudgeOptions options) {
        DecodeOptions decoding =
                options.calibration().map(DecodeOptions::calibrated).orElseGet(DecodeOptions::fromCapture);
        if (options.turnsPerCycle().isPresent()) {
            return decoding.withTurnsPerCycle(options.turnsPerCycle().getAsDouble());
        }
        return options.bench()
                .rig()
                .map(rig -> decoding.withTurnsPerCycle(rig.hall().turnsPerCycle()))
                .orElse(decoding);
    }

    /** Electrical turns that the table has added behind breaks, so that drawings show its angles. */
    private static List<AngleTrack.Rebase> rebases(ShiftTable table) {
        return table.resumptions().stream()
                .map(r -> new AngleTrack.Rebase(
                        new SampleSource.Break(r.fromS(), r.toS(), r.cause()).boundaryS(),
                        r.turns().orElse(0)))
                .toList();
    }

    private static List<String> gaps(SampleSource source) {
        long missing =
                source.gaps().stream().mapToLong(SampleSource.Gap::samples).sum();
        return source.gaps().isEmpty()
                ? List.of()
                : List.of("the source knows of " + source.gaps().size()
                        + (source.gaps().size() == 1 ? " gap" : " gaps") + " with " + missing
                        + " missing samples; shifts that they touch are not measured there");
    }

    /** Which magnet is meant, where it is not the usual one. */
    private static List<String> turns(AngleTrack track, JudgeOptions options) {
        return track.cycleDeg() == 360
                ? List.of()
                : List.of(String.format(
                        Locale.ROOT,
                        "one electrical turn of the Hall pair is taken for %s of the shaft, as %s says; where a turn is"
                                + " not known, angles are known but for so much",
                        new Quantity(Math.rint(100 * track.cycleDeg()) / 100, Unit.DEG),
                        options.turnsPerCycle().isPresent()
                                ? "the option given"
                                : options.calibration().isPresent()
                                                && options.bench().rig().isEmpty()
                                        ? "the calibration"
                                        : "the rig's description"));
    }

    /** What a long record gained beyond the second order. */
    private static List<String> higherOrder(Correction correction) {
        HigherOrder higher = correction.higher();
        return higher.isLearned()
                ? List.of(String.format(
                        Locale.ROOT,
                        "harmonics of the orders 3 and 4 of the Hall pair were learned from %d stretches of steady speed;"
                                + " %s",
                        higher.stretches(),
                        gained(
                                correction.turnsPerCycle() * higher.residualBeforeDeg(),
                                correction.turnsPerCycle() * higher.residualAfterDeg())))
                : List.of();
    }

    /** What is left without and with them; nothing is gained where the digits shown do not say so. */
    static String gained(double beforeDeg, double afterDeg) {
        String before = String.format(Locale.ROOT, "%.3f", beforeDeg);
        String after = String.format(Locale.ROOT, "%.3f", afterDeg);
        return afterDeg < beforeDeg && !before.equals(after)
                ? "they reduce what is left on stretches held out from " + before + " to " + after + " deg rms"
                : "they gain nothing that counts: on stretches held out " + before + " deg rms are left without them, "
                        + after + " with them";
    }

    /** How far the offsets of the pair drifted, and what re-fitting them gained. */
    private static List<String> drift(Correction correction) {
        OffsetDrift drift = correction.drift();
        return drift.isLearned()
                ? List.of(String.format(
                        Locale.ROOT,
                        "the offsets of the Hall pair drift by %.2f %% of its radius over the run; they were fitted anew in %d"
                                + " blocks of time, with straight lines between, which reduces the scatter across the circle"
                                + " from %.3f to %.3f deg rms",
                        100 * drift.range() / correction.radius(),
                        drift.centres().size(),
                        correction.turnsPerCycle() * drift.scatterBeforeDeg(),
                        correction.turnsPerCycle() * drift.scatterAfterDeg()))
                : List.of();
    }

    private static List<String> clipped(Rails rails) {
        List<String> told = new ArrayList<>();
        clipped(told, "cosine", "at and above", rails.cosHigh());
        clipped(told, "cosine", "at and below", rails.cosLow());
        clipped(told, "sine", "at and above", rails.sinHigh());
        clipped(told, "sine", "at and below", rails.sinLow());
        return told;
    }

    private static void clipped(List<String> told, String output, String where, double rail) {
        if (Double.isFinite(rail)) {
            told.add(String.format(
                    Locale.ROOT,
                    "the %s output of the Hall pair is clipped %s %.5g: no fit uses it there, and angles come from the other"
                            + " output alone; a smaller gain or another range would show all of it",
                    output,
                    where,
                    rail));
        }
    }

    private static List<String> correction(Correction correction) {
        return correction.secondOrderFrom().equals("none")
                ? List.of(String.format(
                        Locale.ROOT,
                        "the second-order term of the Hall correction could not be estimated: angles are uncertain by %.1f"
                                + " deg",
                        correction.uncertaintyDeg()))
                : List.of();
    }
}
