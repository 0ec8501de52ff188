package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** Values from run to run, drawn. */
class CourseDrawingTest {
    private static String drawn(int runs) {
        return CourseDrawing.of(
                "course",
                new CourseDrawing.Course(
                        new double[runs],
                        List.copyOf(Collections.nCopies(runs, "pass")),
                        new double[0],
                        Double.NaN,
                        Double.NaN,
                        OptionalDouble.of(-70),
                        OptionalDouble.of(800),
                        "deg"));
    }

    @Test
    void bounds_are_told_as_written_with_a_true_minus_sign() {
        assertThat(drawn(3)).contains(">at least −70<", ">at most 800<");
    }

    @Test
    void a_few_runs_are_drawn_larger_than_many() {
        assertThat(drawn(9)).contains("stroke=\"" + Palette.RANGE + "\" stroke-width=\"6\"");
        assertThat(drawn(1000)).contains("stroke=\"" + Palette.RANGE + "\" stroke-width=\"4\"");
    }
}
