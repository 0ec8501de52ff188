package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.shiftstand.report.JUnitXml.Case;
import org.shiftstand.report.JUnitXml.Ending;
import org.shiftstand.report.JUnitXml.Suite;

/** A judged unit as cases for a build server. */
class JudgementJUnitTest {
    private static final Suite SUITE = JudgementJUnit.suite(MadeJudgement.judgement(), "td-0107.csv", Optional.empty());

    private static Case named(String classname, String name) {
        return SUITE.cases().stream()
                .filter(c -> c.classname().equals(classname) && c.name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void the_unit_is_the_suite_and_its_first_case_is_the_verdict() {
        assertThat(SUITE.name()).isEqualTo("TD-0107");
        assertThat(SUITE.properties())
                .containsEntry("verdict", "fail")
                .containsEntry("source sha256", "c".repeat(64))
                .containsEntry("run ended early", "stopped by the user");
        assertThat(SUITE.cases().get(0).name()).isEqualTo("meets tarn-drive-test version 1");
        assertThat(SUITE.cases().get(0).ending()).isEqualTo(Ending.FAILED);
    }

    @Test
    void every_group_of_every_clause_is_a_case() {
        long groups = MadeJudgement.judgement().clauses().stream()
                .mapToLong(clause -> clause.groups().size())
                .sum();

        assertThat(SUITE.cases()).hasSize(1 + (int) groups);
    }

    @Test
    void a_failure_tells_value_bound_shifts_and_reason() {
        Case failed = named("TD-0107.overtravel", "sprocket 4, inboard");

        assertThat(failed.ending()).isEqualTo(Ending.FAILED);
        assertThat(failed.message())
                .startsWith("sprocket 4 inboard: 220.1 deg in shift 1, allowed 230 to 340 deg, 9.9 deg too small");
        assertThat(failed.text().lines())
                .contains("bound: 230 deg to 340 deg", "value: 220.1 deg", "margin: -9.9 deg", "shifts: 1");
    }

    @Test
    void what_the_evidence_does_not_decide_is_an_error() {
        Case open = named("TD-0107.hold", "all shifts");

        assertThat(open.ending()).isEqualTo(Ending.UNDECIDED);
        assertThat(open.type()).isEqualTo("no-verdict");
    }

    @Test
    void a_run_that_ended_early_is_an_error_of_its_own_where_that_is_a_result() {
        Suite suite = JudgementJUnit.suite(
                MadeJudgement.judgement(), "td-0107.csv", Optional.of("guard: current above 9 A for 20 ms"));

        assertThat(suite.cases().get(1))
                .isEqualTo(new Case(
                        "TD-0107",
                        "was run to its end",
                        Ending.UNDECIDED,
                        "ended early",
                        "guard: current above 9 A for 20 ms"));
    }

    @Test
    void two_runs_of_one_unit_are_told_apart_by_their_files() {
        Suite suite = JudgementJUnit.suiteOfMany(MadeJudgement.judgement(), "week 2/a.run");

        assertThat(suite.name()).isEqualTo("TD-0107, week 2/a.run");
        assertThat(suite.cases()).allMatch(c -> c.classname().startsWith("TD-0107, week 2/a.run"));
    }

    @Test
    void a_file_that_cannot_be_judged_is_an_error_with_every_problem() {
        Suite suite = JudgementJUnit.notJudged("b.csv", List.of("b.csv:1: no column hall_cos", "b.csv:2: short row"));

        assertThat(suite.counts()).isEqualTo(new JUnitXml.Counts(1, 0, 1, 0));
        assertThat(suite.cases().get(0).message()).isEqualTo("b.csv:1: no column hall_cos");
        assertThat(suite.cases().get(0).text()).contains("b.csv:2: short row");
    }
}
