package org.shiftstand.reference;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.reference.ReportChecklist.Report;
import tools.jackson.databind.JsonNode;

/** REF-REP-01: what a report says where people said everything, and where they said nothing. */
class ReportChecklistTest {
    private static final String STATED = "src/test/resources/schema/everything.particulars.yaml";

    /** What only people know, by the letter of 7.8.2.1 or the clause. */
    private static final Map<String, String> ONLY_PEOPLE_KNOW = Map.of(
            "7.8.2.1 b", "laboratory.name not stated; laboratory.address not stated",
            "7.8.2.1 c", "place not stated",
            "7.8.2.1 e", "customer.name not stated; customer.contact not stated",
            "7.8.2.1 f", "method.procedure not stated",
            "7.8.2.1 g", "item.description not stated; item.condition not stated",
            "7.8.2.1 h", "item.received not stated",
            "7.8.2.1 i", "worked not stated",
            "7.8.2.1 k", "sampling-plan not stated",
            "7.8.2.1 n", "deviations.stated not stated",
            "7.8.2.1 o", "authorised-by not stated");

    @Nested
    class Of_a_capture_of_which_nobody_said_anything {
        private final Report report = Report.of(Optional.empty());

        @Test
        void what_only_people_know_is_not_stated_in_result_and_page() {
            ONLY_PEOPLE_KNOW.forEach((clause, missing) ->
                    assertThat(report.says(clause)).as(clause).isEqualTo(missing));
            ONLY_PEOPLE_KNOW
                    .keySet()
                    .forEach(clause -> assertThat(
                                    Objects.requireNonNull(report.rows().get(clause), clause)
                                            .get(1))
                            .as(clause)
                            .contains("not stated"));
        }

        @Test
        void all_that_is_not_stated_is_listed() {
            List<String> listed = new ArrayList<>();
            report.result().get("report").get("missing").forEach(key -> listed.add(key.asString()));

            assertThat(listed)
                    .containsExactly(
                            "laboratory.name",
                            "laboratory.address",
                            "place",
                            "customer.name",
                            "customer.contact",
                            "method.procedure",
                            "item.description",
                            "item.condition",
                            "item.received",
                            "worked",
                            "sampling-plan",
                            "deviations.stated",
                            "authorised-by",
                            "external-results",
                            "environment");
            assertThat(report.page()).contains("15\u00a0things that a report is asked to say: not stated by anybody.");
        }
    }

    @Nested
    class With_everything_stated {
        private final Report report = Report.of(Optional.of(STATED));

        @Test
        void nothing_is_missing() {
            assertThat(report.result().get("report").get("missing")).isEmpty();
            assertThat(report.page()).doesNotContain("not stated by anybody");
        }

        @Test
        void a_persons_words_stand_as_they_were_written() {
            assertThat(Objects.requireNonNull(report.rows().get("7.8.2.1 n")).get(1))
                    .contains("the last sweep was left out", "two sweeps were added");
            assertThat(Objects.requireNonNull(report.rows().get("7.8.2.1 h")).get(1))
                    .contains("2026-11-24", "2026-11-23");
        }

        @Test
        void the_number_stands_on_every_section_every_printed_page_and_in_the_last_line() {
            JsonNode told = report.result().get("report");
            String number = told.get("number").asString();

            // what to do next is a box in the first part, under the report's own head, which has the number
            String sections = report.page().replace("<h2 id=\"to-do\">", "");
            assertThat(sections.split("<h2 ", -1))
                    .hasSameSizeAs(sections.split("<h2 [^>]*data-report=\"Report " + number + "\"", -1));
            assertThat(report.page()).contains("@bottom-center{font:9pt sans-serif;content:\"Report " + number + "\"}");
            assertThat(report.page().replaceAll("(?s).*<p class=\"end\">|</p>.*", ""))
                    .isEqualTo("End of report " + number)
                    .isEqualTo(told.get("end").asString());
        }

        @Test
        void the_number_is_another_where_the_statements_are_and_the_same_where_nothing_is() {
            String number = report.result().get("report").get("number").asString();

            assertThat(Report.of(Optional.of(STATED)).result()).isEqualTo(report.result());
            assertThat(Report.of(Optional.empty())
                            .result()
                            .get("report")
                            .get("number")
                            .asString())
                    .isNotEqualTo(number);
        }
    }
}
