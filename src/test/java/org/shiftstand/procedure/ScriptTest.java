package org.shiftstand.procedure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;

class ScriptTest {
    private static final Profile FOUR = ProfileReader.read(TextFile.of("four.profile.yaml", """
            profile: four
            version: 1
            sprockets: 4
            positions: [0 deg, 700 deg, 1400 deg, 2100 deg]
            hold: 700 ms
            overtravel: { inboard: [270 deg, 0 deg, 0 deg], outboard: [60 deg, 60 deg, 60 deg] }
            """));

    private static Procedure procedure(String steps) {
        return ProcedureReader.read(
                TextFile.of("x.yaml", "procedure: x\nversion: 1\nsteps:\n  - supply: 8.2 V\n  - home: {}\n" + steps));
    }

    /** Shifts as {@code cycle step from→to}, other actions as {@code -}, without the supply and homing that open it. */
    private static String laidOut(String steps) {
        return Script.layOut(procedure(steps), FOUR).stream()
                .skip(2)
                .map(action -> action instanceof Action.RequestShift shift
                        ? shift.cycle() + " " + shift.step() + " " + shift.from() + "→" + shift.to()
                        : "-")
                .collect(Collectors.joining(", "));
    }

    @Test
    void supply_and_home_come_first_and_rests_go_with_the_shifts() {
        List<Action> actions =
                Script.layOut(procedure("  - sweep: { from: 1, to: 2, rest: 350 ms }\n  - rest: 3 s\n"), FOUR);

        assertThat(actions)
                .containsExactly(
                        new Action.SetSupply(8.2),
                        new Action.Home(),
                        new Action.RequestShift(1, 1, 2, "sweep-3", 0.35),
                        new Action.Pause(3));
    }

    @Nested
    class A_sweep {
        @Test
        void and_back_is_one_cycle_each_time() {
            assertThat(laidOut("  - sweep: { from: 1, to: 3, and-back: true, times: 2 }\n"))
                    .isEqualTo("1 sweep-3 1→2, 1 sweep-3 2→3, 1 sweep-3 3→2, 1 sweep-3 2→1, "
                            + "2 sweep-3 1→2, 2 sweep-3 2→3, 2 sweep-3 3→2, 2 sweep-3 2→1");
        }

        @Test
        void to_last_reaches_the_largest_sprocket_of_the_profile() {
            assertThat(laidOut("  - sweep: { from: 1, to: last }\n"))
                    .isEqualTo("1 sweep-3 1→2, 1 sweep-3 2→3, 1 sweep-3 3→4");
        }

        @Test
        void may_run_outboard() {
            assertThat(laidOut("  - sweep: { from: 1, to: 3 }\n  - sweep: { from: 3, to: 2 }\n"))
                    .isEqualTo("1 sweep-3 1→2, 1 sweep-3 2→3, 2 sweep-4 3→2");
        }

        @Test
        void elsewhere_is_reached_by_positioning_shifts_of_the_cycle_they_lead_into() {
            assertThat(laidOut("  - sweep: { from: 2, to: 3, times: 2 }\n"))
                    .isEqualTo("1 position-3 1→2, 1 sweep-3 2→3, 2 position-3 3→2, 2 sweep-3 2→3");
        }
    }

    @Nested
    class A_visit {
        @Test
        void walks_from_sprocket_to_sprocket_one_at_a_time() {
            assertThat(laidOut("  - visit: { sprockets: [1, 3, 2], times: 2 }\n"))
                    .isEqualTo("1 visit-3 1→2, 1 visit-3 2→3, 1 visit-3 3→2, "
                            + "2 position-3 2→1, 2 visit-3 1→2, 2 visit-3 2→3, 2 visit-3 3→2");
        }
    }

    @Nested
    class A_random_walk {
        @Test
        void stays_on_the_cassette_and_is_one_cycle() {
            List<Action.RequestShift> shifts =
                    Script.layOut(procedure("  - random-walk: { shifts: 500, seed: 7 }\n"), FOUR).stream()
                            .filter(Action.RequestShift.class::isInstance)
                            .map(Action.RequestShift.class::cast)
                            .toList();

            assertThat(shifts).hasSize(500).allSatisfy(shift -> {
                assertThat(shift.to()).isBetween(1, 4);
                assertThat(Math.abs(shift.to() - shift.from())).isEqualTo(1);
                assertThat(shift.cycle()).isEqualTo(1);
            });
            assertThat(shifts).extracting(Action.RequestShift::to).contains(1, 2, 3, 4);
        }

        @Test
        void is_the_same_for_the_same_seed_and_another_for_another() {
            String walk = "  - random-walk: { shifts: 40, seed: %d }\n";

            assertThat(laidOut(walk.formatted(7))).isEqualTo(laidOut(walk.formatted(7)));
            assertThat(laidOut(walk.formatted(7))).isNotEqualTo(laidOut(walk.formatted(8)));
        }

        /** First outputs of SplitMix64 for seed 1234567, as published with the Rosetta Code task "Pseudo-random numbers/Splitmix64". */
        @Test
        void draws_the_published_numbers() {
            var numbers = new SplitMix64(1234567);

            assertThat(Long.toUnsignedString(numbers.next())).isEqualTo("6457827717110365317");
            assertThat(Long.toUnsignedString(numbers.next())).isEqualTo("3203168211198807973");
            assertThat(Long.toUnsignedString(numbers.next())).isEqualTo("9817491932198370423");
            assertThat(Long.toUnsignedString(numbers.next())).isEqualTo("4593380528125082431");
            assertThat(Long.toUnsignedString(numbers.next())).isEqualTo("16408922859458223821");
        }
    }

    @Test
    void a_repetition_counts_cycles_on_and_keeps_its_labels() {
        assertThat(laidOut("""
                  - repeat:
                      times: 2
                      steps:
                        - sweep: { from: 1, to: 2, and-back: true }
                        - rest: 1 s
                  - sweep: { from: 1, to: 2 }
                """))
                .isEqualTo("1 sweep-4 1→2, 1 sweep-4 2→1, -, 2 sweep-4 1→2, 2 sweep-4 2→1, -, 3 sweep-6 1→2");
    }

    @Test
    void a_label_of_its_own_goes_before_kind_and_place() {
        assertThat(laidOut("  - sweep: { from: 2, to: 3, label: reference }\n  - sweep: { from: 3, to: 4 }\n"))
                .isEqualTo("1 position-3 1→2, 1 reference 2→3, 2 sweep-4 3→4");
    }

    @Test
    void after_supply_off_comes_the_supply_and_homing() {
        assertThat(Script.layOut(procedure("  - supply: off\n  - supply: 7.4 V\n  - home: {}\n"), FOUR))
                .containsExactly(
                        new Action.SetSupply(8.2),
                        new Action.Home(),
                        new Action.SupplyOff(),
                        new Action.SetSupply(7.4),
                        new Action.Home());
    }

    @Test
    void homing_brings_the_unit_to_sprocket_1() {
        assertThat(laidOut("  - sweep: { from: 1, to: 3 }\n  - home: {}\n  - sweep: { from: 1, to: 2 }\n"))
                .isEqualTo("1 sweep-3 1→2, 1 sweep-3 2→3, -, 2 sweep-5 1→2");
    }

    @Nested
    class Refusing {
        @Test
        void sprockets_that_the_profile_does_not_have_are_told_all_at_once() {
            assertThatThrownBy(() -> laidOut("""
                      - sweep: { from: 1, to: 5 }
                      - repeat: { times: 2, steps: [ { visit: { sprockets: [1, 12] } } ] }
                    """.indent(0)))
                    .isInstanceOf(BadInput.class)
                    .hasMessage("""
                    x.yaml:6: sprocket 5 does not exist; expected 1 to 4, as the profile four has them
                    x.yaml:7: sprocket 12 does not exist; expected 1 to 4, as the profile four has them""");
        }

        @Test
        void a_sweep_from_the_last_sprocket_to_the_last() {
            assertThatThrownBy(() -> laidOut("  - sweep: { from: 4, to: last }\n"))
                    .hasMessage(
                            "x.yaml:6: the sweep from sprocket 4 to the last one shifts nothing; the profile four has 4"
                                    + " sprockets: expected another 'from'");
        }

        @Test
        void more_than_a_million_actions() {
            assertThatThrownBy(
                            () -> laidOut("  - repeat: { times: 1000000, steps: [ { repeat: { times: 1000000, steps: ["
                                    + " { rest: 1 s } ] } } ] }\n"))
                    .hasMessage("x.yaml:6: the procedure comes to more than 1000000 shifts, pauses and supply changes;"
                            + " expected fewer: split it into several runs");
        }
    }

    @Test
    void the_summary_counts_and_estimates() {
        Summary summary = Script.summary(
                procedure("  - sweep: { from: 1, to: last, and-back: true, times: 2, rest: 1 s }\n"), FOUR);

        assertThat(summary.shifts()).isEqualTo(12);
        assertThat(summary.cycles()).isEqualTo(2);
        // homing: two requests of 3 s and 1/16 s that move nothing; a shift: 0.25 s of motion, 0.1 s until it is seen
        // to be
        // over, 1.2 s of quiet, 1/16 s, 1 s of rest; 8 of them with a hold of 0.7 s and as much motion again
        assertThat(summary.estimatedS())
                .isEqualTo(6.125 + 12 * 2.6125 + 8 * 0.95, org.assertj.core.api.Assertions.within(1e-9));
        assertThat(summary).hasToString("12 shifts in 2 cycles, about 45 s");
    }
}
