package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.shiftstand.spec.MadeShift.shift;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.TimeZone;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.MadeShift;

class ShiftCsvTest {
    private static String csv(MadeShift... shifts) {
        return written(MadeShift.table(List.of(shifts)));
    }

    private static String written(ShiftTable table) {
        try {
            StringBuilder out = new StringBuilder();
            ShiftCsv.write(table, out);
            return out.toString();
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    private static String row(MadeShift shift) {
        return csv(shift).split("\n", 2)[1];
    }

    @Test
    void has_its_columns_in_the_promised_order_and_further_ones_after_them() {
        assertThat(csv())
                .isEqualTo("shift,cycle,from,to,direction,outcome,request_s,motion_start_s,start_deg,plateau_deg,"
                        + "landing_deg,overtravel_deg,ringing_deg,hold_s,travel_time_s,settled_s,settle_time_s,extreme_deg,"
                        + "clearance_deg,creep_deg,wake_up_error_deg,peak_current_a,charge_as,notes,return_ringing_deg,"
                        + "rest_hold_s,evidence,energy_j,landing_error_deg,displaced,step,supply_v\n");
    }

    @Test
    void gives_numbers_with_fixed_decimals_and_nothing_where_there_is_none() {
        var shift = shift(3, 4)
                .cycle(2)
                .with(Measure.REQUEST, 12.34567891)
                .with(Measure.LANDING, 2170.123456)
                .with(Measure.CREEP, -0.00001)
                .with(Measure.PEAK_CURRENT, 2.4)
                .with(Measure.RETURN_RINGING, 1e-9)
                .without(Measure.HOLD, "clock stopped")
                .step("sweep-3")
                .supply(8.2);

        assertThat(row(shift))
                .isEqualTo("1,2,3,4,inboard,landed,12.345679,,,,2170.1235,,,,,,,,,0.0000,,2.4000,,"
                        + "hold_s: clock stopped,0.0000,,complete,,,no,sweep-3,8.200\n");
    }

    @Test
    void notes_name_each_column_that_is_not_measured_but_not_what_does_not_apply() {
        var shift = shift(3, 4)
                .without(Measure.SETTLE_TIME, "clock stopped between windows")
                .without(Measure.HOLD, "clock stopped between windows")
                .note("two plateaus, the farthest is used");

        assertThat(row(shift))
                .contains(
                        "\"hold_s: clock stopped between windows; settle_time_s: clock stopped between windows; two plateaus,"
                                + " the farthest is used\"");
    }

    @Test
    void says_in_place_of_an_unknown_outcome_what_was_seen() {
        assertThat(row(shift(3, 4).unknown(Evidence.SENSOR_FAULT))).startsWith("1,1,3,4,inboard,sensor-fault,");
    }

    @Test
    void says_which_shift_is_displaced() {
        assertThat(row(shift(3, 4).displaced())).contains(",complete,,,yes,");
    }

    @ParameterizedTest
    @ValueSource(strings = {"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1"})
    void never_lets_text_start_a_formula(String hostile) {
        String cell = row(shift(3, 4).step(hostile)).replace("\"", "");

        assertThat(cell).contains(",'" + hostile);
    }

    /** RFC 4180, 2.6 and 2.7. */
    @Test
    void quotes_commas_quotes_and_line_breaks() {
        assertThat(row(shift(3, 4).note("said \"stop\", twice\nthen")))
                .contains(",\"said \"\"stop\"\", twice\nthen\",");
    }

    @Test
    void ends_lines_with_lf_alone() {
        assertThat(csv(shift(3, 4), shift(4, 3))).doesNotContain("\r").endsWith("\n");
    }

    @Test
    void does_not_depend_on_locale_or_time_zone() {
        Locale locale = Locale.getDefault();
        TimeZone zone = TimeZone.getDefault();
        var shift = shift(3, 4).with(Measure.LANDING, 1234567.5);
        String before = csv(shift);
        try {
            for (String tag : List.of("de-DE", "ar-EG", "hi-IN-u-nu-deva", "tr-TR")) {
                Locale.setDefault(Locale.forLanguageTag(tag));
                TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Kiritimati"));

                assertThat(csv(shift)).as(tag).isEqualTo(before);
            }
        } finally {
            Locale.setDefault(locale);
            TimeZone.setDefault(zone);
        }
    }
}
