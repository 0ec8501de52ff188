package org.shiftstand.classification;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.type;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Outcome;
import org.shiftstand.sim.ShiftTruth;
import org.shiftstand.spec.Evaluation;
import org.shiftstand.spec.SpecReader;

/** What a unit really is, worked out by hand from motions that are made up. */
class TruthJudgeTest {
    private static final Profile TARN = CheckedUnit.PROFILE;

    /** The sweeps of the end-of-line procedure, on the spot. */
    private static List<ShiftTruth> nominal() {
        List<ShiftTruth> shifts = new ArrayList<>();
        for (int cycle = 1; cycle <= 24; cycle++) {
            for (int to = 2; to <= 10; to++) {
                shifts.add(shift(shifts.size() + 1, cycle, to - 1, to));
            }
            for (int to = 9; to >= 1; to--) {
                shifts.add(shift(shifts.size() + 1, cycle, to + 1, to));
            }
        }
        return shifts;
    }

    private static ShiftTruth shift(int number, int cycle, int from, int to) {
        double overtravel = TARN.overtravelDeg(from, to);
        return truth(number, cycle, from, to, "landed", TARN.positionDeg(to), overtravel, 0.700, 0, 200);
    }

    private static ShiftTruth truth(
            int number,
            int cycle,
            int from,
            int to,
            String outcome,
            double landing,
            double overtravel,
            double hold,
            double creep,
            double clearance) {
        return new ShiftTruth(
                number,
                cycle,
                from,
                to,
                Direction.of(to - from),
                outcome,
                "complete",
                number * 3.0,
                TARN.positionDeg(from),
                OptionalDouble.of(number * 3.0 + 0.02),
                OptionalDouble.of(landing),
                OptionalDouble.empty(),
                OptionalDouble.of(overtravel),
                OptionalDouble.of(0.2),
                OptionalDouble.empty(),
                overtravel > 0 ? OptionalDouble.of(hold) : OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.of(0.140),
                OptionalDouble.of(number * 3.0 + 1),
                OptionalDouble.of(1.0),
                landing,
                OptionalDouble.of(clearance),
                OptionalDouble.of(creep),
                5.3,
                List.of());
    }

    private static Truth of(List<ShiftTruth> shifts) {
        return TruthJudge.judge(CheckedUnit.SPEC, TARN, shifts);
    }

    private static List<ShiftTruth> landings(UnaryOperator<ShiftTruth> changed) {
        return nominal().stream().map(changed).toList();
    }

    private static ShiftTruth landing(ShiftTruth s, double errorDeg) {
        return truth(
                s.number(),
                s.cycle(),
                s.from(),
                s.to(),
                "landed",
                TARN.positionDeg(s.to()) + errorDeg,
                TARN.overtravelDeg(s.from(), s.to()),
                0.700,
                0,
                200);
    }

    private static List<ShiftTruth> with(int number, ShiftTruth other) {
        List<ShiftTruth> shifts = nominal();
        shifts.set(number - 1, other);
        return shifts;
    }

    @Test
    void a_nominal_unit_is_good() {
        assertThat(of(nominal()).state()).isEqualTo(Truth.State.GOOD);
    }

    @Test
    void one_shift_that_did_not_land_is_a_fault_however_small_the_rest() {
        Truth truth = of(with(40, truth(40, 3, 4, 5, "missed", 2930, 300, 0.7, 0, 200)));

        assertThat(truth.state()).isEqualTo(Truth.State.FAULTY);
        assertThat(truth.worst()).isEqualTo("all-land: 1 shifts outside");
    }

    @Test
    void homing_before_the_first_cycle_is_about_nothing() {
        List<ShiftTruth> shifts = nominal();
        shifts.add(0, truth(0, 0, 2, 1, "missed", 0, 0, 0.7, 99, 0));

        assertThat(of(shifts).state()).isEqualTo(Truth.State.GOOD);
    }

    @Nested
    class A_single_value {
        /** Hold is demanded from 620 ms on. */
        @Test
        void beyond_its_bound_by_more_than_a_measurement_may_be_off_is_a_fault() {
            Truth truth = of(with(2, truth(2, 1, 2, 3, "landed", 1455, 300, 0.617, 0, 200)));

            assertThat(truth.state()).isEqualTo(Truth.State.FAULTY);
            assertThat(truth.beyond()).isCloseTo(1.5, within(1e-9));
            assertThat(truth.worst()).isEqualTo("hold: 3.0 ms outside");
        }

        @Test
        void nearer_to_it_on_either_side_is_borderline() {
            assertThat(of(with(2, truth(2, 1, 2, 3, "landed", 1455, 300, 0.619, 0, 200)))
                            .state())
                    .isEqualTo(Truth.State.BORDERLINE);
            assertThat(of(with(2, truth(2, 1, 2, 3, "landed", 1455, 300, 0.621, 0, 200)))
                            .state())
                    .isEqualTo(Truth.State.BORDERLINE);
        }

        /** 3→4 may have 240 deg at least, 1→2 only 210. */
        @Test
        void is_held_against_the_bound_of_its_own_shift() {
            assertThat(of(with(3, truth(3, 1, 3, 4, "landed", 2170, 230, 0.7, 0, 200)))
                            .state())
                    .isEqualTo(Truth.State.FAULTY);
            assertThat(of(with(1, truth(1, 1, 1, 2, "landed", 712, 230, 0.7, 0, 200)))
                            .state())
                    .isEqualTo(Truth.State.GOOD);
        }
    }

    @Nested
    class Landings {
        /** 24 landings, every other 19.6 deg to either side: standard deviation 19.6·√(24/23) = 20.02, 2.02 beyond 18. */
        @Test
        void that_spread_at_one_sprocket_and_direction_are_a_fault() {
            Truth truth =
                    of(landings(s -> s.from() == 3 && s.to() == 4 ? landing(s, s.cycle() % 2 == 0 ? 19.6 : -19.6) : s));

            assertThat(truth.state()).isEqualTo(Truth.State.FAULTY);
            assertThat(truth.worst()).isEqualTo("landing-spread 4 inboard: 2.02 deg outside");
        }

        @Test
        void all_off_by_the_same_are_seen_only_from_the_true_origin() {
            Truth truth = of(landings(s -> landing(s, 40)));

            assertThat(truth.state()).isEqualTo(Truth.State.ONLY_FROM_ORIGIN);
            assertThat(truth.beyondFromOrigin()).isCloseTo(20, within(1e-9)); // 10 deg beyond 30
        }

        @Test
        void off_at_one_sprocket_do_not_move_the_origin() {
            List<ShiftTruth> shifts = landings(s -> s.to() == 6 ? landing(s, -33) : s);

            assertThat(TruthJudge.alignedOriginDeg(TARN, shifts)).isZero();
            assertThat(of(shifts).worst()).isEqualTo("landing-bias 6 inboard: 3.00 deg outside");
        }
    }

    /** Else a mistake in measuring could confirm itself. The words of outcomes are the only thing shared. */
    @Test
    void it_calls_nothing_that_decodes_measures_or_evaluates() {
        noClasses()
                .should()
                .dependOnClassesThat(
                        resideInAnyPackage("..angle..", "..shift..", "..judge..", "..stats..", "..record..")
                                .and(not(type(Outcome.class)))
                                .or(type(Evaluation.class)))
                .check(new ClassFileImporter().importClasses(TruthJudge.class, Truth.class));
    }

    @Test
    void a_clause_that_it_does_not_know_is_refused_and_not_left_out() {
        var spec = SpecReader.read(TextFile.of(
                "other.spec.yaml",
                "spec: other\nversion: 1\ntitle: other\nclauses:\n  - id: energy\n    measure: energy\n"
                        + "    statistic: maximum\n    at-most: 5 J\n"));

        assertThatThrownBy(() -> TruthJudge.judge(spec, TARN, nominal()))
                .isInstanceOf(UnsupportedOperationException.class)
                .hasMessageContaining("energy");
    }
}
