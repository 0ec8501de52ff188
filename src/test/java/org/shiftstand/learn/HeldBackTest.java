package org.shiftstand.learn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.judge.Measurement;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/** What must not matter to what is learned. */
class HeldBackTest {
    @TempDir
    Path folder;

    private static Learned learn(List<LearningInput> inputs) {
        return Learning.learn(inputs, LearnOptions.of("drawn"), OptionalDouble.empty());
    }

    private LearningInput run(String name, Profile profile, int seed) throws IOException {
        LearningInput input =
                SimulatedDrive.run(folder, name, profile, "seed=" + seed + ",start=1", SimulatedDrive.sweeps(4));
        return new LearningInput(name, "one", input.identity(), input.measured(), input.firstSprocket());
    }

    /** Every value of every shift that is held back moved by a lot, and half of the overtravels taken away. */
    private static LearningInput spoilt(LearningInput input) {
        Measurement measured = input.measured();
        ShiftTable table = measured.table();
        List<Shift> shifts = new ArrayList<>();
        for (Shift shift : table.shifts()) {
            shifts.add(SeenShift.heldBack(shift) ? spoilt(shift) : shift);
        }
        ShiftTable other = table.withShifts(shifts);
        return new LearningInput(
                input.name(),
                input.unit(),
                input.identity(),
                new Measurement(measured.source(), measured.profile(), measured.track(), other, measured.notices()),
                input.firstSprocket());
    }

    private static Shift spoilt(Shift s) {
        Map<Measure, Measured> measures = new EnumMap<>(Measure.class);
        for (Measure measure : Measure.values()) {
            OptionalDouble value = s.get(measure).number();
            measures.put(
                    measure,
                    value.isEmpty()
                            ? s.get(measure)
                            : new Measured.Value(
                                    measure == Measure.OVERTRAVEL && s.number() % 2 == 0
                                            ? 0
                                            : value.getAsDouble() * 1.7 + 50));
        }
        return new Shift(
                s.number(),
                s.cycle(),
                s.from(),
                s.to(),
                s.direction(),
                s.outcome(),
                s.evidence(),
                s.displaced(),
                s.sprocketsUnsure(),
                s.step(),
                s.supplyV(),
                measures,
                s.notes());
    }

    @Test
    void what_is_held_back_changes_no_bit_of_what_is_learned() throws IOException {
        LearningInput input = run("kept", SimulatedDrive.drawn(5), 1);

        assertThat(spoilt(input).measured().table())
                .isNotEqualTo(input.measured().table());
        assertThat(learn(List.of(spoilt(input)))).isEqualTo(learn(List.of(input)));
    }

    @Test
    void the_same_files_give_the_same_again_and_their_order_changes_only_their_listing() throws IOException {
        Profile profile = SimulatedDrive.drawn(6);
        List<LearningInput> ab = List.of(run("a", profile, 1), run("b", profile, 2));

        Learned one = learn(ab);
        Learned other = learn(List.of(ab.get(1), ab.get(0)));

        assertThat(learn(ab)).isEqualTo(one);
        assertThat(other.sources())
                .containsExactly(one.sources().get(1), one.sources().get(0));
        assertThat(other.stopping().biasDeg()).isCloseTo(one.stopping().biasDeg(), within(1e-8));
        for (int k = 0; k < one.positions().size(); k++) {
            assertThat(other.positions().get(k).programmedDeg())
                    .isCloseTo(one.positions().get(k).programmedDeg(), within(1e-7));
            assertThat(other.positions().get(k).halfWidthDeg())
                    .isCloseTo(one.positions().get(k).halfWidthDeg(), within(1e-7));
        }
        for (int i = 0; i < one.steps().size(); i++) {
            assertThat(TableValue.of(other.steps().get(i)).orElseThrow())
                    .isCloseTo(TableValue.of(one.steps().get(i)).orElseThrow(), within(1e-7));
        }
    }
}
