package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.shiftstand.judge.Judgement;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;

/** A report stays small however much went wrong; how long a run may be is in {@link HtmlReportTest}. */
class ReportSizeTest {
    private static final int MOST_BYTES = 2_000_000;

    @Test
    void a_thousand_shifts_of_which_every_third_is_bad() {
        Fixture run = new Fixture(10, 56, 5).endOfLine().sweep();
        for (int n = 1; n <= run.shifts.size(); n += 3) {
            run.change(n, ReportSizeTest::bad);
        }
        Judgement judged = run.judged();

        String html = HtmlReportTest.html(judged, true);

        assertThat(judged.table().shifts()).hasSize(1008);
        assertThat(html.getBytes(StandardCharsets.UTF_8).length).isLessThan(MOST_BYTES);
    }

    @Test
    void what_is_left_out_is_said_with_where_it_is() {
        Fixture run = new Fixture(10, 56, 5).endOfLine().sweep();
        for (int n = 1; n <= run.shifts.size(); n += 3) {
            run.change(n, ReportSizeTest::bad);
        }

        String html = HtmlReportTest.html(run.judged(), false);

        assertThat(html).contains("shifts are listed; all of them are in shifts.csv.");
    }

    /** Far off, ringing, and each with a note of its own. */
    private static Shift bad(Shift s) {
        return Fixture.with(
                s,
                s.number() % 2 == 0 ? Outcome.SHORT : Outcome.LANDED,
                Evidence.COMPLETE,
                Map.of(
                        Measure.LANDING_ERROR, new Measured.Value(50 + s.number() % 97),
                        Measure.RINGING, new Measured.Value(30 + s.number() % 13),
                        Measure.ENERGY, new Measured.NotMeasured("reason of shift " + s.number() % 500)),
                "note of shift " + s.number());
    }
}
