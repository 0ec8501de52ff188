package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BooleanSupplier;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event.Kind;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Action.RequestShift;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.Procedure.StopWhen;
import org.shiftstand.record.RunEvent;

class RigRunnerTest {
    private final BenchRig rig = new BenchRig();
    private final MemoryWriter record = new MemoryWriter();
    private final List<RunMonitor.Progress> progress = new ArrayList<>();
    private final List<String> notices = new ArrayList<>();
    private BooleanSupplier stop = () -> false;
    private StopWhen stopWhen = new StopWhen(List.of(), OptionalDouble.empty(), OptionalDouble.empty());

    @AfterEach
    void the_supply_is_off() {
        assertThat(rig.supplyOn).isFalse();
    }

    @Test
    void a_script_is_done_request_by_request() {
        rig.position = 1;

        RunEnd end = run(supply(8.2), shift(1, 1, 2), shift(1, 2, 3), shift(2, 3, 2));

        assertThat(end).isEqualTo(new RunEnd.Completed());
        assertThat(record.end).isEmpty();
        assertThat(record.closed).isTrue();
        assertThat(record.events("request"))
                .extracting(RunEvent::value, RunEvent::from, RunEvent::to, RunEvent::cycle, RunEvent::step)
                .containsExactly(
                        org.assertj.core.groups.Tuple.tuple(1, 1, 2, 1, "sweep-1"),
                        org.assertj.core.groups.Tuple.tuple(1, 2, 3, 1, "sweep-1"),
                        org.assertj.core.groups.Tuple.tuple(-1, 3, 2, 2, "sweep-1"));
        assertThat(record.events("request")).allMatch(e -> e.supplyMv() == 8200);
        assertThat(record.gaps).isEmpty();
        assertThat(record.counters).containsEntry("damaged-frames", 0L).containsEntry("lost-frames", 0L);
        assertThat(record.places).containsExactly(0, 1, 2, 3, 4); // the last: nothing is left to be done
        assertThat(progress.get(progress.size() - 1).percent()).isEqualTo(100);
    }

    @Test
    void configuration_and_limits_come_before_the_supply() {
        run(supply(8.2));

        assertThat(rig.heard.stream()
                        .map(h -> h.message())
                        .filter(m -> !(m instanceof HostMessage.Heartbeat))
                        .toList())
                .containsExactly(
                        new HostMessage.Hello(1, 1),
                        new HostMessage.Configure(512, 64),
                        new HostMessage.Limits(9000, 20, 0, 0, 4000, 9000, 0, 600),
                        new HostMessage.Arm(8200),
                        new HostMessage.Cut(),
                        new HostMessage.Stop());
    }

    @Test
    void the_heart_beats_each_200_ms_while_the_unit_has_power() {
        run(supply(8.2), new Action.Pause(30));

        List<Long> beats = rig.heard.stream()
                .filter(h -> h.message() instanceof HostMessage.Heartbeat)
                .map(BenchRig.Heard::atMicros)
                .toList();
        assertThat(beats).hasSizeBetween(149, 152);
        for (int i = 1; i < beats.size(); i++) {
            assertThat(beats.get(i) - beats.get(i - 1)).isBetween(200_000L, 201_000L);
        }
    }

    @Test
    void the_clocks_are_compared_at_the_start_and_each_minute() {
        run(supply(8.2), new Action.Pause(150));

        assertThat(record.anchors).hasSize(3);
    }

    @Test
    void a_sprocket_farther_away_is_asked_for_by_its_number() {
        run(supply(8.2), shift(1, 4, 7));

        assertThat(rig.heard).anyMatch(h -> h.message().equals(new HostMessage.ShiftRequest(0, 7)));
        assertThat(rig.position).isEqualTo(7);
    }

    @Test
    void the_supply_is_changed_between_shifts() {
        run(supply(8.2), shift(1, 4, 5), supply(7.4), shift(2, 5, 6));

        assertThat(record.events("request")).extracting(RunEvent::supplyMv).containsExactly(8200, 7400);
        assertThat(record.events("supply-set")).extracting(RunEvent::value).containsExactly(7400);
    }

    @Nested
    class Homing {
        @Test
        void goes_outboard_until_the_unit_stays_where_it_is_twice() {
            run(supply(8.2), new Action.Home());

            assertThat(rig.position).isEqualTo(1);
            assertThat(rig.moves).isEqualTo(5); // 4 to 1, and two that do not move
            assertThat(record.events("request"))
                    .allMatch(e -> e.cycle() == 0 && e.step().equals("home"));
            assertThat(record.events("home")).extracting(RunEvent::value).containsExactly(5);
        }

        @Test
        void ends_although_the_unit_goes_on_moving_and_says_so() {
            rig.neverSettles = true;

            run(supply(8.2), new Action.Home());

            assertThat(notices).anyMatch(n -> n.startsWith("homing: the unit still moves after 31 outboard requests"));
        }
    }

    @Nested
    class Waiting_for_a_shift {
        @Test
        void does_not_take_a_plateau_for_the_end() {
            rig.holdS = 0.7;

            run(supply(8.2), shift(1, 4, 5), shift(1, 5, 6));

            List<RunEvent> requests = record.events("request");
            // start 0.02, out 0.3, hold 0.7, back 0.15, then at least 1 s of rest
            assertThat(requests.get(1).atMicros() - requests.get(0).atMicros()).isGreaterThan(2_170_000L);
        }

        @Test
        void gives_a_slow_unit_time_to_start() {
            rig.startDelayS = 2.5;

            run(supply(8.2), shift(1, 4, 5), shift(1, 5, 6));

            List<RunEvent> requests = record.events("request");
            assertThat(requests.get(1).atMicros() - requests.get(0).atMicros()).isGreaterThan(3_800_000L);
        }

        @Test
        void goes_on_after_60_s_without_rest_and_records_it() {
            rig.neverSettles = true;

            RunEnd end = run(supply(8.2), shift(1, 4, 5), shift(1, 5, 6));

            assertThat(end).isEqualTo(new RunEnd.Completed());
            assertThat(record.events("not-settled")).hasSize(2);
            assertThat(record.events("not-settled").get(0).text())
                    .isEqualTo("the shift from 4 to 5 in cycle 1 (sweep-1) did not come to rest within 60 s");
        }

        @Test
        void stops_there_where_the_procedure_says_so() {
            rig.neverSettles = true;
            stopWhen = new StopWhen(List.of("not-settled"), OptionalDouble.empty(), OptionalDouble.empty());

            RunEnd end = run(supply(8.2), shift(1, 4, 5), shift(1, 5, 6));

            assertThat(end.reason())
                    .isEqualTo("stop-when: not-settled: the shift from 4 to 5 in cycle 1 (sweep-1) did not come to rest"
                            + " within 60 s");
            assertThat(record.end).isEqualTo(end.reason());
        }

        @Test
        void sees_a_missed_shift() {
            rig.stuck = true;
            stopWhen = new StopWhen(List.of("missed"), OptionalDouble.empty(), OptionalDouble.empty());

            assertThat(run(supply(8.2), shift(1, 4, 5)).reason())
                    .isEqualTo(
                            "stop-when: missed: the shift from 4 to 5 in cycle 1 (sweep-1) was missed: no motion seen");
        }

        @Test
        void ends_when_samples_stop_coming() {
            rig.samplesStop = true;

            assertThat(run(supply(8.2), shift(1, 4, 5)))
                    .isEqualTo(new RunEnd.LinkLost("the rig has said nothing for 1 s, though the port is there"));
        }
    }

    @Nested
    class A_long_rest_under_supply {
        @Test
        void ends_when_the_rig_is_there_but_its_samples_do_not_come() {
            rig.loses = m -> m instanceof RigMessage.Samples && rig.now() > 10_000_000;
            rig.chatters = true;

            RunEnd end = run(supply(8.2), new Action.Pause(600));

            assertThat(end).isEqualTo(new RunEnd.RigFault("no samples for 5 s, though the supply is on"));
            assertThat(cutAt()).isBetween(14_900_000L, 15_500_000L);
        }
    }

    @Nested
    class Guards_in_the_host {
        @Test
        void cut_when_the_rig_does_not() {
            rig.current = t -> t > 2 && t < 2.1 ? 9.5 : 0.2;

            RunEnd end = run(supply(8.2), new Action.Pause(10));

            assertThat(end)
                    .isEqualTo(new RunEnd.RigFault(
                            "guard: current above 9 A for 20 ms (the rig's own guard did not act first)"));
            assertThat(cutAt()).isBetween(2_020_000L, 2_150_000L); // the block that shows it, and no later
        }

        @Test
        void let_inrush_pass() {
            rig.current = t -> t > 2 && t < 2.015 ? 20 : 0.2;

            assertThat(run(supply(8.2), new Action.Pause(10))).isEqualTo(new RunEnd.Completed());
        }

        @Test
        void know_the_current_that_ends_a_run_by_procedure() {
            rig.current = t -> t > 2 ? 3 : 0.2;
            stopWhen = new StopWhen(List.of(), OptionalDouble.of(2.4), OptionalDouble.of(0.5));

            assertThat(run(supply(8.2), new Action.Pause(10)))
                    .isEqualTo(new RunEnd.StoppedByRule(
                            RunEnd.StoppedByRule.Rule.CURRENT, "current above 2.4 A for 500 ms"));
        }

        @Test
        void know_the_mean_current_that_ends_a_run_by_procedure() {
            rig.current = t -> t > 2 ? (t - Math.floor(t) < 0.5 ? 2.2 : 0.2) : 0.2; // 1.2 A in the mean
            stopWhen = new StopWhen(
                    List.of(),
                    OptionalDouble.empty(),
                    OptionalDouble.empty(),
                    OptionalDouble.of(1),
                    OptionalDouble.of(2));

            assertThat(run(supply(8.2), new Action.Pause(10)))
                    .isEqualTo(new RunEnd.StoppedByRule(
                            RunEnd.StoppedByRule.Rule.CURRENT, "average current above 1 A over 2 s"));
            assertThat(cutAt()).isBetween(3_300_000L, 4_200_000L);
        }

        @Test
        void know_a_stall() {
            rig.stuck = true;
            rig.current = t -> rig.moves > 0 ? 3 : 0.2;
            stopWhen = new StopWhen(List.of("stalled"), OptionalDouble.empty(), OptionalDouble.empty());

            RunEnd end = run(supply(8.2), shift(1, 4, 5));

            assertThat(end.reason()).isEqualTo("stop-when: stalled: no motion with a current above 2.4 A for 0.3 s");
        }
    }

    @Nested
    class A_bad_line {
        @Test
        void loses_an_answer_and_the_command_is_sent_again_with_its_number() {
            rig.loses = first(m -> m instanceof RigMessage.Ack a && a.sequence() == 3);

            run(supply(8.2));

            assertThat(rig.heard.stream()
                            .filter(h -> h.message() instanceof HostMessage.Arm)
                            .map(BenchRig.Heard::sequence)
                            .toList())
                    .containsExactly(3, 3);
            assertThat(record.counters).containsEntry("resent-commands", 1L).containsEntry("lost-frames", 1L);
        }

        @Test
        void loses_an_echo_and_the_request_keeps_its_first_time_and_moves_once() {
            rig.loses = first(m -> m instanceof RigMessage.Event e && e.kind() == Kind.REQUEST_ECHO);

            run(supply(8.2), shift(1, 4, 5));

            assertThat(rig.moves).isEqualTo(1);
            List<BenchRig.Heard> requests = rig.heard.stream()
                    .filter(h -> h.message() instanceof HostMessage.ShiftRequest)
                    .toList();
            assertThat(requests).hasSize(2);
            assertThat(record.events("request"))
                    .extracting(RunEvent::atMicros)
                    .containsExactly(requests.get(0).atMicros());
        }

        @Test
        void loses_blocks_and_the_gap_has_their_exact_count() {
            rig.loses = m -> m instanceof RigMessage.Samples s && (s.blockNumber() == 5 || s.blockNumber() == 6);

            run(supply(8.2), new Action.Pause(3));

            assertThat(record.gaps).hasSize(1);
            MemoryWriter.Gap gap = record.gaps.get(0);
            assertThat(gap.samples()).isEqualTo(128);
            assertThat(gap.cause()).isEqualTo("lost block");
            // last sample of block 4 to first of block 7: 129 intervals of 1953.125 us
            assertThat(gap.toMicros() - gap.fromMicros()).isBetween(251_952L, 251_955L);
            assertThat(record.counters).containsEntry("lost-blocks", 2L).containsEntry("lost-frames", 2L);
        }

        @Test
        void loses_the_first_block() {
            rig.loses = m -> m instanceof RigMessage.Samples s && s.blockNumber() == 0;

            run(supply(8.2), new Action.Pause(3));

            assertThat(record.gaps).singleElement().matches(g -> g.samples() == 64);
        }

        @Test
        void loses_an_event_and_the_samples_around_it_are_in_doubt() {
            rig.loses = m -> m instanceof RigMessage.Event e && e.kind() == Kind.HALL_ON;

            run(supply(8.2), new Action.Pause(3));

            assertThat(record.gaps)
                    .singleElement()
                    .matches(g -> g.samples() == 0 && g.cause().equals("lost event"));
        }

        @Test
        void doubles_frames_and_nothing_is_recorded_twice() {
            rig.doubles = m -> true;

            run(supply(8.2), shift(1, 4, 5));

            assertThat(record.events("request")).hasSize(1);
            assertThat(record.blocks).extracting(MemoryWriter.Block::number).doesNotHaveDuplicates();
            assertThat(record.gaps).isEmpty();
        }

        @Test
        void breaks_and_the_run_ends_with_what_there_is() {
            rig.lostAt = 3_000_000;

            assertThat(run(supply(8.2), new Action.Pause(10))).isEqualTo(new RunEnd.LinkLost("unplugged"));

            assertThat(record.end).isEqualTo("link lost: unplugged");
            assertThat(record.blocks).hasSizeBetween(22, 24);
            assertThat(notices)
                    .containsExactly("the rig did not confirm that the supply is off; take the supply away by hand");
        }

        @Test
        void goes_silent_and_is_found_out_within_a_good_second() {
            rig.muteAt = 3_000_000;

            RunEnd end = run(supply(8.2), new Action.Pause(5), shift(1, 4, 5));

            assertThat(end)
                    .isEqualTo(new RunEnd.LinkLost("the rig has said nothing for 1 s, though the port is there"));
            assertThat(cutAt()).isBetween(3_900_000L, 4_200_000L);
            rig.close(); // by its own watchdog
        }
    }

    @Nested
    class A_rig {
        @Test
        void whose_emergency_stop_is_pressed_ends_the_run() {
            rig.emergencyAt = 2_000_000;

            assertThat(run(supply(8.2), new Action.Pause(10))).isEqualTo(new RunEnd.RigFault("emergency stop"));

            assertThat(record.end).isEqualTo("rig: emergency stop");
            assertThat(record.events).extracting(RunEvent::kind).containsSubsequence("emergency-stop", "supply-off");
            assertThat(notices).isEmpty(); // the cut was confirmed all the same
        }

        @Test
        void that_never_answers_is_told_so_and_no_record_is_made() {
            rig.mute = true;

            assertThatThrownBy(() -> run(supply(8.2)))
                    .isInstanceOf(LinkException.class)
                    .hasMessage("bench:: no answer to hello, 3 times within 2 s each. Check that a rig is on this port,"
                            + " that it has power, and that its speed is the one set; damaged frames seen: 0.");
            assertThat(record.written).isEmpty();
            assertThat(rig.now()).isBetween(6_000_000L, 8_000_000L);
        }

        @Test
        void that_speaks_another_version_is_refused() {
            rig.major = 2;

            assertThatThrownBy(() -> run(supply(8.2)))
                    .isInstanceOf(LinkException.class)
                    .hasMessageStartingWith("bench:: the rig speaks protocol version 2, this program speaks 1.");
        }

        @Test
        void that_cannot_give_the_voltage_is_not_armed() {
            assertThatThrownBy(() -> run(supply(12)))
                    .hasMessage(
                            "bench:: the procedure sets the supply to 12 V; rig and guards allow 4 V to 9 V. Nothing was"
                                    + " moved.");
            assertThat(rig.wasOn).isFalse();
        }

        @Test
        void that_hears_no_heartbeat_cuts_by_itself() {
            var slow = new MemoryWriter() {
                @Override
                public void block(long number, long first, long interval, short[] samples) {
                    while (number == 5 && rig.supplyOn) {
                        rig.receive(rig.now() + 100_000); // the disk hangs for as long
                    }
                    super.block(number, first, interval, samples);
                }
            };

            RunEnd end =
                    RigRunner.run(rig, plan(supply(8.2), new Action.Pause(10)), h -> slow, RunMonitor.SILENT, stop);

            assertThat(end).isInstanceOf(RunEnd.RigFault.class);
        }
    }

    @Nested
    class On_every_way_out {
        @Test
        void a_stop_by_the_user_cuts_before_anything_else_is_written() {
            AtomicInteger asked = new AtomicInteger();
            List<Integer> writtenAtStop = new ArrayList<>();
            stop = () -> {
                boolean now = asked.incrementAndGet() > 40;
                if (now && writtenAtStop.isEmpty()) {
                    writtenAtStop.add(record.written.size());
                }
                return now;
            };
            var watched = new ArrayList<Integer>();
            rig.loses = m -> {
                if (m instanceof RigMessage.Ack && !writtenAtStop.isEmpty() && watched.isEmpty()) {
                    watched.add(record.written.size());
                }
                return false;
            };

            RunEnd end = run(supply(8.2), shift(1, 4, 5), new Action.Pause(100));

            assertThat(end).isEqualTo(new RunEnd.StoppedByUser());
            assertThat(record.end).isEqualTo("stopped by the user");
            assertThat(watched).isEqualTo(writtenAtStop);
        }

        @Test
        void a_cut_that_the_rig_does_not_confirm_is_the_end_and_no_supply_is_said_to_be_off() {
            AtomicInteger asked = new AtomicInteger();
            stop = () -> asked.incrementAndGet() > 40;
            rig.loses = m -> m instanceof RigMessage.Ack && asked.get() > 40;

            RunEnd end = run(supply(8.2), new Action.Pause(100));

            assertThat(end).isEqualTo(new RunEnd.CutNotConfirmed(new RunEnd.StoppedByUser()));
            assertThat(end.supply()).isEqualTo("The supply may still be on: take it away by hand.");
            assertThat(record.end)
                    .isEqualTo("stopped by the user; the rig did not confirm that the supply is off; take the"
                            + " supply away by hand");
        }

        @Test
        void a_full_disk_cuts_first_and_is_then_told() {
            record.failsAtBlock = 9;
            record.failsWith = new UncheckedIOException(new IOException("no space left"));

            assertThatThrownBy(() -> run(supply(8.2), new Action.Pause(10))).isSameAs(record.failsWith);

            assertThat(rig.wasOn).isTrue();
            assertThat(confirmed()).isTrue();
            assertThat(record.closed).isTrue();
        }

        @Test
        void a_defect_of_the_program_cuts_first_and_the_record_says_so() {
            var defect = new AssertionError("defect");
            RunMonitor broken = new RunMonitor() {
                @Override
                public void progress(Progress p) {
                    throw defect;
                }
            };

            assertThatThrownBy(() -> RigRunner.run(rig, plan(supply(8.2), shift(1, 4, 5)), h -> record, broken, stop))
                    .isSameAs(defect);

            assertThat(confirmed()).isTrue();
            assertThat(record.end).isEqualTo("a defect of this program: defect");
        }

        @Test
        void a_record_that_cannot_be_made_leaves_the_rig_as_it_was() {
            var full = new UncheckedIOException(new IOException("no space left"));

            assertThatThrownBy(() -> RigRunner.run(
                            rig,
                            plan(supply(8.2)),
                            h -> {
                                throw full;
                            },
                            RunMonitor.SILENT,
                            stop))
                    .isSameAs(full);

            assertThat(rig.wasOn).isFalse();
        }

        private boolean confirmed() {
            List<HostMessage> last =
                    rig.heard.stream().map(BenchRig.Heard::message).toList();
            return last.contains(new HostMessage.Cut()) && last.contains(new HostMessage.Stop());
        }
    }

    @Test
    void a_plan_that_cannot_be_run_says_everything_that_is_wrong() {
        stopWhen = new StopWhen(List.of("short", "stalled"), OptionalDouble.empty(), OptionalDouble.empty());

        assertThat(plan(new Action.Home(), supply(8.2)).problems())
                .containsExactly(
                        "stop-when: outcome short cannot be seen during a run; expected one of missed, not-settled,"
                                + " stalled",
                        "the procedure sets no supply before the first motion; begin its steps with one such as"
                                + " 'supply: 8.2 V'");
    }

    private RunEnd run(Action... actions) {
        return RigRunner.run(
                rig,
                plan(actions),
                header -> record,
                new RunMonitor() {
                    @Override
                    public void progress(Progress p) {
                        progress.add(p);
                    }

                    @Override
                    public void notice(String text) {
                        notices.add(text);
                    }
                },
                stop);
    }

    private RunPlan plan(Action... actions) {
        return Plans.of(
                List.of(actions),
                new Procedure("bench", 1, 512, List.of(), stopWhen, ""),
                Optional.empty(),
                RunPlan.SIMULATED_GUARDS,
                OptionalDouble.of(2.4));
    }

    private long cutAt() {
        return rig.heard.stream()
                .filter(h -> h.message() instanceof HostMessage.Cut)
                .findFirst()
                .orElseThrow()
                .atMicros();
    }

    private static java.util.function.Predicate<RigMessage> first(java.util.function.Predicate<RigMessage> which) {
        boolean[] done = new boolean[1];
        return m -> {
            boolean hit = !done[0] && which.test(m);
            done[0] |= hit;
            return hit;
        };
    }

    private static Action supply(double volts) {
        return new Action.SetSupply(volts);
    }

    private static RequestShift shift(int cycle, int from, int to) {
        return new RequestShift(cycle, from, to, "sweep-1", 0.35);
    }
}
