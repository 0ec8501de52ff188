package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.shiftstand.bench.ProbeReport;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescription.Hall;
import org.shiftstand.bench.RigDescription.Power;
import org.shiftstand.link.RigMessage.Identity;
import org.shiftstand.rig.UnattendedPermit.Confirmation;
import org.shiftstand.rig.UnattendedPermit.Granted;
import org.shiftstand.rig.UnattendedPermit.Refused;

class UnattendedPermitTest {
    private static final Instant PRESSED = Instant.parse("2026-09-14T08:31:05Z");
    private static final Set<Confirmation> ALL = EnumSet.allOf(Confirmation.class);

    private static Identity rig(String firmware) {
        return new Identity(1, 1, "bench-two", firmware, "", 0, 4096, 1200, 2500, 4000, 9000);
    }

    /** A probe in which everything passed. */
    private static ProbeReport sound() {
        List<Finding> findings = new ArrayList<>();
        for (Check check : Check.values()) {
            findings.add(new Finding(
                    check,
                    Result.PASS,
                    "fine",
                    check == Check.EMERGENCY_STOP ? Optional.of(PRESSED) : Optional.empty(),
                    Map.of()));
        }
        return probe(findings);
    }

    private static ProbeReport probe(List<Finding> findings) {
        return new ProbeReport(
                "bench-two", "1.4.0", "TD-0107", "", "requests", PRESSED.minusSeconds(65), "test", findings);
    }

    private static ProbeReport but(Check check, Result result, String text) {
        List<Finding> findings = new ArrayList<>(sound().findings());
        findings.replaceAll(f -> f.check() == check ? new Finding(check, result, text) : f);
        return probe(findings);
    }

    private static Optional<RigDescription> described(boolean guardClosed, Power power) {
        return Optional.of(new RigDescription(
                "bench-two",
                "",
                921_600,
                "requests",
                RunPlan.SIMULATED_GUARDS,
                new Hall(0, 4095, 1),
                OptionalDouble.empty(),
                List.of(),
                guardClosed,
                Optional.of(power),
                List.of(),
                List.of(),
                ""));
    }

    private static UnattendedPermit permit(ProbeReport probe, Instant now) {
        return UnattendedPermit.of(rig("1.4.0"), Optional.empty(), Optional.of(probe), now, ALL, false);
    }

    private static List<String> missing(UnattendedPermit permit) {
        return permit instanceof Refused refused ? refused.missing() : List.of();
    }

    @Test
    void a_rig_whose_probe_passed_today_may_run_alone() {
        assertThat(permit(sound(), PRESSED.plus(Duration.ofHours(23)))).isEqualTo(new Granted());
    }

    @Test
    void a_press_is_good_for_exactly_24_hours() {
        assertThat(permit(sound(), PRESSED.plus(Duration.ofHours(24)))).isEqualTo(new Granted());
        assertThat(missing(permit(sound(), PRESSED.plus(Duration.ofHours(24)).plusMillis(1))))
                .containsExactly("the emergency stop was last pressed at 2026-09-14T08:31:05Z, more than 24 hours ago:"
                        + " probe the rig again");
    }

    @Test
    void a_press_from_the_future_is_none() {
        assertThat(permit(sound(), PRESSED.minus(Duration.ofMinutes(5)))).isEqualTo(new Granted());
        assertThat(missing(permit(sound(), PRESSED.minus(Duration.ofMinutes(6)))))
                .hasSize(1)
                .allMatch(text -> text.contains("later than this machine's clock"));
    }

    @Test
    void each_cut_must_have_been_proved() {
        for (Check check : List.of(Check.EMERGENCY_STOP, Check.HEARTBEAT_CUT, Check.CURRENT_LIMIT, Check.CUT_LATENCY)) {
            assertThat(missing(permit(but(check, Result.NOT_MEASURED, "nobody was there"), PRESSED)))
                    .containsExactly("the probe's " + check.word() + ": not measured, nobody was there");
            assertThat(missing(permit(but(check, Result.ATTENTION, "too late"), PRESSED)))
                    .containsExactly("the probe's " + check.word() + ": attention, too late");
        }
    }

    @Test
    void a_coast_that_was_not_measured_keeps_nothing_from_running() {
        assertThat(permit(but(Check.COAST, Result.NOT_MEASURED, "no angles"), PRESSED))
                .isEqualTo(new Granted());
    }

    @Test
    void a_check_that_is_not_in_the_file_was_not_made() {
        List<Finding> some = sound().findings().stream()
                .filter(f -> f.check() != Check.HEARTBEAT_CUT)
                .toList();

        assertThat(missing(permit(probe(some), PRESSED)))
                .containsExactly("the probe has no heartbeat-cut: probe the rig again");
    }

    @Test
    void another_firmware_than_the_probed_one_is_another_rig() {
        UnattendedPermit permit =
                UnattendedPermit.of(rig("1.5.0"), Optional.empty(), Optional.of(sound()), PRESSED, ALL, false);

        assertThat(missing(permit))
                .containsExactly("the rig was probed with firmware '1.4.0' and now has '1.5.0': probe it again");
    }

    @Test
    void lithium_cells_are_never_left_alone_whatever_was_confirmed() {
        UnattendedPermit permit = UnattendedPermit.of(
                rig("1.4.0"), described(true, Power.LITHIUM_CELLS), Optional.of(sound()), PRESSED, ALL, false);

        assertThat(missing(permit)).hasSize(1).allMatch(text -> text.contains("cells are never left alone"));
    }

    @Test
    void a_restart_by_itself_needs_a_closed_guard() {
        assertThat(UnattendedPermit.of(
                        rig("1.4.0"), described(true, Power.FUSED_SUPPLY), Optional.of(sound()), PRESSED, ALL, true))
                .isEqualTo(new Granted());
        for (Optional<RigDescription> open :
                List.of(described(false, Power.FUSED_SUPPLY), Optional.<RigDescription>empty())) {
            assertThat(missing(UnattendedPermit.of(rig("1.4.0"), open, Optional.of(sound()), PRESSED, ALL, true)))
                    .hasSize(1)
                    .allMatch(text -> text.contains("needs a closed guard"));
        }
    }

    @Test
    void everything_that_is_missing_is_told_at_once() {
        UnattendedPermit permit = UnattendedPermit.of(
                rig("1.4.0"), described(false, Power.LITHIUM_CELLS), Optional.empty(), PRESSED, Set.of(), true);

        assertThat(missing(permit))
                .containsExactly(
                        "rig bench-two was never probed: run 'rig probe' with a person beside it",
                        "the rig description declares 'power: lithium-cells', and cells are never left alone: use a fused"
                                + " supply and say so there",
                        "not confirmed that the unit is fed by a supply behind a fuse, not by lithium cells: add --confirm"
                                + " fused-supply once you have looked",
                        "not confirmed that an independent over-temperature cut-out breaks that supply by itself: add"
                                + " --confirm cut-out once you have looked",
                        "a restart by itself needs a closed guard around the drive, and no 'guard: closed' is declared in a"
                                + " rig description: declare it where there is one, or leave --auto-restart out");
    }
}
