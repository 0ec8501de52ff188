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
import org.shiftstand.capture.SampleSource;
import org.shiftstand.profile.Profile;
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
        AngleTrack track = HallDecoder.decode(
                source, options.calibration().map(DecodeOptions::calibrated).orElseGet(DecodeOptions::fromCapture));
        ShiftTable table = ShiftFinder.find(track, profile, options.shifts());
        List<String> notices = new ArrayList<>(source.notices());
        notices.addAll(gaps(source));
        notices.addAll(correction(track.correction()));
        notices.addAll(higherOrder(track.correction().higher()));
        notices.addAll(table.notices());
        notices.addAll(options.notices());
        return new Measurement(
                source.identity(),
                profile,
                track.rebased(rebases(table)),
                table,
                notices.stream().distinct().toList());
    }

    /** Whole turns that the table has added behind breaks, so that drawings show its angles. */
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

    /** What a long record gained beyond the second order. */
    private static List<String> higherOrder(HigherOrder higher) {
        return higher.isLearned()
                ? List.of(String.format(
                        Locale.ROOT,
                        "harmonics of the orders 3 and 4 of the Hall pair were learned from %d stretches of steady speed;"
                                + " they reduce what is left on stretches held out from %.3f to %.3f deg rms",
                        higher.stretches(),
                        higher.residualBeforeDeg(),
                        higher.residualAfterDeg()))
                : List.of();
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
