package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.shiftstand.quantity.Unit;

class FiguresTest {
    @Test
    void a_number_keeps_its_unit_on_the_same_line() {
        assertThat(Figures.of(12.34, Unit.DEG)).isEqualTo("12.3\u00a0deg");
        assertThat(Figures.of(0.70123, Unit.S)).isEqualTo("0.7012\u00a0s");
        assertThat(Figures.of(0.41, Unit.AS)).isEqualTo("0.410\u00a0A\u00b7s");
        assertThat(Figures.of(0.5, Unit.ONE)).isEqualTo("0.500");
    }

    @Test
    void minus_is_the_minus_of_print_and_zero_has_none() {
        assertThat(Figures.of(-3, Unit.DEG)).isEqualTo("\u22123.0\u00a0deg");
        assertThat(Figures.of(-0.04, Unit.DEG)).isEqualTo("0.0\u00a0deg");
    }

    @Test
    void a_small_margin_does_not_read_as_zero() {
        assertThat(Figures.decimals(Unit.DEG, -0.0013)).isEqualTo(4);
        assertThat(Figures.bare(18.0013, 4)).isEqualTo("18.0013");
        assertThat(Figures.decimals(Unit.DEG, 25)).isEqualTo(1);
        assertThat(Figures.decimals(Unit.DEG, 0)).isEqualTo(1);
    }

    @Test
    void bounds_read_as_their_author_wrote_them() {
        assertThat(Figures.asWritten(0.7 / 1e-3, Unit.MS)).isEqualTo("700\u00a0ms"); // 699.9999999999999 in binary
        assertThat(Figures.asWritten(-40, Unit.DEG)).isEqualTo("\u221240\u00a0deg");
        assertThat(Figures.asWritten(0, Unit.SHIFTS)).isEqualTo("0\u00a0shifts");
        assertThat(Figures.asWritten(1e-7, Unit.A)).isEqualTo("0.0000001\u00a0A");
    }

    @Test
    void one_shift_is_no_shifts() {
        assertThat(Figures.of(1, Unit.SHIFTS)).isEqualTo("1\u00a0shift");
        assertThat(Figures.count(1, "shift")).isEqualTo("1\u00a0shift");
        assertThat(Figures.count(2, "shift")).isEqualTo("2\u00a0shifts");
    }

    @Test
    void what_is_no_number_is_a_dash() {
        assertThat(Figures.bare(Double.NaN, 1)).isEqualTo("\u2013");
    }

    @Test
    void runs_of_numbers_are_drawn_together() {
        assertThat(Figures.runs(List.of(), 5)).isEmpty();
        assertThat(Figures.runs(List.of(3, 7, 8, 9, 12, 13), 5)).isEqualTo("3, 7\u20139, 12, 13");
        assertThat(Figures.runs(List.of(1, 3, 5, 7, 8), 2)).isEqualTo("1, 3 and 3 more");
    }

    @Test
    void times_are_in_utc_and_whole_seconds() {
        assertThat(Figures.utc(Instant.parse("2026-11-25T12:00:00.999Z"))).isEqualTo("2026-11-25T12:00:00Z");
    }
}
