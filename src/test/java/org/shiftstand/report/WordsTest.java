package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Outcome;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Selection;
import org.shiftstand.spec.Selection.Range;
import org.shiftstand.spec.Statistic;
import org.shiftstand.spec.Verdict;

class WordsTest {
    @Test
    void on_a_page_no_figure_of_a_comparison_is_parted_from_its_unit() {
        assertThat(ComparisonWords.unbroken(
                        "709.68 → 649.69 ms, −59.99 ms (90 % interval −60.24 to −59.74 ms): beyond ± 20 ms"))
                .isEqualTo("709.68 → 649.69\u00a0ms, −59.99\u00a0ms (90\u00a0% interval −60.24 to −59.74\u00a0ms):"
                        + " beyond ±\u00a020\u00a0ms");
        assertThat(ComparisonWords.unbroken("24 groups, 2 Apples")).isEqualTo("24 groups, 2 Apples");
    }

    @Test
    void a_clause_reads_as_a_demand() {
        List<Clause> clauses = Fixture.good().clauses;

        assertThat(clauses.stream().map(Words::subject))
                .containsExactly(
                        "standard deviation of landing, per sprocket and direction",
                        "every landing error, per sprocket and direction",
                        "every overtravel; only inboard, to 2–5",
                        "every hold, per pair",
                        "percentile 95 of settle time, per direction",
                        "largest ringing",
                        "smallest clearance",
                        "largest peak current",
                        "count of shifts that are not landed");
    }

    @Test
    void a_selection_names_all_it_selects() {
        Selection where = new Selection(
                Optional.of(Direction.OUTBOARD),
                List.of(new Range(3, 3)),
                List.of(new Range(1, 2), new Range(5, 5)),
                List.of(new Range(1, 20)),
                List.of("sweep-1", "sweep-2"),
                List.of(new Range(7.5, 8.2)));
        Clause clause = new Clause(
                "c",
                Optional.empty(),
                Optional.of(new Clause.OutcomeTest(List.of(Outcome.MISSED, Outcome.NOT_SETTLED), false)),
                where,
                new Statistic(Statistic.Kind.PROPORTION, 0),
                List.of(),
                new Bound(OptionalDouble.empty(), OptionalDouble.of(0.01), Unit.PERCENT),
                OptionalInt.empty(),
                0.02,
                "",
                1);

        assertThat(Words.subject(clause))
                .isEqualTo(
                        "share of shifts that are missed or not settled; only outboard, from 3, to 1–2 or 5, cycle 1–20,"
                                + " step sweep-1 or sweep-2, supply 7.5–8.2\u00a0V");
        assertThat(Words.bound(clause.bound(), Unit.PERCENT)).isEqualTo("at most 1\u00a0%");
    }

    @Test
    void a_bound_is_in_the_unit_of_its_author() {
        Bound both = new Bound(OptionalDouble.of(0.65), OptionalDouble.of(0.76), Unit.MS);
        Bound low = new Bound(OptionalDouble.of(-60), OptionalDouble.empty(), Unit.DEG);

        assertThat(Words.bound(both, Unit.MS)).isEqualTo("650\u00a0ms to 760\u00a0ms");
        assertThat(Words.bound(low, Unit.DEG)).isEqualTo("at least \u221260\u00a0deg");
    }

    @Test
    void a_minus_of_terminals_becomes_one_of_print_only_before_a_number() {
        assertThat(Words.typeset("at-most -4 to -2.5 deg, TD-0107, 3-4, sweep-1"))
                .isEqualTo("at-most \u22124 to \u22122.5 deg, TD-0107, 3-4, sweep-1");
    }

    @Test
    void a_group_is_named_once() {
        GroupResult group = new GroupResult(
                Map.of("sprocket", "4"),
                3,
                0,
                0,
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                Verdict.NO_VERDICT,
                "sprocket 4: 3 shifts have a value, 20 are needed",
                List.of());

        assertThat(Words.group(group)).isEqualTo("sprocket\u00a04");
        assertThat(Words.withoutGroup(group)).isEqualTo("3 shifts have a value, 20 are needed");
    }

    @Test
    void lists_read_as_people_write_them() {
        assertThat(Words.list(List.of(), "and")).isEmpty();
        assertThat(Words.list(List.of("a"), "and")).isEqualTo("a");
        assertThat(Words.list(List.of("a", "b", "c"), "or")).isEqualTo("a, b or c");
    }

    @Test
    void cautions_come_apart_at_empty_lines_and_dashes() {
        assertThat(Cautions.paragraphs("first\nline.\r\n\r\n- one\n- two\n\n"))
                .containsExactly("first line.", "one", "two");
        assertThat(Cautions.read()).hasSizeGreaterThanOrEqualTo(4);
    }
}
