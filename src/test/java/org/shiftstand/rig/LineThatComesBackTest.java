package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BooleanSupplier;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.Port;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Action.RequestShift;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.Procedure.OnLinkLoss;
import org.shiftstand.procedure.Procedure.StopWhen;
import org.shiftstand.record.RunEvent;

class LineThatComesBackTest {
    private final List<BenchRig> rigs = new ArrayList<>();
    private MemoryWriter record = new MemoryWriter();
    private final List<String> notices = new ArrayList<>();
    private final List<String> asked = new ArrayList<>();
    private GoAhead goAhead = what -> asked.add(what);
    private OnLinkLoss policy = new OnLinkLoss.Reconnect(30);
    private long backAfterMicros = 3_000_000;
    private long pausedMicros;
    private int losesAtShift = 2;
    private long losesAfterMicros = 500_000;
    private List<Action> actions =
            List.of(new Action.SetSupply(8.2), new Action.Home(), shift(1, 2), shift(2, 3), shift(3, 4));
    private String otherFirmware = "";
    private String otherRigFirmware = "";
    private Optional<Continuation> goesOn = Optional.empty();
    private BooleanSupplier stop = () -> false;
    private Optional<RuntimeException> portFails = Optional.empty();

    @Test
    void the_unit_is_homed_and_the_shift_that_was_under_way_is_made_again() {
        RunEnd end = run();

        assertThat(end).isEqualTo(new RunEnd.Completed());
        assertThat(record.end).isEmpty();
        assertThat(record.sessions).containsExactly("the line was lost: unplugged");
        assertThat(record.events("request"))
                .extracting(e -> e.step() + " " + e.from() + "-" + e.to() + " in " + e.cycle())
                .containsSubsequence(
                        "sweep-1 1-2 in 1",
                        "sweep-1 2-3 in 1", // the line is lost while the unit does this
                        "home 0-0 in 0",
                        "home 0-0 in 0",
                        "return 1-2 in 0",
                        "sweep-1 2-3 in 1",
                        "sweep-1 3-4 in 1");
        assertThat(rigs.get(1).position).isEqualTo(4);
        assertThat(asked).hasSize(1);
    }

    @Test
    void the_supply_is_off_until_the_go_ahead_is_given() {
        goAhead = what -> {
            assertThat(rigs).hasSize(2).noneMatch(rig -> rig.supplyOn);
            return true;
        };

        run();

        assertThat(rigs.get(1).wasOn).isTrue();
    }

    @Test
    void times_in_the_record_go_on_and_never_back_though_the_rigs_clock_began_anew() {
        run();

        assertThat(record.blocks).extracting(MemoryWriter.Block::firstMicros).isSorted();
        assertThat(record.events("request")).extracting(RunEvent::atMicros).isSorted();
        int first = 0;
        while (record.blocks.get(first + 1).number() != 0) {
            first++;
        }
        long apart = record.blocks.get(first + 1).firstMicros()
                - record.blocks.get(first).firstMicros();
        assertThat(apart).isGreaterThan(1_000_000L);
    }

    @Test
    void counters_go_on() {
        run();

        long blocks = record.blocks.size();
        assertThat(record.counters.get("frames")).isGreaterThan(blocks);
    }

    @Test
    void a_unit_whose_supply_was_off_at_the_break_is_homed_once_it_has_its_supply_again() {
        actions = List.of(
                new Action.SetSupply(8.2),
                new Action.Home(),
                shift(1, 2),
                shift(2, 3),
                new Action.SupplyOff(),
                new Action.Pause(20),
                new Action.SetSupply(8.2),
                shift(3, 4));
        losesAtShift = 3;
        losesAfterMicros = 6_000_000; // in the pause

        assertThat(run()).isEqualTo(new RunEnd.Completed());

        assertThat(record.sessions).hasSize(1);
        assertThat(record.events("request"))
                .extracting(e -> e.step() + " " + e.from() + "-" + e.to() + " in " + e.cycle())
                .containsSubsequence(
                        "sweep-1 2-3 in 1",
                        "home 0-0 in 0",
                        "home 0-0 in 0",
                        "return 1-2 in 0",
                        "return 2-3 in 0",
                        "sweep-1 3-4 in 1");
        assertThat(rigs.get(1).position).isEqualTo(4);
    }

    @Test
    void counters_of_a_run_that_was_broken_off_go_on_as_well() {
        goesOn = Optional.of(new Continuation(2, 60_000_000, 0, 0, 0, "power", Map.of("lost-blocks", 5L)));
        losesAtShift = 99;

        assertThat(run()).isEqualTo(new RunEnd.Completed());

        assertThat(record.counters).containsEntry("lost-blocks", 5L).containsEntry("repeated-blocks", 0L);
    }

    @Test
    void nothing_is_recorded_before_the_session_of_a_run_that_goes_on_while_its_supply_is_off() {
        record = new MemoryWriter() {
            @Override
            public void place(int action, long atMicros) {
                begun();
                super.place(action, atMicros);
            }

            @Override
            public void counter(String name, long value) {
                begun();
                super.counter(name, value);
            }

            private void begun() {
                assertThat(sessions)
                        .as("as a record that is gone on with demands it")
                        .hasSize(1);
            }
        };
        actions = List.of(
                new Action.SetSupply(8.2),
                new Action.Home(),
                new Action.SupplyOff(),
                new Action.Pause(20),
                new Action.SetSupply(8.2),
                new Action.Home(),
                shift(1, 2));
        goesOn = Optional.of(new Continuation(3, 60_000_000, 0, 0, 0, "power", Map.of()));
        losesAtShift = 99;

        assertThat(run()).isEqualTo(new RunEnd.Completed());

        assertThat(record.places).isSorted().endsWith(5, 6, 7);
    }

    @Nested
    class The_run_ends {
        @Test
        void where_the_procedure_says_so() {
            policy = new OnLinkLoss.Stop();

            assertThat(run()).isEqualTo(new RunEnd.LinkLost("unplugged"));

            assertThat(rigs).hasSize(1);
        }

        @Test
        void when_the_line_does_not_come_back_in_time() {
            backAfterMicros = 40_000_000;

            assertThat(run()).isEqualTo(new RunEnd.LinkLost("unplugged; not back within 30 s"));

            assertThat(pausedMicros).isBetween(29_000_000L, 31_000_000L);
            assertThat(record.end).isEqualTo("link lost: unplugged; not back within 30 s");
        }

        @Test
        void when_nobody_says_that_the_unit_may_move() {
            goAhead = GoAhead.NOBODY;

            assertThat(run())
                    .isEqualTo(new RunEnd.LinkLost(
                            "unplugged; it came back, and nobody said that the unit may move again"));

            assertThat(rigs.get(1).wasOn).isFalse();
            assertThat(rigs.get(1).heard)
                    .extracting(BenchRig.Heard::message)
                    .contains(new HostMessage.Cut(), new HostMessage.Stop());
        }

        @Test
        void when_another_unit_comes_back() {
            otherFirmware = "tarn 9";

            assertThat(run().reason()).contains("another rig or unit came back");

            assertThat(rigs.get(1).wasOn).isFalse();
        }
    }

    @Nested
    class A_wish_to_stop_while_the_line_is_away {
        @Test
        void ends_the_run_for_the_reason_of_that_wish_and_nobody_has_confirmed_the_cut() {
            RunEnd full = new RunEnd.NoRoom("only 1 MiB are free");
            stop = new StopWish() {
                @Override
                public RunEnd end() {
                    return full;
                }

                @Override
                public boolean getAsBoolean() {
                    return pausedMicros > 1_000_000;
                }
            };

            assertThat(run()).isEqualTo(new RunEnd.CutNotConfirmed(full));

            assertThat(rigs).hasSize(1);
        }
    }

    @Nested
    class Something_unforeseen_while_the_line_is_away {
        @Test
        void such_as_a_port_that_fails_otherwise_leaves_a_finished_record() {
            portFails = Optional.of(new IllegalStateException("driver"));

            assertThatThrownBy(LineThatComesBackTest.this::run).hasMessage("driver");

            assertThat(record.end).startsWith("a defect of this program: ").contains("driver");
            assertThat(record.closed).isTrue();
        }

        @Test
        void such_as_a_question_that_fails_cuts_on_the_new_line_too() {
            goAhead = what -> {
                throw new IllegalStateException("terminal");
            };

            assertThatThrownBy(LineThatComesBackTest.this::run).hasMessage("terminal");

            assertThat(record.end).startsWith("a defect of this program: ").contains("terminal");
            assertThat(rigs.get(1).wasOn).isFalse();
            assertThat(rigs.get(1).heard)
                    .extracting(BenchRig.Heard::message)
                    .contains(new HostMessage.Cut(), new HostMessage.Stop());
        }
    }

    @Test
    void a_rig_with_another_firmware_is_another_rig() {
        otherRigFirmware = "2.0";

        assertThat(run().reason()).contains("other firmware or scales");

        assertThat(rigs.get(1).wasOn).isFalse();
    }

    private RunEnd run() {
        return RigRunner.run(
                new Bench(),
                plan(),
                goesOn,
                header -> record,
                new RunMonitor() {
                    @Override
                    public void notice(String text) {
                        notices.add(text);
                    }

                    @Override
                    public void progress(Progress p) {
                        if (rigs.size() == 1 && p.phase().equals("running") && p.shifts() == losesAtShift - 1) {
                            rigs.get(0).lostAt = rigs.get(0).now() + losesAfterMicros; // in the next shift
                        }
                    }
                },
                goAhead,
                stop);
    }

    private RunPlan plan() {
        return Plans.of(
                actions,
                new Procedure(
                        "bench",
                        1,
                        512,
                        List.of(),
                        new StopWhen(List.of(), OptionalDouble.empty(), OptionalDouble.empty()),
                        policy,
                        "",
                        new Procedure.Origin("bench", List.of())),
                Optional.empty(),
                RunPlan.SIMULATED_GUARDS,
                OptionalDouble.of(2.4));
    }

    private static RequestShift shift(int from, int to) {
        return new RequestShift(1, from, to, "sweep-1", 0.35);
    }

    /** The port that rigs are at; the second is the first one, started again. */
    private final class Bench implements Port {
        @Override
        public String address() {
            return "bench:";
        }

        @Override
        public Link open() {
            if (!rigs.isEmpty() && pausedMicros < backAfterMicros) {
                throw new LinkException("bench:: no such port");
            }
            if (!rigs.isEmpty() && portFails.isPresent()) {
                throw portFails.get();
            }
            BenchRig rig = new BenchRig();
            rig.position = rigs.isEmpty() ? 1 : 3;
            rig.unitFirmware = rigs.isEmpty() ? "" : otherFirmware;
            rig.rigFirmware = rigs.isEmpty() || otherRigFirmware.isEmpty() ? rig.rigFirmware : otherRigFirmware;
            rig.openedAfterMicros = rigs.isEmpty() ? 0 : rigs.get(0).now() + pausedMicros;
            rigs.add(rig);
            return rig;
        }

        @Override
        public void pause(long micros) {
            pausedMicros += micros;
        }
    }
}
