package org.shiftstand.planning.cassette;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.spec.MadeShift.shift;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.MadeShift;

class SpreadOfShiftsTest {
    private static MadeShift landing(int from, int to, double errorDeg) {
        return shift(from, to).with(Measure.LANDING_ERROR, errorDeg).with(Measure.RINGING, 1);
    }

    private static Shift made(MadeShift shift) {
        return shift.number(1);
    }

    /** Two groups about their own means: (−1, 1) and (4, 6, 8); squares 2 + 8 over 1 + 2. */
    @Test
    void scatter_is_pooled_over_sprockets_and_directions() {
        var seen = new SpreadOfShifts();

        seen.add(
                "a",
                List.of(
                        made(landing(1, 2, -1)),
                        made(landing(1, 2, 1)),
                        made(landing(3, 2, 4)),
                        made(landing(3, 2, 6)),
                        made(landing(3, 2, 8))));
        ObservedSpread observed = seen.observed(0.2, "a");

        assertThat(observed.landingSdDeg().orElseThrow()).isCloseTo(Math.sqrt(10.0 / 3), within(1e-12));
        assertThat(observed.shifts()).hasValue(4); // three degrees of freedom
        assertThat(observed.offsetDeg()).isEqualTo(6);
        assertThat(observed.uncertaintyDeg()).isEqualTo(0.2);
    }

    @Test
    void two_captures_are_two_groups() {
        var seen = new SpreadOfShifts();

        seen.add("a", List.of(made(landing(1, 2, -1)), made(landing(1, 2, 1))));
        seen.add("b", List.of(made(landing(1, 2, 99)), made(landing(1, 2, 101))));

        assertThat(seen.observed(0, "both").landingSdDeg().orElseThrow()).isCloseTo(Math.sqrt(2), within(1e-12));
    }

    @Test
    void ringing_is_the_largest_of_both_sorts() {
        var seen = new SpreadOfShifts();

        seen.add("a", List.of(made(landing(1, 2, 0)), made(landing(2, 1, 0).with(Measure.RETURN_RINGING, 7))));

        assertThat(seen.observed(0, "a").ringingMaxDeg()).hasValue(7);
    }

    @Test
    void shifts_that_did_not_land_do_not_count_and_are_counted() {
        var seen = new SpreadOfShifts();

        seen.add(
                "a",
                List.of(
                        made(landing(1, 2, 500).outcome(Outcome.DOUBLE)),
                        made(landing(1, 2, 300).displaced()),
                        made(landing(1, 2, 0))));

        assertThat(seen.leftOut()).isEqualTo(2);
        assertThat(seen.landed()).isEqualTo(1);
        assertThat(seen.observed(0, "a").landingSdDeg()).isEmpty(); // one landing tells of no scatter
    }
}
