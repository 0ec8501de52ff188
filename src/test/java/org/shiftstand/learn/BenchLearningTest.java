package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.shiftstand.shift.Measure;

/** The eight bench captures, whose firmware tables are known and were made by another simulation in another language. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class BenchLearningTest {
    private final List<BenchLearning> benches = new ArrayList<>();

    @BeforeAll
    void learn() {
        for (char c = 'a'; c <= 'h'; c++) {
            benches.add(BenchLearning.of("bench-" + c));
        }
    }

    Stream<BenchLearning> benches() {
        return benches.stream();
    }

    private BenchLearning bench(String name) {
        return benches.stream().filter(b -> b.name().equals(name)).findFirst().orElseThrow();
    }

    @ParameterizedTest
    @MethodSource("benches")
    void all_sprockets_and_rows_are_found(BenchLearning bench) {
        assertThat(bench.learned().positions()).hasSize(bench.sprockets());
        assertThat(bench.learned().steps()).hasSize(2 * (bench.sprockets() - 1));
        assertThat(bench.learned().gaps()).isEmpty();
    }

    @ParameterizedTest
    @MethodSource("benches")
    void rows_without_overtravel_are_none_and_rows_with_it_are_not(BenchLearning bench) {
        for (LearnedStep step : bench.learned().steps()) {
            boolean programmed = bench.programmedDeg(step) > 0;
            assertThat(step.overtravel() instanceof OvertravelPattern.None)
                    .as(step.name())
                    .isEqualTo(!programmed);
        }
    }

    /** The stopping bias is one estimate for the whole table: all rows hold or miss together; 95 % for each of eight. */
    @ParameterizedTest
    @MethodSource("benches")
    void the_table_lies_within_its_own_intervals(BenchLearning bench) {
        for (LearnedStep step : bench.learned().steps()) {
            if (step.overtravel() instanceof OvertravelPattern.Programmed row) {
                assertThat(row.programmedDeg())
                        .as("%s %s", bench.name(), step.name())
                        .isCloseTo(bench.programmedDeg(step), within(row.programmedHalfWidthDeg()));
            }
        }
    }

    /** 73 distances at 95 %: three or four miss on average, eight or more with a probability below 3 %. */
    @Test
    void positions_lie_within_their_own_intervals() {
        int outside = 0;
        for (BenchLearning bench : benches) {
            for (LearnedPosition p : bench.learned().positions()) {
                double off = Math.abs(p.programmedDeg() - bench.positionDeg(p.sprocket()));
                outside += off > p.halfWidthDeg() + 1e-9 ? 1 : 0;
            }
        }
        assertThat(outside).isLessThanOrEqualTo(7);
    }

    /** An interval that holds the truth by being endless would be of no use. */
    @ParameterizedTest
    @MethodSource("benches")
    void intervals_of_the_table_are_narrow_enough_to_be_of_use(BenchLearning bench) {
        assertThat(bench.learned().stopping().known()).isTrue();
        assertThat(bench.learned().stopping().halfWidthDeg()).isLessThan(7);
    }

    /** The truth: 0.68 s programmed, and 11 to 28 ms of arriving and leaving within the band. */
    @ParameterizedTest
    @MethodSource("benches")
    void dwell_is_counted_within_its_band(BenchLearning bench) {
        if (bench.name().equals("bench-c")) {
            assertThat(bench.learned().hold().overall()).isInstanceOf(Estimated.NotEstimated.class);
            return; // its clock stops between windows
        }
        Estimated.Estimate hold = bench.learned().hold().overall().estimate().orElseThrow();

        assertThat(hold.mean()).isBetween(0.691 - 0.001, 0.700);
        assertThat(bench.learned().hold().withinDeg()).isEqualTo(20);
    }

    @Test
    void a_row_whose_overtravel_is_sometimes_missing_is_irregular_and_not_decided() {
        LearnedStep row = bench("bench-e").learned().step(2, 3);

        assertThat(row.overtravel()).isInstanceOf(OvertravelPattern.Irregular.class);
        OvertravelPattern.Irregular irregular = (OvertravelPattern.Irregular) row.overtravel();
        assertThat(irregular.with()).isEqualTo(4); // cycles 3 and 6 are held back
        assertThat(irregular.without()).isEqualTo(2);
        assertThat(irregular.follows()).isEmpty();
        assertThat(bench("bench-e").learned().undecided()).anySatisfy(question -> {
            assertThat(question.what()).isEqualTo("overtravel 2→3");
            assertThat(question.moreShifts()).isPositive();
        });
    }

    @Test
    void ringing_is_told_apart_from_overtravel() {
        Learned ringing = bench("bench-d").learned();

        assertThat(ringing.steps()).allSatisfy(step -> assertThat(step.rang()).isNotEmpty());
        assertThat(ringing.stopping().biasDeg())
                .isCloseTo(0.2, within(ringing.stopping().halfWidthDeg()));
        assertThat(bench("bench-a").learned().steps())
                .allSatisfy(step -> assertThat(step.rang()).isEmpty());
    }

    @Test
    void every_third_cycle_is_held_back() {
        LearnedSource source = bench("bench-a").learned().sources().get(0);

        assertThat(source.shifts()).isEqualTo(108);
        assertThat(source.learned()).isEqualTo(72);
        assertThat(source.heldBack()).isEqualTo(36);
    }

    @Test
    void one_unit_says_nothing_of_others() {
        assertThat(bench("bench-a").learned().undecided())
                .anySatisfy(question -> assertThat(question.why()).contains("one unit: says nothing of others"));
        assertThat(bench("bench-a")
                        .learned()
                        .variation(Measure.LANDING)
                        .orElseThrow()
                        .ofTheKind())
                .isFalse();
    }

    @Test
    void a_sense_that_nothing_tells_is_asked_for() {
        assertThat(bench("bench-f").learned().undecided())
                .anySatisfy(question -> assertThat(question.why()).contains("--sense reversed"));
        assertThat(bench("bench-d").learned().undecided())
                .noneSatisfy(question -> assertThat(question.what()).contains("inboard"));
    }

    @Test
    void a_sense_that_nothing_tells_is_called_assumed() {
        assertThat(bench("bench-f").learned().sources().get(0).sense()).isEqualTo("forward, assumed");
    }
}
