package org.shiftstand.rig;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.shiftstand.bench.ProbeReport;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescription.Power;
import org.shiftstand.link.RigMessage.Identity;

/** Whether a real rig may run while nobody is there; if not, everything that is missing, at once. */
public sealed interface UnattendedPermit {
    /** A press of the emergency stop says so much about the next day, and no more; common practice, no published source. */
    Duration STOP_VALID = Duration.ofHours(24);

    /** Clocks of two machines may differ by so much; a press from later than that is no press. */
    Duration CLOCK_SLACK = Duration.ofMinutes(5);

    /** It may. */
    record Granted() implements UnattendedPermit {}

    /**
     * It may not.
     *
     * @param missing a sentence each, with what to do; at least one
     */
    record Refused(List<String> missing) implements UnattendedPermit {
        public Refused {
            missing = List.copyOf(missing);
        }
    }

    /** What only a person can know, and has to say for each run. */
    enum Confirmation {
        FUSED_SUPPLY("fused-supply", "the unit is fed by a supply behind a fuse, not by lithium cells"),
        CUT_OUT("cut-out", "an independent over-temperature cut-out breaks that supply by itself");

        private final String word;
        private final String sentence;

        Confirmation(String word, String sentence) {
            this.word = word;
            this.sentence = sentence;
        }

        /** As {@code --confirm} takes it. */
        public String word() {
            return word;
        }

        /** What is confirmed, to be asked of a person. */
        public String sentence() {
            return sentence;
        }

        public static Optional<Confirmation> of(String word) {
            return Arrays.stream(values()).filter(c -> c.word.equals(word)).findFirst();
        }

        /** All words, as messages list them: {@code fused-supply,cut-out}. */
        public static String words() {
            return Arrays.stream(values()).map(Confirmation::word).collect(Collectors.joining(","));
        }
    }

    /**
     * Looks at all of it.
     *
     * @param rig as it has just said who it is
     * @param description what is declared of the rig, where there is a file
     * @param newest the newest probe of this rig, by its name
     * @param now wall clock, UTC
     * @param autoRestart whether motion may begin again by itself after a break: that needs a closed guard
     */
    static UnattendedPermit of(
            Identity rig,
            Optional<RigDescription> description,
            Optional<ProbeReport> newest,
            Instant now,
            Set<Confirmation> confirmed,
            boolean autoRestart) {
        List<String> missing = new ArrayList<>();
        if (newest.isEmpty()) {
            missing.add("rig " + rig.rigName() + " was never probed: run 'rig probe' with a person beside it");
        } else {
            missing.addAll(lacking(rig, newest.get(), now));
        }
        if (description.flatMap(RigDescription::power).equals(Optional.of(Power.LITHIUM_CELLS))) {
            missing.add("the rig description declares 'power: lithium-cells', and cells are never left alone: use a"
                    + " fused supply and say so there");
        }
        for (Confirmation wanted : Confirmation.values()) {
            if (!confirmed.contains(wanted)) {
                missing.add("not confirmed that " + wanted.sentence() + ": add --confirm " + wanted.word()
                        + " once you have looked");
            }
        }
        if (autoRestart && !description.map(RigDescription::guardClosed).orElse(false)) {
            missing.add("a restart by itself needs a closed guard around the drive, and no 'guard: closed' is declared"
                    + " in a rig description: declare it where there is one, or leave --auto-restart out");
        }
        return missing.isEmpty() ? new Granted() : new Refused(missing);
    }

    private static List<String> lacking(Identity rig, ProbeReport probe, Instant now) {
        List<String> missing = new ArrayList<>();
        if (!probe.rig().equals(rig.rigName())) {
            missing.add(
                    "the probe is of rig " + probe.rig() + ", and this one is " + rig.rigName() + ": probe this rig");
        }
        if (!probe.firmware().equals(rig.rigFirmware())) {
            missing.add("the rig was probed with firmware '" + probe.firmware() + "' and now has '" + rig.rigFirmware()
                    + "': probe it again");
        }
        for (Check check : Check.values()) {
            if (check.needed()) {
                lacking(check, probe.finding(check), now).ifPresent(missing::add);
            }
        }
        return missing;
    }

    private static Optional<String> lacking(Check check, Optional<Finding> found, Instant now) {
        if (found.isEmpty()) {
            return Optional.of("the probe has no " + check.word() + ": probe the rig again");
        }
        Finding finding = found.get();
        if (finding.result() != Result.PASS) {
            return Optional.of(
                    "the probe's " + check.word() + ": " + finding.result().word() + ", " + finding.text());
        }
        return check == Check.EMERGENCY_STOP ? aged(finding, now) : Optional.empty();
    }

    private static Optional<String> aged(Finding stop, Instant now) {
        if (stop.at().isEmpty()) {
            return Optional.of("the probe does not say when the emergency stop was pressed: probe the rig again");
        }
        Instant pressed = stop.at().get();
        if (pressed.isAfter(now.plus(CLOCK_SLACK))) {
            return Optional.of("the emergency stop was pressed at " + pressed + ", later than this machine's clock, "
                    + now + ": set the clock, then probe the rig again");
        }
        return Duration.between(pressed, now).compareTo(STOP_VALID) > 0
                ? Optional.of("the emergency stop was last pressed at " + pressed + ", more than "
                        + STOP_VALID.toHours() + " hours ago: probe the rig again")
                : Optional.empty();
    }
}
