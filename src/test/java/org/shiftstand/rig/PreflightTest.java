package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.document.TextFile;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;

class PreflightTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");
    private static final Guards NONE = new Guards(0, 0, 0, 0, 0, 0, 0, 0);
    private static final String HEAD = "procedure: x\nversion: 1\nsteps:\n  - supply: 8.2 V\n  - home: {}\n";

    private static List<String> problems(String steps, Profile profile, Guards guards) {
        Procedure procedure = ProcedureReader.read(TextFile.of("x.yaml", HEAD + steps));
        return Preflight.problems(
                Script.layOut(procedure, profile), procedure, profile, guards, "profile " + profile.name());
    }

    private static List<String> problems(String steps, Guards guards) {
        return problems(steps, TARN, guards);
    }

    private static Guards supplies(double least, double most) {
        return new Guards(0, 0, 0, 0, 0, 0, least, most);
    }

    private static Guards onTime(double minutes) {
        return new Guards(0, 0, 0, 0, minutes * 60, 0, 0, 0);
    }

    private static Guards planned(OptionalDouble duty, OptionalDouble totalS, OptionalInt shifts) {
        return new Guards(0, 0, 0, 0, 0, 0, 0, 0, duty, totalS, shifts);
    }

    @Test
    void a_sound_procedure_has_none() {
        Guards guards = new Guards(
                9,
                0.02,
                2,
                2,
                3000,
                60,
                6,
                8.6,
                OptionalDouble.of(0.4),
                OptionalDouble.of(28800),
                OptionalInt.of(20000));

        assertThat(problems("  - sweep: { from: 1, to: last, and-back: true, times: 24, rest: 350 ms }\n", guards))
                .isEmpty();
    }

    @Test
    void each_supply_outside_the_window_is_told_once() {
        assertThat(problems("  - supply: 5 V\n  - supply: 9 V\n  - supply: 5 V\n", supplies(6, 8.6)))
                .containsExactly(
                        "the procedure sets the supply to 5 V; the rig's guard allows 6 V to 8.6 V",
                        "the procedure sets the supply to 9 V; the rig's guard allows 6 V to 8.6 V");
    }

    @Nested
    class Time_under_supply {
        @Test
        void is_held_against_any_hour() {
            assertThat(problems("  - rest: 21 min\n", onTime(20)))
                    .containsExactly(
                            "the unit is under supply for 21.1 min of one hour; the rig's guard cuts after 20.0 min"
                                    + " (on-time). Put in a 'supply: off' with a rest, or shorten the procedure");
            assertThat(problems("  - rest: 19 min\n", onTime(20))).isEmpty();
        }

        @Test
        void is_counted_over_cuts_and_across_whole_hours() {
            String off = "  - supply: off\n  - rest: %d min\n  - supply: 8.2 V\n  - rest: 15 min\n";

            assertThat(problems("  - rest: 15 min\n" + off.formatted(46), onTime(20)))
                    .isEmpty();
            assertThat(problems("  - rest: 15 min\n" + off.formatted(39), onTime(20)))
                    .singleElement()
                    .asString()
                    .startsWith("the unit is under supply for 21.0 min of one hour"); // 15 + 6
        }

        @Test
        void has_a_total() {
            assertThat(problems(
                            "  - repeat: { times: 6, steps: [ { rest: 30 min }, { supply: off }, { rest: 2 h }, { supply:"
                                    + " 8.2 V } ] }\n",
                            planned(OptionalDouble.empty(), OptionalDouble.of(2 * 3600), OptionalInt.empty())))
                    .containsExactly("the unit is under supply for 3.0 h altogether; the rig description allows 2.0 h"
                            + " (total-on-time)");
        }
    }

    @Test
    void the_share_of_motion_is_that_of_the_busiest_ten_minutes() {
        Guards fifth = planned(OptionalDouble.of(0.2), OptionalDouble.empty(), OptionalInt.empty());
        String sweeps = "  - rest: 2 h\n  - sweep: { from: 1, to: last, and-back: true, times: 20, rest: %s }\n";

        // 13 of 18 shifts overtravel: 7.75 s of motion in 41.4 s and 18 rests
        assertThat(problems(sweeps.formatted("0 s"), fifth)).isEmpty();
        assertThat(problems(
                        sweeps.formatted("0 s"),
                        planned(OptionalDouble.of(0.18), OptionalDouble.empty(), OptionalInt.empty())))
                .containsExactly(
                        "the shaft moves for 19 % of ten minutes; the rig description allows 18 % (duty). Lengthen"
                                + " the rest after each shift");
        assertThat(problems(
                        sweeps.formatted("500 ms"),
                        planned(OptionalDouble.of(0.18), OptionalDouble.empty(), OptionalInt.empty())))
                .isEmpty();
    }

    @Test
    void too_many_shifts_and_too_long_a_run() {
        assertThat(problems(
                        "  - sweep: { from: 1, to: last, and-back: true, times: 10 }\n  - repeat: { times: 4, steps: [ { rest:"
                                + " 24 h } ] }\n",
                        planned(OptionalDouble.empty(), OptionalDouble.empty(), OptionalInt.of(100))))
                .containsExactly(
                        "the procedure asks for 180 shifts; the rig description allows 100 (shifts)",
                        "the procedure takes about 96.1 h; expected at most 72.0 h: split it into several runs");
    }

    @Nested
    class Currents {
        private final Guards guards = new Guards(9, 0.02, 2, 2, 0, 0, 0, 0);

        private List<String> stopWhen(String rules) {
            return problems("  - rest: 1 s\nstop-when: " + rules + "\n", guards);
        }

        @Test
        void a_rule_that_the_guard_forestalls_is_told() {
            assertThat(stopWhen("{ current-above: 10 A for 50 ms, average-current-above: 2 A over 3 s }"))
                    .containsExactly(
                            "stop-when: current-above 10 A for 50 ms never acts, since the rig's guard cuts at 9 A for 20"
                                    + " ms; expected less",
                            "stop-when: average-current-above 2 A over 3 s never acts, since the rig's guard cuts at 2 A"
                                    + " over 2 s; expected less");
        }

        @Test
        void a_rule_that_may_act_first_or_equals_the_guard_is_not() {
            assertThat(stopWhen("{ current-above: 9 A for 20 ms, average-current-above: 1.5 A over 5 s }"))
                    .isEmpty();
            assertThat(stopWhen("{ current-above: 10 A for 5 ms }")).isEmpty();
        }

        @Test
        void guards_that_contradict_each_other_are_told() {
            assertThat(problems("  - rest: 1 s\n", new Guards(1, 0.02, 2, 2, 0, 0, 0, 0)))
                    .containsExactly(
                            "the rig's guards contradict each other: average-current, 2 A, is above current, 1 A,"
                                    + " and never acts");
        }
    }

    @Nested
    class Mechanical_limits {
        private final String sweep = "  - sweep: { from: 1, to: last, and-back: true }\n";

        private Profile limits(double outboardDeg, double inboardDeg) {
            return new Profile(
                    TARN.name(),
                    TARN.version(),
                    TARN.sprockets(),
                    TARN.positionsDeg(),
                    TARN.screwLeadMm(),
                    OptionalDouble.of(outboardDeg),
                    OptionalDouble.of(inboardDeg),
                    TARN.holdS(),
                    TARN.overtravelInboardDeg(),
                    TARN.overtravelOutboardDeg(),
                    TARN.cassette(),
                    "");
        }

        @Test
        void that_nominal_data_comes_too_near_to_are_told_with_sprocket_angle_and_limit() {
            assertThat(problems(sweep, limits(-240, 6760), NONE))
                    .containsExactly(
                            "sprocket 10 inboard: the shaft would reach 6705 deg (position 6680 deg, overtravel 0 deg,"
                                    + " ringing up to 25 deg), 55 deg from the inboard limit at 6760 deg (profile"
                                    + " tarn-drive); expected at least 60 deg",
                            "sprocket 1 outboard: the shaft would reach -185 deg (position 0 deg, overtravel 160 deg,"
                                    + " ringing up to 25 deg), 55 deg from the outboard limit at -240 deg (profile"
                                    + " tarn-drive); expected at least 60 deg");
        }

        @Test
        void that_are_far_enough_are_not() {
            assertThat(problems(sweep, limits(-245, 6765), NONE)).isEmpty();
        }

        @Test
        void are_reached_by_homing_as_well() {
            assertThat(problems("  - rest: 1 s\n", limits(-240, 6760), NONE))
                    .singleElement()
                    .asString()
                    .startsWith("sprocket 1 outboard");
        }

        @Test
        void that_nobody_knows_are_held_against_nothing() {
            Profile unknown = new Profile(
                    "x",
                    1,
                    2,
                    List.of(0.0, 700.0),
                    OptionalDouble.empty(),
                    OptionalDouble.empty(),
                    OptionalDouble.empty(),
                    OptionalDouble.empty(),
                    List.of(0.0),
                    List.of(0.0),
                    List.of(),
                    "");

            assertThat(problems(sweep, unknown, NONE)).isEmpty();
        }
    }

    /** Held against a window moved in small steps. */
    @Test
    void the_fullest_window_is_found_wherever_it_lies() {
        for (int seed = 0; seed < 200; seed++) {
            var random = new Random(seed);
            var stretches = new Stretches();
            boolean[] on = new boolean[400];
            int at = random.nextInt(20);
            while (at < 350) {
                int to = at + 1 + random.nextInt(40);
                stretches.add(at, to, true);
                for (int i = at; i < to; i++) {
                    on[i] = true;
                }
                at = to + random.nextInt(30);
            }
            int window = 1 + random.nextInt(120);
            int most = 0;
            for (int from = -window; from < on.length; from++) {
                int sum = 0;
                for (int i = Math.max(0, from); i < Math.min(on.length, from + window); i++) {
                    sum += on[i] ? 1 : 0;
                }
                most = Math.max(most, sum);
            }

            assertThat(stretches.mostWithin(window)).as("seed %s", seed).isCloseTo(most, within(1e-9));
        }
    }
}
