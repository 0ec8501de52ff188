package org.shiftstand.procedure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.shift.Outcome;

class ProcedureReaderTest {
    private static Procedure read(String text) {
        return ProcedureReader.read(TextFile.of("x.yaml", text));
    }

    private static String problems(String text) {
        BadInput thrown = catchThrowableOfType(BadInput.class, () -> read(text));
        return thrown == null ? "" : String.valueOf(thrown.getMessage());
    }

    /** All problems of steps that follow supply (line 4) and home (line 5). */
    private static String stepProblems(String steps) {
        return problems("procedure: x\nversion: 1\nsteps:\n  - supply: 8.2 V\n  - home: {}\n" + steps);
    }

    @Test
    void the_end_of_line_procedure() {
        Procedure read = ProcedureReader.find("acceptance/end-of-line.yaml");

        assertThat(read.name()).isEqualTo("end-of-line");
        assertThat(read.sampleRateHz()).isEqualTo(512);
        assertThat(read.steps())
                .containsExactly(
                        new Step.Supply(8.2), new Step.Home(), new Step.Sweep(1, OptionalInt.empty(), true, 24, 0.35));
        assertThat(read.stopWhen())
                .isEqualTo(new Procedure.StopWhen(
                        List.of("stalled", "not-settled"), OptionalDouble.of(9), OptionalDouble.of(0.02)));
    }

    @Test
    void every_kind_of_step() {
        Procedure read = read("""
                procedure: x
                version: 1
                sample-rate: 4 kHz
                steps:
                  - supply: 8.2 V
                  - home: {}
                  - repeat:
                      times: 3
                      steps:
                        - sweep: { from: 2, to: 5 }
                        - rest: 2 min
                  - visit: { sprockets: [1, 4, 2], times: 10, rest: 200 ms }
                  - random-walk: { shifts: 200, seed: 7 }
                  - supply: 0 V
                """);

        assertThat(read.sampleRateHz()).isEqualTo(4000);
        assertThat(read.steps())
                .containsExactly(
                        new Step.Supply(8.2),
                        new Step.Home(),
                        new Step.Repeat(
                                3, List.of(new Step.Sweep(2, OptionalInt.of(5), false, 1, 0), new Step.Rest(120))),
                        new Step.Visit(List.of(1, 4, 2), 10, 0.2),
                        new Step.RandomWalk(200, 7, 0),
                        new Step.SupplyOff());
        assertThat(read.stopWhen()).isEqualTo(Procedure.StopWhen.NOTHING);
        assertThat(read.origin().lines()).containsExactly(5, 6, 7, 10, 11, 12, 13, 14);
    }

    @Test
    void the_words_that_end_a_run_are_outcomes() {
        List<String> outcomes = Arrays.stream(Outcome.values())
                .filter(outcome -> outcome != Outcome.LANDED && outcome != Outcome.UNKNOWN)
                .map(Outcome::word)
                .toList();

        assertThat(read("procedure: x\nversion: 1\nsteps: [ { rest: 1 s } ]\nstop-when: { outcome: " + outcomes
                                + " }\n")
                        .stopWhen()
                        .outcomes())
                .isEqualTo(outcomes);
    }

    @Test
    void supply_off_is_a_cut_also_when_written_as_0_V() {
        assertThat(read("""
                procedure: x
                version: 1
                steps: [ { supply: 8.2 V }, { home: {} }, { supply: off }, { rest: 1 min }, { supply: 7.4 V }, { home: {} },
                  { sweep: { from: 1, to: 2 } }, { supply: 0 V } ]
                """).steps())
                .containsExactly(
                        new Step.Supply(8.2),
                        new Step.Home(),
                        new Step.SupplyOff(),
                        new Step.Rest(60),
                        new Step.Supply(7.4),
                        new Step.Home(),
                        new Step.Sweep(1, OptionalInt.of(2), false, 1, 0),
                        new Step.SupplyOff());
    }

    @Test
    void a_step_may_have_a_label_of_its_own() {
        assertThat(read("""
                procedure: x
                version: 1
                steps:
                  - supply: 8.2 V
                  - home: {}
                  - sweep: { from: 1, to: last, and-back: true, label: reference }
                  - visit: { sprockets: [1, 2], label: small }
                  - random-walk: { shifts: 20, seed: 7, label: wild }
                """).steps())
                .extracting(Step::label)
                .containsExactly(
                        Optional.empty(),
                        Optional.empty(),
                        Optional.of("reference"),
                        Optional.of("small"),
                        Optional.of("wild"));
    }

    @Nested
    class Stopping {
        private Procedure.StopWhen stopWhen(String rules) {
            return read("procedure: x\nversion: 1\nsteps: [ { rest: 1 s } ]\nstop-when: " + rules + "\n")
                    .stopWhen();
        }

        @Test
        void by_rules_of_several_kinds() {
            Procedure.StopWhen read = stopWhen("[ { outcome: [stalled, not-settled] }, { outcome: missed, times: 3 },"
                    + " { current-above: 9 A for 20 ms, average-current-above: 2 A over 2 s } ]");

            assertThat(read)
                    .isEqualTo(new Procedure.StopWhen(
                            List.of(
                                    new Procedure.OutcomeRule(List.of("stalled", "not-settled"), 1),
                                    new Procedure.OutcomeRule(List.of("missed"), 3)),
                            OptionalDouble.of(9),
                            OptionalDouble.of(0.02),
                            OptionalDouble.of(2),
                            OptionalDouble.of(2)));
            assertThat(read.outcomes()).containsExactly("stalled", "not-settled", "missed");
        }

        @Test
        void counts_the_outcomes_of_one_rule_together() {
            Procedure.StopWhen rules = stopWhen("{ outcome: [missed, short], times: 3 }");

            assertThat(rules.reached(Map.of("missed", 1, "short", 1, "landed", 200)))
                    .isEmpty();
            assertThat(rules.reached(Map.of("missed", 1, "short", 2)))
                    .contains(new Procedure.OutcomeRule(List.of("missed", "short"), 3));
        }

        @Test
        void refuses_a_count_of_nothing_and_what_is_given_twice() {
            assertThat(problems("""
                    procedure: x
                    version: 1
                    steps: [ { rest: 1 s } ]
                    stop-when:
                      - { times: 3 }
                      - { outcome: missed, times: 0 }
                      - { current-above: 9 A for 20 ms, average-current-above: 2 A for 2 s }
                      - { current-above: 8 A for 20 ms }
                    """)).isEqualTo("""
                    x.yaml:5:5: key 'outcome' is missing in item 1 of stop-when; 'times' counts shifts of an outcome, such as '{ outcome: missed, times: 3 }'
                    x.yaml:6:31: times is the number 0; expected a whole number from 1 to 1000000
                    x.yaml:7:60: average-current-above is '2 A for 2 s'; expected a mean current with its duration, such as '2 A over 2 s'
                    x.yaml:8:22: current-above is given twice; expected once""");
        }
    }

    @Nested
    class A_lost_line {
        private Procedure.OnLinkLoss onLinkLoss(String value) {
            return read("procedure: x\nversion: 1\nsteps: [ { rest: 1 s } ]\n" + value + "\n")
                    .onLinkLoss();
        }

        @Test
        void stops_the_run_unless_the_procedure_says_otherwise() {
            assertThat(onLinkLoss("")).isEqualTo(new Procedure.OnLinkLoss.Stop());
            assertThat(onLinkLoss("on-link-loss: stop")).isEqualTo(new Procedure.OnLinkLoss.Stop());
        }

        @Test
        void may_be_waited_for() {
            assertThat(onLinkLoss("on-link-loss: { reconnect: 30 s }"))
                    .isEqualTo(new Procedure.OnLinkLoss.Reconnect(30));
        }

        @Test
        void refuses_what_is_neither() {
            String head = "procedure: x\nversion: 1\nsteps: [ { rest: 1 s } ]\n";

            assertThat(problems(head + "on-link-loss: reconnect\n"))
                    .isEqualTo("x.yaml:4:15: on-link-loss is 'reconnect'; expected 'stop', or '{ reconnect: 30 s }'");
            assertThat(problems(head + "on-link-loss: { reconnect: 2 h }\n"))
                    .isEqualTo("x.yaml:4:28: reconnect is 2 h; expected 1 s to 1 h");
            assertThat(problems(head + "on-link-loss: { recconect: 30 s }\n")).isEqualTo("""
                    x.yaml:4:15: key 'reconnect' is missing in on-link-loss; expected how long to wait for the port, such as '30 s'
                    x.yaml:4:17: unknown key 'recconect' in on-link-loss; expected one of reconnect. Did you mean 'reconnect'?""");
        }
    }

    @Nested
    class Refusing {
        @Test
        void a_repetition_that_takes_away_what_its_beginning_needs() {
            assertThat(stepProblems("""
                      - repeat:
                          times: 2
                          steps:
                            - sweep: { from: 1, to: last }
                            - supply: off
                    """)).isEqualTo("""
                    x.yaml:9: 'sweep' while the unit has no supply after the supply was taken away in line 10; expected a step such as 'supply: 8.2 V' before it
                    x.yaml:9: 'sweep' before any 'home' after the supply was taken away in line 10: where the unit stands is not known; expected 'home: {}' before it""");
        }

        @Test
        void a_label_that_the_program_gives_itself() {
            assertThat(stepProblems("  - sweep: { from: 1, to: 2, label: sweep-3 }\n"))
                    .isEqualTo(
                            "x.yaml:6:37: the label 'sweep-3' looks like one that the program gives; expected another"
                                    + " name, such as 'reference'");
        }

        @Test
        void everything_wrong_is_told_at_once_in_the_order_of_the_file() {
            assertThat(problems("""
                    procedure: x
                    version: 1
                    sample-rate: 512
                    steps:
                      - suply: 8.2 V
                      - home: true
                      - sweep: { from: 0, to: lst, and-back: yes, times: many, rest: 350 }
                      - visit: { sprockets: [3, 3], rest: -1 s }
                      - random-walk: { shifts: 200 }
                      - rest: 2 deg
                        home: {}
                      - repeat: { times: 2, steps: [] }
                    stop-when: { outcome: [stalled, jammed], current-above: 9 A }
                    """)).isEqualTo("""
                    x.yaml:3:14: sample-rate is the bare number 512; expected a frequency such as '512 Hz'
                    x.yaml:5:5: unknown key 'suply' in item 1 of steps; expected one of supply, home, sweep, visit, random-walk, rest, repeat. Did you mean 'supply'?
                    x.yaml:6:11: home is true; expected '{}': home has no settings
                    x.yaml:7:20: from is the number 0; expected a whole number from 1 to 64
                    x.yaml:7:27: to is 'lst'; expected the number of a sprocket, or 'last'. Did you mean 'last'?
                    x.yaml:7:42: and-back is the text 'yes'; expected true or false
                    x.yaml:7:54: times is the text 'many'; expected a whole number from 1 to 1000000
                    x.yaml:7:66: rest is the bare number 350; expected a duration such as '700 ms'
                    x.yaml:8:39: rest is -1 s; expected 0 ms to 24 h
                    x.yaml:9:18: key 'seed' is missing in random-walk; expected a whole number: the same seed gives the same walk
                    x.yaml:10:5: a step has both rest and home; expected one of supply, home, sweep, visit, random-walk, rest, repeat, each as its own list item
                    x.yaml:12:32: steps is an empty list; expected a list of steps: supply, home, sweep, visit, random-walk, rest, repeat
                    x.yaml:13:33: unknown outcome 'jammed'; expected one of interrupted, not-settled, reversed, missed, stalled, short, double.
                    x.yaml:13:57: current-above is '9 A'; expected a current with its duration, such as '9 A for 20 ms': inrush at the start of motion is no fault""");
        }

        @Test
        void steps_that_shift_nothing() {
            assertThat(stepProblems("  - sweep: { from: 3, to: 3 }\n"))
                    .isEqualTo("x.yaml:6:27: a sweep from sprocket 3 to itself shifts nothing; expected another one");
            assertThat(stepProblems("  - visit: { sprockets: [3, 3] }\n"))
                    .isEqualTo("x.yaml:6:29: sprocket 3 twice in a row shifts nothing; expected another one");
            assertThat(stepProblems("  - visit: { sprockets: [3] }\n"))
                    .isEqualTo("x.yaml:6:25: a visit to one sprocket; expected at least two");
        }

        @Test
        void a_supply_beyond_reason() {
            assertThat(stepProblems("  - supply: 8.2 volt.\n"))
                    .isEqualTo(
                            "x.yaml:6:13: supply: unknown unit 'volt.' in '8.2 volt.'; expected one of deg, turn, mm, um,"
                                    + " s, ms, us, min, h, A, mA, V, mV, As, mAh, J, Hz, kHz, degC, %, shifts, cycles");
            assertThat(stepProblems("  - supply: 230 V\n"))
                    .isEqualTo("x.yaml:6:13: supply is 230 V; expected 'off', or up to 60 V");
        }

        @Test
        void a_supply_that_is_a_word_other_than_off() {
            assertThat(stepProblems("  - supply: of\n"))
                    .isEqualTo("x.yaml:6:13: supply is 'of'; expected a voltage such as '8.2 V', or 'off'");
        }

        @Test
        void a_shift_without_supply_or_before_home() {
            assertThat(problems("procedure: x\nversion: 1\nsteps:\n  - sweep: { from: 1, to: last }\n"))
                    .isEqualTo("""
                    x.yaml:4: 'sweep' while the unit has no supply; expected a step such as 'supply: 8.2 V' before it
                    x.yaml:4: 'sweep' before any 'home': where the unit stands is not known; expected 'home: {}' before it""");
            assertThat(stepProblems("  - supply: 0 V\n  - rest: 2 s\n  - random-walk: { shifts: 2, seed: 1 }\n"))
                    .isEqualTo("x.yaml:8: 'random-walk' while the unit has no supply after the supply was taken away in"
                            + " line 6; expected a step such as 'supply: 8.2 V' before it\n"
                            + "x.yaml:8: 'random-walk' before any 'home' after the supply was taken away in line"
                            + " 6: where the unit stands is not known; expected 'home: {}' before it");
        }
    }
}
