package org.shiftstand.learn.compare;

import java.time.Instant;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measurement;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.Named;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.ComparedGroup;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;

/**
 * One run, measured, with what has to be like in the others.
 *
 * @param name file name
 * @param firmware of the unit, as its record says; empty where nothing says it
 * @param began UTC of the first sample; empty for a capture
 * @param setUp what is known of the set-up
 * @param runEnd why it ended early, where it did
 * @param measurement its shifts; the track in it is usable as long as the source is open
 */
public record ComparedRun(
        String name,
        Optional<String> firmware,
        Optional<Instant> began,
        Map<Aspect, String> setUp,
        Optional<String> runEnd,
        Measurement measurement) {
    static final String NOT_KNOWN = "not known";
    private static final int DIGEST_SHOWN = 12;

    /**
     * Measures a run; reads its samples twice or more.
     *
     * @param input stays open, and must while drawings are made of the run
     * @param spec whose settle band and stall current hold; without one those of the run's own spec
     */
    public static ComparedRun measure(
            String name, JudgeInput input, Named named, JudgeOptions options, Optional<Spec> spec) {
        JudgeInput.MeasureCase measuring = input.measuring(named, options);
        Optional<Spec> holds =
                spec.or(() -> Optional.ofNullable(input.texts().get("spec")).map(SpecReader::read));
        JudgeOptions asked = measuring.options();
        if (!options.bandSet() && holds.isPresent()) {
            asked = asked.withBandDeg(holds.get().bandDeg());
        }
        if (holds.isPresent() && holds.get().stallCurrentA().isPresent()) {
            asked = asked.withStallCurrentA(holds.get().stallCurrentA().getAsDouble());
        }
        Measurement measured = Measuring.measure(input.source(), measuring.profile(), asked);
        return new ComparedRun(
                name,
                Optional.ofNullable(input.identity().get("unit-firmware")),
                input.began(),
                setUp(input, measured, options),
                input.runEnd(),
                measured);
    }

    public ShiftTable table() {
        return measurement.table();
    }

    private static Map<Aspect, String> setUp(JudgeInput input, Measurement measured, JudgeOptions options) {
        Map<Aspect, String> setUp = new EnumMap<>(Aspect.class);
        options.unit().or(input::unit).ifPresent(unit -> setUp.put(Aspect.UNIT, unit));
        Optional.ofNullable(input.identity().get("rig")).ifPresent(rig -> setUp.put(Aspect.RIG, rig));
        text(input, "rig").ifPresent(text -> setUp.put(Aspect.RIG_DESCRIPTION, text));
        if (measured.source().kind().equals("record")) {
            setUp.put(Aspect.SIMULATED, input.identity().containsKey("simulated") ? "simulated" : "real");
        }
        // what the run was made by; where nothing says it, what it is measured by
        text(input, "profile")
                .or(() -> measured.profile().map(ComparedRun::words))
                .ifPresent(profile -> setUp.put(Aspect.PROFILE, profile));
        options.limitsFrom().or(() -> text(input, "limits")).ifPresent(limits -> setUp.put(Aspect.LIMITS, limits));
        text(input, "procedure").ifPresent(procedure -> setUp.put(Aspect.PROCEDURE, procedure));
        List<Double> supplies = ComparedGroup.supplies(measured.table());
        if (!supplies.isEmpty()) {
            setUp.put(
                    Aspect.SUPPLY,
                    supplies.stream().map(v -> Decimal.text(v) + " V").collect(Collectors.joining(" and ")));
        }
        // captures of one rate differ in the sixth digit of their median interval
        setUp.put(
                Aspect.SAMPLE_RATE, Decimal.text(Math.rint(1e4 / input.source().intervalS()) / 1e4) + " Hz");
        setUp.put(Aspect.SETTLE_BAND, Decimal.text(measured.table().bandDeg()) + " deg");
        return setUp;
    }

    private static String words(Profile profile) {
        return profile.name() + " version " + profile.version() + ", text " + shown(profile.sha256());
    }

    private static Optional<String> text(JudgeInput input, String role) {
        return Optional.ofNullable(input.texts().get(role)).map(ComparedRun::words);
    }

    private static String words(TextFile text) {
        return text.name() + ", text " + shown(text.sha256());
    }

    private static String shown(String sha256) {
        return sha256.length() > DIGEST_SHOWN ? sha256.substring(0, DIGEST_SHOWN) + "…" : sha256;
    }
}
