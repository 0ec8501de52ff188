package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.bench.ProbeReport;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.RigMessage;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.rig.UnattendedPermit.Confirmation;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;
import org.shiftstand.sim.SupplyChange;

@Timeout(60)
class ProbeTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    private static BentLink rig(String options) {
        return new BentLink(new SimulatedLink(TARN, SimOptions.parse(options)));
    }

    private static ProbeEnd probed(Link link, boolean askForStop) {
        return Probe.run(link, plan(Optional.empty(), askForStop), ProbeMonitor.SILENT, () -> false);
    }

    private static ProbePlan plan(Optional<RigDescription> description, boolean askForStop) {
        return new ProbePlan("TD-0107", description, TARN.holdS(), askForStop, "test");
    }

    private static Finding found(ProbeEnd end, Check check) {
        return end.report().orElseThrow().finding(check).orElseThrow();
    }

    private static double value(Finding finding, String name) {
        Quantity q = Objects.requireNonNull(finding.values().get(name), name);
        return q.base();
    }

    private static void supplyIsOff(BentLink link) {
        List<SupplyChange> log = link.rig.supplyLog();
        assertThat(log).isNotEmpty();
        assertThat(log.get(log.size() - 1).milliVolts()).isZero();
    }

    @Nested
    class A_sound_rig {
        private final BentLink link = rig("seed=7,estop-at=9");
        private final ProbeEnd end = probed(link, true);

        @Test
        void passes_every_check_that_a_run_without_a_person_needs() {
            assertThat(end.end()).isEqualTo(new RunEnd.Completed());
            ProbeReport report = end.report().orElseThrow();
            assertThat(report.findings().stream().map(Finding::check).toList()).containsExactly(Check.values());
            assertThat(report.findings()).filteredOn(f -> f.check().needed()).allMatch(f -> f.result() == Result.PASS);
            supplyIsOff(link);
        }

        @Test
        void may_then_run_alone() {
            ProbeReport report = end.report().orElseThrow();

            assertThat(UnattendedPermit.of(
                            new Conversation(new SimulatedLink(TARN, SimOptions.parse("")), () -> false).hello(),
                            Optional.empty(),
                            Optional.of(report),
                            Instant.parse("2026-01-01T20:00:00Z"),
                            EnumSet.allOf(Confirmation.class),
                            false))
                    .isEqualTo(new UnattendedPermit.Granted());
        }

        @Test
        void says_when_the_emergency_stop_was_pressed() {
            assertThat(found(end, Check.EMERGENCY_STOP).at()).contains(Instant.parse("2026-01-01T00:00:09Z"));
        }

        @Test
        void cuts_a_second_after_the_last_heartbeat() {
            assertThat(value(found(end, Check.HEARTBEAT_CUT), "after")).isCloseTo(1.0, within(0.001));
        }

        /** The simulated unit's noise and harmonic are known: 2 counts, 0.4 % of a third harmonic. */
        @Test
        void has_the_noise_and_the_harmonic_that_were_put_in() {
            assertThat(value(found(end, Check.NOISE), "sine-counts")).isCloseTo(2, within(0.3));
            assertThat(value(found(end, Check.NOISE), "cosine-counts")).isCloseTo(2, within(0.3));
            // the ellipse takes part of a third harmonic for gain: what is left is 2 h, in radians (Heydemann 1981)
            assertThat(value(found(end, Check.HARMONIC_RESIDUE), "second-order"))
                    .isCloseTo(Math.toDegrees(2 * 0.004), within(0.1));
        }

        @Test
        void moves_nothing_before_its_cuts_were_tried_at_rest() {
            List<SupplyChange> log = link.rig.supplyLog();

            assertThat(log.stream()
                            .filter(c -> c.milliVolts() == 0)
                            .map(SupplyChange::cause)
                            .toList())
                    .containsExactly("cut", "emergency stop", "watchdog", "cut", "cut", "over-current", "cut");
        }
    }

    /** Truth: where the simulated shaft was when the cut came, and when the supply came back. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5})
    void coast_is_what_the_shaft_really_did_though_its_sensors_were_off(int seed) {
        BentLink link = rig("seed=" + seed);

        ProbeEnd end = probed(link, false);

        double truth = Math.abs(link.armedAfterDeg - link.atCutDeg);
        assertThat(truth).as("seed %d", seed).isGreaterThan(100);
        assertThat(value(found(end, Check.COAST), "coast")).as("seed %d", seed).isCloseTo(truth, within(6.0));
    }

    @Nested
    class A_rig_that_does_not_protect {
        @Test
        void its_watchdog_never_cuts() {
            BentLink link = rig("seed=7");
            link.heartbeats = true;

            ProbeEnd end = probed(link, false);

            Finding found = found(end, Check.HEARTBEAT_CUT);
            assertThat(found.result()).isEqualTo(Result.ATTENTION);
            assertThat(found.text()).contains("the rig left the supply on; do not run this rig");
            assertThat(end.end()).isEqualTo(new RunEnd.Completed());
            supplyIsOff(link);
        }

        @Test
        void nothing_is_moved_on_a_rig_whose_watchdog_never_cuts() {
            BentLink link = rig("seed=7");
            link.heartbeats = true;
            AtomicBoolean moved = new AtomicBoolean();
            link.hears = m -> {
                moved.compareAndSet(false, m instanceof HostMessage.ShiftRequest);
                return Optional.of(m);
            };

            ProbeEnd end = probed(link, false);

            assertThat(moved).isFalse();
            for (Check check : List.of(Check.HALL_CHANNELS, Check.CUT_LATENCY, Check.COAST, Check.CURRENT_LIMIT)) {
                assertThat(found(end, check).result()).as(check.word()).isEqualTo(Result.NOT_MEASURED);
                assertThat(found(end, check).text())
                        .isEqualTo("nothing was moved, since emergency stop or heartbeat do not cut as they must");
            }
        }

        @Test
        void its_current_limit_is_not_what_was_asked_for() {
            BentLink link = rig("seed=7");
            link.hears = m -> Optional.of(
                    m instanceof HostMessage.Limits l
                            ? new HostMessage.Limits(9000, l.currentMs(), 0, 0, 0, 0, 0, 0)
                            : m);

            Finding found = found(probed(link, false), Check.CURRENT_LIMIT);

            assertThat(found.result()).isEqualTo(Result.ATTENTION);
            assertThat(found.text()).contains("a whole shift did not trip it");
        }

        @Test
        void its_current_limit_acts_late() {
            BentLink link = rig("seed=7");
            link.hears = m -> Optional.of(
                    m instanceof HostMessage.Limits l && l.currentMa() == 100
                            ? new HostMessage.Limits(100, 60, 0, 0, 0, 0, 0, 0)
                            : m);

            Finding found = found(probed(link, false), Check.CURRENT_LIMIT);

            assertThat(found.result()).isEqualTo(Result.ATTENTION);
            assertThat(value(found, "supply-off-after")).isCloseTo(0.060, within(0.003));
        }

        @Test
        void it_cuts_late() {
            BentLink link = rig("seed=7");
            link.cutLateMicros = 80_000;

            Finding found = found(probed(link, false), Check.CUT_LATENCY);

            assertThat(found.result()).isEqualTo(Result.ATTENTION);
            assertThat(value(found, "command-to-dead")).isCloseTo(0.081, within(0.003));
        }

        @Test
        void it_sets_another_supply_than_it_was_told() {
            BentLink link = rig("seed=7");
            link.hears = m -> Optional.of(
                    m instanceof HostMessage.SupplySet s ? new HostMessage.SupplySet(s.supplyMv() - 400) : m);

            Finding found = found(probed(link, false), Check.SUPPLY);

            assertThat(found.result()).isEqualTo(Result.ATTENTION);
            assertThat(found.text()).contains("set 8.20 V, measured 7.80 V; at most 0.15 V apart are expected");
        }
    }

    @Nested
    class The_emergency_stop {
        @Test
        void that_nobody_presses_was_not_measured_and_the_probe_goes_on() {
            BentLink link = rig("seed=7");

            ProbeEnd end = probed(link, true);

            assertThat(end.end()).isEqualTo(new RunEnd.Completed());
            assertThat(found(end, Check.EMERGENCY_STOP).result()).isEqualTo(Result.NOT_MEASURED);
            assertThat(found(end, Check.EMERGENCY_STOP).text()).isEqualTo("nobody pressed it within 60 s");
            assertThat(found(end, Check.CURRENT_LIMIT).result()).isEqualTo(Result.PASS);
        }

        @Test
        void that_nobody_was_asked_for_ends_the_probe_and_what_follows_was_not_measured() {
            BentLink link = rig("seed=7,estop-at=12");

            ProbeEnd end = probed(link, false);

            assertThat(end.end()).isEqualTo(new RunEnd.RigFault("emergency stop (state fault)"));
            assertThat(found(end, Check.SUPPLY).result()).isEqualTo(Result.PASS);
            assertThat(found(end, Check.CURRENT_LIMIT).result()).isEqualTo(Result.NOT_MEASURED);
            assertThat(found(end, Check.CURRENT_LIMIT).text())
                    .isEqualTo("the probe ended before it: rig: emergency stop (state fault)");
            supplyIsOff(link);
        }

        @Test
        void is_asked_for_in_words_and_its_release_too() {
            List<String> asked = new ArrayList<>();

            Probe.run(
                    rig("seed=7,estop-at=9"),
                    plan(Optional.empty(), true),
                    new ProbeMonitor() {
                        @Override
                        public void ask(String text) {
                            asked.add(text);
                        }
                    },
                    () -> false);

            assertThat(asked)
                    .containsExactly(
                            "Press the emergency stop now, within 60 s. The unit has its supply; nothing moves.",
                            "Thank you. Release the emergency stop now; the supply stays off.");
        }
    }

    @Test
    void a_person_who_stops_it_stops_it() {
        BentLink link = rig("seed=7");
        AtomicBoolean wanted = new AtomicBoolean();

        ProbeEnd end = Probe.run(
                link,
                plan(Optional.empty(), false),
                new ProbeMonitor() {
                    @Override
                    public void phase(String text) {
                        wanted.set(text.startsWith("shifts"));
                    }
                },
                wanted::get);

        assertThat(end).isEqualTo(new ProbeEnd(Optional.empty(), new RunEnd.StoppedByUser()));
        supplyIsOff(link);
    }

    @Test
    void a_line_that_breaks_ends_it_with_what_was_found_so_far() {
        ProbeEnd end = probed(rig("seed=7,unplug-at=12"), false);

        assertThat(end.end()).isInstanceOf(RunEnd.LinkLost.class);
        assertThat(found(end, Check.HEARTBEAT_CUT).result()).isEqualTo(Result.PASS);
        assertThat(found(end, Check.COAST).result()).isEqualTo(Result.NOT_MEASURED);
    }

    @Test
    void a_unit_that_does_not_move_leaves_what_needs_motion_unmeasured() {
        ProbeEnd end = probed(rig("seed=7,fault=missed,from-cycle=0"), false);

        assertThat(end.end()).isEqualTo(new RunEnd.Completed());
        assertThat(found(end, Check.CUT_LATENCY).result()).isEqualTo(Result.NOT_MEASURED);
        assertThat(found(end, Check.CURRENT_CHANNEL).result()).isEqualTo(Result.ATTENTION);
        assertThat(found(end, Check.HALL_CHANNELS).result()).isEqualTo(Result.ATTENTION);
        assertThat(found(end, Check.HALL_ELLIPSE).result()).isNotEqualTo(Result.PASS);
    }

    @Test
    void a_description_that_does_not_fit_the_rig_is_told() {
        RigDescription other = new RigDescription(
                "bench-nine", "", 921_600, "direct", RunPlan.SIMULATED_GUARDS, OptionalDouble.of(0.0012), "");

        ProbeEnd end = Probe.run(rig("seed=7"), plan(Optional.of(other), false), ProbeMonitor.SILENT, () -> false);

        assertThat(found(end, Check.IDENTITY).result()).isEqualTo(Result.ATTENTION);
        assertThat(found(end, Check.IDENTITY).text())
                .endsWith("; but the description is of rig bench-nine; expected that of this rig; the"
                        + " description says drive: direct; expected requests");
        assertThat(found(end, Check.CURRENT_CHANNEL).text())
                .endsWith("; the description scales it 1.200 mA/count, the rig 2.500 mA/count");
    }

    @Test
    void a_cut_that_the_rig_does_not_confirm_is_told_at_the_end() {
        BentLink link = rig("seed=7");
        AtomicBoolean deaf = new AtomicBoolean();
        link.hears = m -> deaf.get() ? Optional.empty() : Optional.of(m);
        AtomicBoolean stop = new AtomicBoolean();

        ProbeEnd end = Probe.run(
                link,
                plan(Optional.empty(), false),
                new ProbeMonitor() {
                    @Override
                    public void phase(String text) {
                        if (text.equals("shifts, cut and coast")) {
                            link.tells = m -> {
                                deaf.compareAndSet(false, m instanceof RigMessage.Samples);
                                stop.set(deaf.get());
                                return m;
                            };
                        }
                    }
                },
                stop::get);

        assertThat(end.end()).isEqualTo(new RunEnd.CutNotConfirmed(new RunEnd.StoppedByUser()));
        assertThat(end.report()).isEmpty();
    }

    @Test
    void where_nobody_answers_there_is_no_probe() {
        assertThatThrownBy(() -> probed(rig("silent=true"), false)).isInstanceOf(LinkException.class);
    }
}
