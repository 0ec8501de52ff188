package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** A shaft driven inboard, seen by a magnet of one or two periods a turn; it may go 1000 degrees. */
class TravelWatchTest {
    private static TravelWatch watching(int periods) {
        var watch = new TravelWatch(4096, 1.0 / periods, -1000, 1000, 5, 0.02);
        watch.setsOut(1);
        return watch;
    }

    /** Ten degrees of shaft a sample. */
    private static void turn(TravelWatch watch, int periods, int deg) {
        for (int at = 0; at <= deg; at += 10) {
            double phi = Math.toRadians(periods * at);
            watch.sample(
                    1000L * at,
                    true,
                    (short) (2048 + 1400 * Math.sin(phi)),
                    (short) (2048 + 1400 * Math.cos(phi)),
                    0.3);
        }
    }

    @Test
    void counts_degrees_of_the_shaft_with_one_period() {
        var watch = watching(1);

        turn(watch, 1, 900);

        assertThat(watch.deg()).isCloseTo(900, within(0.1)); // counts are cut, not rounded
    }

    @Test
    void counts_degrees_of_the_shaft_with_two_periods() {
        var watch = watching(2);

        turn(watch, 2, 900);

        assertThat(watch.deg()).isCloseTo(900, within(0.1));
    }

    @Test
    void ends_a_drive_that_goes_too_far_with_two_periods() {
        assertThatThrownBy(() -> turn(watching(2), 2, 1020)).isInstanceOf(RunEnded.class);
    }
}
