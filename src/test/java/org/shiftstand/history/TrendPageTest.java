package org.shiftstand.history;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.report.ReportOptions;

/** What a trend says, on its page and beside it. Invented runs. */
class TrendPageTest {
    @TempDir
    Path folder;

    private static HistoryEntry entry(String unit, String verdict, double value, boolean simulated) {
        return HistoryEntry.read(
                MadeResults.result(
                        "source of " + unit,
                        unit,
                        "1.0",
                        Instant.parse("2026-11-02T08:00:00Z"),
                        verdict,
                        value,
                        simulated),
                "result.json",
                "somewhere");
    }

    private Trend trend(HistoryEntry... runs) throws SQLException {
        try (History history =
                History.open(Database.of(folder.resolve("history.db").toString(), "", ""))) {
            history.add(List.of(runs), Map.of());
            return Trend.of(history, Filter.all(), List.of("landing-spread"));
        }
    }

    private static String page(Trend trend) throws IOException {
        StringWriter out = new StringWriter();
        TrendPage.write(trend, "All runs", ReportOptions.undated("0.1.0"), out);
        return out.toString();
    }

    @Test
    void one_run_is_told_of_as_one() throws SQLException {
        Trend trend = trend(entry("TD-1", "no-verdict", 10, false), entry("TD-9", "pass", 10, true));

        assertThat(TrendText.notes(trend))
                .containsExactly(
                        "1 simulated run is left out; --simulated shows only such runs.",
                        "1 first run had no verdict; a yield leaves it out.");
        assertThat(TrendText.course(trend.clauses().get(0)))
                .startsWith("1 value; no moving average: 1 run has a value; a chart needs 21");
    }

    @Test
    void several_runs_are_told_of_as_several() throws SQLException {
        Trend trend = trend(entry("TD-1", "no-verdict", 10, false), entry("TD-2", "no-verdict", 10, false));

        assertThat(TrendText.notes(trend)).containsExactly("2 first runs had no verdict; a yield leaves them out.");
    }

    /** 1 − Φ(3) = 0.001 349 9, one in 740.8: NIST/SEMATECH e-Handbook 1.3.6.7.1, table of the normal distribution. */
    @Test
    void the_page_derives_what_a_cpk_of_1_means() throws SQLException, IOException {
        assertThat(page(trend(entry("TD-1", "pass", 10, false), entry("TD-2", "pass", 11, false))))
                .contains(
                        "At 1 the bound is three standard deviations away: of a normal distribution 0.135 %, one run in"
                                + " 741, lies farther out on that side.");
    }

    @Test
    void the_page_has_true_minus_signs_and_keeps_percent_signs_with_their_numbers() throws SQLException, IOException {
        List<HistoryEntry> runs = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
            runs.add(entry("TD-" + i, "pass", -10 - i, false));
        }

        String page = page(trend(runs.toArray(HistoryEntry[]::new)));

        assertThat(page).contains("<td class=\"n\">\u221211.5</td>").doesNotContain("<td class=\"n\">-");
        assertThat(page).contains("<dd>100.0\u00a0%</dd>").contains("first-pass yield, 39.8 to 100.0\u00a0%");
    }
}
