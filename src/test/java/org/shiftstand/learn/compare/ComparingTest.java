package org.shiftstand.learn.compare;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.TextFile;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;
import org.shiftstand.spec.Statistic;

/** What a comparison says of runs whose truth is known. */
class ComparingTest {
    private static MadeRun run(String name, long seed) {
        return MadeRun.of(name, new Random(seed));
    }

    private static Sides sides(MadeRun base, MadeRun candidate) {
        return new Sides(List.of(base.made()), List.of(candidate.made()));
    }

    private static Comparison compare(Sides sides, String... margins) {
        return Comparing.compare(
                sides, Optional.empty(), Stream.of(margins).map(Margins::read).toList(), List.of());
    }

    private static Compared row(Comparison comparison, Statistic.Likeness of, String words) {
        return Stream.concat(comparison.judged().stream(), comparison.told().stream())
                .filter(row -> row.of() == of && row.words().equals(words))
                .findFirst()
                .orElseThrow();
    }

    @Nested
    class One_overtravel_twenty_degrees_longer {
        private final Comparison comparison =
                compare(sides(run("old.run", 1), run("new.run", 2).overtravelOfOneMovedBy(20)), "overtravel=10deg");

        @Test
        void is_named_and_nothing_else_is() {
            assertThat(comparison.change()).isEqualTo(Change.DIFFERENT);
            assertThat(comparison.count(Change.DIFFERENT)).isEqualTo(1);
            assertThat(comparison.reason())
                    .startsWith("1 of 18 groups different; overtravel, sprocket 5 inboard: ")
                    .contains("surely beyond ± 10 deg");
        }

        @Test
        void has_the_true_difference_in_its_interval() {
            Compared row = row(comparison, Statistic.Likeness.MEAN, "sprocket 5 inboard");

            assertThat(row.low().orElseThrow()).isLessThan(20);
            assertThat(row.high().orElseThrow()).isGreaterThan(20);
        }
    }

    @Nested
    class An_overtravel_that_misses_now_and_then {
        @Test
        void is_no_reason_to_call_its_mean_another_one() {
            Comparison comparison = compare(
                    sides(run("old.run", 3), run("new.run", 5).overtravelOfOneComesIn(0.85)), "overtravel=10deg");

            assertThat(row(comparison, Statistic.Likeness.MEAN, "sprocket 5 inboard")
                            .change())
                    .isEqualTo(Change.EQUIVALENT);
            Compared came = row(comparison, Statistic.Likeness.PROPORTION, "sprocket 5 inboard");
            assertThat(came.reason()).contains("overtravel came in 24 of 24 against ");
            assertThat(came.change()).isEqualTo(Change.NOT_DECIDED);
            assertThat(comparison.change()).isEqualTo(Change.NOT_DECIDED);
        }

        @Test
        void is_a_difference_where_half_of_them_miss() {
            Comparison comparison = compare(
                    sides(run("old.run", 3), run("new.run", 4).overtravelOfOneComesIn(0.5)), "overtravel=10deg");

            assertThat(row(comparison, Statistic.Likeness.PROPORTION, "sprocket 5 inboard")
                            .change())
                    .isEqualTo(Change.DIFFERENT);
        }

        @Test
        void that_never_misses_on_either_side_is_told_with_the_share_that_could_have_gone_unseen() {
            Comparison comparison = compare(sides(run("old.run", 3), run("new.run", 4)), "overtravel=10deg");

            assertThat(row(comparison, Statistic.Likeness.PROPORTION, "sprocket 5 inboard")
                            .reason())
                    .isEqualTo("overtravel came in 24 of 24 against 24 of 24; a share of up to 12 % that is otherwise"
                            + " could have gone unseen"); // 1 − 0.05^(1/24)
        }

        @Test
        void has_a_margin_where_the_user_gives_one() {
            Comparison comparison = compare(
                    sides(run("old.run", 3).cycles(200), run("new.run", 4).cycles(200)), "overtravel:proportion=5%");

            assertThat(row(comparison, Statistic.Likeness.PROPORTION, "sprocket 5 inboard")
                            .change())
                    .isEqualTo(Change.EQUIVALENT);
        }
    }

    @Test
    void what_is_below_zero_has_a_true_minus_sign() {
        Comparison comparison = compare(sides(run("old.run", 3), run("new.run", 4)), "landing=12deg");

        assertThat(comparison.judged()).extracting(Compared::reason).anyMatch(reason -> reason.contains(", \u2212"));
        assertThat(comparison.judged()).extracting(Compared::reason).noneMatch(reason -> reason.matches(".*-\\d.*"));
    }

    @Nested
    class A_run_held_against_itself {
        private final ComparedRun run = run("same.run", 6).made();

        @Test
        void is_equivalent_where_so_many_shifts_can_show_it() {
            Comparison comparison = compare(new Sides(List.of(run), List.of(run)), "landing=12deg");

            assertThat(comparison.change()).isEqualTo(Change.EQUIVALENT);
            assertThat(comparison.notices()).anyMatch(notice -> notice.contains("a run held against itself"));
        }

        @Test
        void is_not_decided_where_the_margin_is_finer_than_so_many_shifts_can_show() {
            Comparison comparison = compare(new Sides(List.of(run), List.of(run)), "landing=2deg");

            assertThat(comparison.change()).isEqualTo(Change.NOT_DECIDED);
            assertThat(comparison.judged()).allSatisfy(row -> {
                assertThat(row.difference()).hasValue(0);
                assertThat(row.reason())
                        .contains("with less than 0.1 % chance, about ", " shifts more a side with 90 %");
            });
            // sd 10, two tests at 5 % and 5 % missed on either side: 2 · (10 · 2 · 1.645 / 2)² = 541 a side, less the
            // 24
            assertThat(comparison.judged().stream()
                            .mapToInt(row -> row.moreShifts().orElseThrow())
                            .average()
                            .orElseThrow())
                    .isBetween(350.0, 700.0);
        }
    }

    @Test
    void a_change_that_is_there_but_inside_the_margin_is_equivalent_though_not_the_same() {
        Comparison comparison =
                compare(sides(run("old.run", 7), run("new.run", 8).overtravelOfOneMovedBy(6)), "overtravel=10deg");

        Compared row = row(comparison, Statistic.Likeness.MEAN, "sprocket 5 inboard");
        assertThat(row.change()).isEqualTo(Change.EQUIVALENT);
        assertThat(row.notTheSame(comparison.alpha())).isTrue();
        assertThat(row.reason()).endsWith("inside ± 10 deg, though not the same");
        assertThat(comparison.reason())
                .isEqualTo("all 18 groups inside their margins; 1 of them equivalent, though not the same");
    }

    @Test
    void twice_the_spread_is_a_difference_of_spreads_and_none_of_means() {
        Comparison comparison = compare(
                sides(
                        run("old.run", 9).cycles(120),
                        run("new.run", 10).cycles(120).landingSd(20)),
                "landing=15deg",
                "landing:spread=1.5");

        assertThat(comparison.judged().stream().filter(row -> row.of() == Statistic.Likeness.SPREAD))
                .allSatisfy(row -> assertThat(row.change()).isEqualTo(Change.DIFFERENT));
        assertThat(comparison.judged().stream().filter(row -> row.of() == Statistic.Likeness.MEAN))
                .noneSatisfy(row -> assertThat(row.change()).isEqualTo(Change.DIFFERENT));
    }

    @Test
    void without_any_margin_nothing_is_decided_and_everything_is_told() {
        Comparison comparison = compare(sides(run("old.run", 11), run("new.run", 12)));

        assertThat(comparison.change()).isEqualTo(Change.NOT_DECIDED);
        assertThat(comparison.reason()).startsWith("nothing has a margin: no spec was named");
        assertThat(comparison.told())
                .isNotEmpty()
                .allSatisfy(row -> assertThat(row.change()).isEqualTo(Change.NO_MARGIN));
    }

    @Test
    void too_few_shifts_are_not_decided_however_alike_they_are() {
        Comparison comparison =
                compare(sides(run("old.run", 13).cycles(7), run("new.run", 14).cycles(7)), "landing=100deg");

        assertThat(comparison.judged())
                .allSatisfy(
                        row -> assertThat(row.reason()).contains("base has only 7 shifts with a value, 8 are needed"));
        assertThat(comparison.change()).isEqualTo(Change.NOT_DECIDED);
    }

    @Test
    void a_group_that_only_one_side_has_is_not_decided() {
        Comparison comparison =
                compare(sides(run("old.run", 15), run("new.run", 16).sprockets(9)), "landing=20deg");

        assertThat(row(comparison, Statistic.Likeness.MEAN, "sprocket 10 inboard")
                        .reason())
                .startsWith("candidate has no shift with a value");
    }

    @Nested
    class A_spec {
        private final Spec spec = SpecReader.read(TextFile.of("x.spec.yaml", """
                spec: change
                version: 1
                clauses:
                  - { id: place, measure: landing, statistic: equivalent-to, per: [sprocket, direction], at-most: 12 deg }
                  - { id: highest, measure: landing, statistic: maximum, at-most: 1 deg }
                """));

        @Test
        void is_heard_in_its_clauses_about_a_change_only() {
            Comparison comparison = Comparing.compare(
                    sides(run("old.run", 17), run("new.run", 18)), Optional.of(spec), List.of(), List.of());

            assertThat(comparison.judged())
                    .extracting(row -> row.clause().orElseThrow())
                    .containsOnly("place");
        }

        @Test
        void gives_way_to_a_margin_of_the_user() {
            Comparison comparison = Comparing.compare(
                    sides(run("old.run", 17), run("new.run", 18)),
                    Optional.of(spec),
                    List.of(Margins.read("landing=3deg")),
                    List.of());

            assertThat(comparison.judged())
                    .extracting(row ->
                            row.clause().orElseThrow() + " " + row.margin().orElseThrow())
                    .containsOnly("place 3.0");
        }
    }

    @Nested
    class How_the_runs_were_made {
        private List<String> notices(Sides sides) {
            return compare(sides, "landing=12deg").notices();
        }

        @Test
        void one_after_the_other_is_said() {
            assertThat(notices(sides(
                            run("a", 1).began("2026-11-20T08:00:00Z"),
                            run("b", 2).began("2026-11-20T09:00:00Z"))))
                    .anyMatch(notice -> notice.startsWith("order of the runs: base, candidate; not interleaved"))
                    .anyMatch(notice -> notice.startsWith("one run a side: differences between runs"));
        }

        @Test
        void in_turns_is_said_and_runs_are_the_blocks() {
            Sides turns = new Sides(
                    List.of(
                            run("a1", 1).began("2026-11-20T08:00:00Z").made(),
                            run("a2", 2).began("2026-11-20T11:00:00Z").made()),
                    List.of(
                            run("b1", 3).began("2026-11-20T09:00:00Z").made(),
                            run("b2", 4).began("2026-11-20T10:00:00Z").made()));

            assertThat(notices(turns))
                    .anyMatch(notice -> notice.equals("order of the runs: base, candidate, candidate, base; warm-up and"
                            + " drift fall on both sides"))
                    .anyMatch(notice -> notice.startsWith("runs are the blocks (2 base, 2 candidate)"));
        }

        @Test
        void with_which_firmware_is_said() {
            assertThat(notices(sides(run("a", 1).firmware("1.4.1"), run("b", 2).firmware("1.4.2"))))
                    .contains("firmware before: 1.4.1; after: 1.4.2");
            assertThat(notices(sides(run("a", 1).firmware("1.4.1"), run("b", 2).firmware("1.4.1"))))
                    .anyMatch(notice -> notice.startsWith("base and candidate carry the same firmware, 1.4.1"));
        }
    }

    @Test
    void set_ups_that_are_unlike_are_all_found() {
        List<Unlike> found = Unlike.among(List.of(
                run("a.run", 1).with(Aspect.SUPPLY, "8.2 V").made(),
                run("b.run", 2)
                        .with(Aspect.SUPPLY, "7 V")
                        .with(Aspect.RIG, "bench-one")
                        .made(),
                run("c.run", 3).with(Aspect.SUPPLY, "8.2 V").made()));

        assertThat(found)
                .extracting(Unlike::words)
                .containsExactly(
                        "rig: bench-two (a.run, c.run), bench-one (b.run)",
                        "supply: 8.2 V (a.run, c.run), 7 V" + " (b.run)");
    }
}
