package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.document.BadInput;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Measure;

/** Learning from simulated drives whose tables the learner is not told. */
class SimulatedLearningTest {
    @TempDir
    Path folder;

    private static Learned learn(List<LearningInput> inputs) {
        return Learning.learn(inputs, LearnOptions.of("drawn"), OptionalDouble.empty());
    }

    private static double programmedDeg(Profile profile, LearnedStep step) {
        return profile.overtravelDeg(step.from(), step.to());
    }

    @Nested
    class A_random_table {
        private static final int DRIVES = 16;

        /** Each drive's bias interval holds at 95 %: of 16 five or more miss with a probability below 0.1 %. */
        @Test
        void is_recovered_within_its_own_intervals() throws IOException {
            int biasMissed = 0;
            int rows = 0;
            int inside = 0;
            for (int seed = 1; seed <= DRIVES; seed++) {
                Profile profile = SimulatedDrive.drawn(seed);
                Learned learned = learn(List.of(SimulatedDrive.run(
                        folder, "D-" + seed, profile, "seed=" + seed + ",start=1", SimulatedDrive.sweeps(6))));
                assertThat(learned.positions()).as("seed %d", seed).hasSize(profile.sprockets());
                biasMissed += Math.abs(learned.stopping().biasDeg())
                                > learned.stopping().halfWidthDeg()
                        ? 1
                        : 0;
                for (LearnedStep step : learned.steps()) {
                    double truth = programmedDeg(profile, step);
                    if (truth == 0) {
                        assertThat(step.overtravel())
                                .as("seed %d %s", seed, step.name())
                                .isInstanceOf(OvertravelPattern.None.class);
                    } else {
                        assertThat(step.overtravel())
                                .as("seed %d %s", seed, step.name())
                                .isInstanceOf(OvertravelPattern.Programmed.class);
                        OvertravelPattern.Programmed row = (OvertravelPattern.Programmed) step.overtravel();
                        rows++;
                        inside += Math.abs(row.programmedDeg() - truth) <= row.programmedHalfWidthDeg() ? 1 : 0;
                    }
                }
            }
            assertThat(biasMissed).isLessThanOrEqualTo(4);
            assertThat(inside / (double) rows).isGreaterThanOrEqualTo(0.9);
        }
    }

    @Nested
    class None_against_small {
        /** Rests less than the settle band (20 deg) apart are one rest: below it there is nothing to see. */
        @Test
        void nothing_is_taken_for_overtravel_and_two_and_a_half_bands_never_for_none() throws IOException {
            assertThat(rates(0)).as("0 deg").containsExactly(1.0, 0.0);
            assertThat(rates(10)[1]).as("10 deg, told as programmed").isZero();
            assertThat(rates(50)).as("50 deg").containsExactly(0.0, 1.0);
        }

        /** Share of rows told as none and as programmed. */
        private double[] rates(double overtravelDeg) throws IOException {
            Profile profile = SimulatedDrive.even(9, overtravelDeg);
            Learned learned = learn(List.of(SimulatedDrive.run(
                    folder, "small-" + overtravelDeg, profile, "seed=5,start=1", SimulatedDrive.sweeps(4))));
            double none = 0;
            double programmed = 0;
            for (LearnedStep step : learned.steps()) {
                none += step.overtravel() instanceof OvertravelPattern.None ? 1 : 0;
                programmed += step.overtravel() instanceof OvertravelPattern.Programmed ? 1 : 0;
            }
            return new double[] {
                none / learned.steps().size(), programmed / learned.steps().size()
            };
        }
    }

    @Nested
    class Parts_of_a_cassette {
        private final Profile profile = SimulatedDrive.drawn(3);
        private final int n = profile.sprockets();

        private LearningInput part(String name, int from, int to) throws IOException {
            return SimulatedDrive.capture(
                    folder,
                    name,
                    profile,
                    "seed=" + Math.abs(name.hashCode()) + ",start=" + from,
                    "- sweep: { from: " + from + ", to: " + to + ", and-back: true, times: 4, rest: 350 ms }");
        }

        private LearningInput nameless(LearningInput input) {
            return new LearningInput(input.name(), "one", input.identity(), input.measured(), input.firstSprocket());
        }

        @Test
        void that_overlap_are_joined() throws IOException {
            List<LearningInput> parts = List.of(nameless(part("inner", n - 5, n)), nameless(part("outer", 1, n - 1)));

            Learned learned = learn(parts);

            assertThat(learned.positions()).hasSize(n);
            assertThat(learned.gaps()).isEmpty();
            for (LearnedPosition p : learned.positions()) {
                assertThat(p.programmedDeg())
                        .as("sprocket " + p.sprocket())
                        .isCloseTo(profile.positionDeg(p.sprocket()), within(2 * p.halfWidthDeg() + 1e-9));
            }
        }

        @Test
        void that_do_not_overlap_are_asked_about_by_name() throws IOException {
            List<LearningInput> parts = List.of(nameless(part("outer", 1, 3)), nameless(part("inner", n - 2, n)));

            assertThatThrownBy(() -> learn(parts))
                    .isInstanceOfSatisfying(
                            BadInput.class,
                            bad -> assertThat(bad.problems())
                                    .singleElement()
                                    .satisfies(problem -> assertThat(problem.toString())
                                            .containsPattern("--starts-at (inner|outer)=K")));
        }

        @Test
        void that_were_placed_by_hand_leave_named_gaps_between_them() throws IOException {
            LearningInput inner = nameless(part("inner", n - 2, n));
            LearningInput placed = new LearningInput(
                    inner.name(), inner.unit(), inner.identity(), inner.measured(), OptionalInt.of(n - 2));
            LearningInput outer = nameless(part("outer", 1, 3));
            LearningInput first = new LearningInput(
                    outer.name(), outer.unit(), outer.identity(), outer.measured(), OptionalInt.of(1));

            Learned learned = learn(List.of(first, placed));

            assertThat(learned.step(3, 4).overtravel())
                    .isEqualTo(new OvertravelPattern.Gap("no shift from 3 to 4 was seen"));
            assertThat(learned.step(1, 2).overtravel()).isInstanceOf(OvertravelPattern.Programmed.class);
            assertThat(learned.undecided()).anySatisfy(q -> assertThat(q.what()).isEqualTo("overtravel 3→4"));
        }
    }

    @Nested
    class Several_units {
        @Test
        void tell_how_units_differ() throws IOException {
            List<LearningInput> inputs = new ArrayList<>();
            for (int unit = 0; unit < 4; unit++) {
                Profile profile = SimulatedDrive.even(8, 150 + 20.0 * unit);
                inputs.add(SimulatedDrive.run(
                        folder, "U-" + unit, profile, "seed=" + unit + ",start=1", SimulatedDrive.sweeps(3)));
            }

            Learned learned = learn(inputs);

            Variation overtravel = learned.variation(Measure.OVERTRAVEL).orElseThrow();
            assertThat(overtravel.units()).isEqualTo(4);
            assertThat(overtravel.ofTheKind()).isTrue();
            // 150, 170, 190, 210: standard deviation 25.8
            assertThat(overtravel.betweenSd().orElseThrow()).isCloseTo(25.8, within(1.0));
            assertThat(overtravel.withinSd()).isLessThan(10);
            assertThat(overtravel.totalFreedom()).isBetween(3.0, 5.0);
        }

        @Test
        void that_differ_in_having_overtravel_are_named() throws IOException {
            List<LearningInput> inputs = List.of(
                    SimulatedDrive.run(
                            folder, "A", SimulatedDrive.even(8, 150), "seed=1,start=1", SimulatedDrive.sweeps(9)),
                    SimulatedDrive.run(
                            folder, "B", SimulatedDrive.even(8, 0), "seed=2,start=1", SimulatedDrive.sweeps(9)));

            OvertravelPattern row = learn(inputs).step(2, 3).overtravel();

            assertThat(row).isInstanceOf(OvertravelPattern.Irregular.class);
            assertThat(((OvertravelPattern.Irregular) row).follows())
                    .contains("with overtravel for unit A, without for all others");
        }
    }
}
