package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.Overlay;
import org.shiftstand.learn.OvertravelPattern;
import org.shiftstand.learn.Proof;
import org.shiftstand.spec.Verdict;

class LearnedPageTest {
    private static String html(Learned learned, List<Overlay> overlays, List<Proof> proofs) {
        StringWriter out = new StringWriter();
        try {
            LearnedPage.write(learned, overlays, proofs, HtmlReportTest.OPTIONS, out);
        } catch (IOException e) {
            throw new AssertionError("a string takes everything", e);
        }
        return out.toString();
    }

    private static String html(MadeDrive drive) {
        return html(drive.learned(), drive.overlays(), drive.proofs());
    }

    private static String text(MadeDrive drive) {
        return HtmlReportTest.Page.of(html(drive)).text();
    }

    /** Ten sprockets, three of them reached without overtravel. */
    private static MadeDrive ten() {
        return new MadeDrive(10).none(7, 8).none(8, 9).none(9, 10);
    }

    private static MadeDrive drive(String name) {
        MadeDrive drive =
                name.startsWith("fourteen") ? new MadeDrive(14).none(12, 13).gap(13, 14) : ten();
        switch (name) {
            case "usual", "fourteen sprockets, a gap" -> {}
            case "irregular, rang, jumps" -> {
                drive.irregular(3, 4).withJumps = true;
                drive.rang.addAll(List.of("5→6", "6→5"));
            }
            case "three units" -> drive.units = 3;
            case "two units, a failing draft" -> {
                drive.units = 2;
                drive.verdict = Optional.of(Verdict.FAIL);
            }
            case "nothing held back, bias not known, no lead, no current" -> {
                drive.verdict = Optional.empty();
                drive.biasKnown = false;
                drive.withLead = false;
                drive.withCurrent = false;
            }
            case "hardly anything" -> {
                drive.bare = true;
                drive.strands = 0;
                drive.withCurrent = false;
            }
            default -> throw new IllegalArgumentException("no such drive: name=" + name);
        }
        return drive;
    }

    @Nested
    class Whatever_was_learned {
        @ParameterizedTest
        @ValueSource(
                strings = {
                    "usual",
                    "fourteen sprockets, a gap",
                    "irregular, rang, jumps",
                    "three units",
                    "two units, a failing draft",
                    "nothing held back, bias not known, no lead, no current",
                    "hardly anything"
                })
        void the_page_keeps_to_its_rules(String name) throws IOException {
            String html = html(drive(name));
            String folder = System.getProperty("learned.pages", "");
            if (!folder.isEmpty()) { // to look at them
                Files.writeString(Path.of(folder, name.replaceAll("[ ,]+", "-") + ".html"), html);
            }

            HtmlReportTest.Page page = HtmlReportTest.Page.of(html); // well-formed, or this fails

            page.mustStandAlone();
            page.mustBeReadableByEar();
            page.mustLinkOnlyToItself();
            assertThat(html).doesNotContain("NaN", "Infinity", "Optional[", "null", "∞");
            assertThat(page.text())
                    .contains("Local codes, the cell maker's data and qualified people come first.")
                    .contains("ab".repeat(32));
        }

        @Test
        void every_interval_says_its_confidence() {
            assertThat(HtmlReportTest.Page.of(html(ten())).all("caption"))
                    .extracting(org.w3c.dom.Node::getTextContent)
                    .filteredOn(caption -> caption.contains("±"))
                    .hasSizeGreaterThanOrEqualTo(3)
                    .allMatch(caption -> caption.contains("± at 95\u00a0% confidence"));
        }

        @Test
        void a_dwell_never_goes_without_its_band() {
            String text = text(ten());

            assertThat(text)
                    .contains("Dwell after arrival within 20\u00a0deg: 700.0 ±\u00a01.9 ms")
                    .contains("Dwell after arrival within 10\u00a0deg");
            assertThat(text.toLowerCase(java.util.Locale.ROOT)).doesNotContain("hold time");
        }
    }

    @Nested
    class What_it_rests_on {
        @Test
        void one_unit_says_nothing_of_others() {
            assertThat(text(ten()))
                    .contains("One unit: says nothing of others.")
                    .contains("how much units differ is not known");
        }

        @Test
        void two_units_are_too_few() {
            assertThat(text(drive("two units, a failing draft")))
                    .contains("2 units: says nothing of others; at least 3 are needed.");
        }

        @Test
        void three_units_are_drawn_against_each_other() {
            HtmlReportTest.Page page = HtmlReportTest.Page.of(html(drive("three units")));

            assertThat(page.text()).doesNotContain("says nothing of others");
            assertThat(page.titles("svg")).contains("Unit to unit against within a unit");
        }

        @Test
        void an_unknown_stopping_bias_leaves_programmed_values_unknown() {
            assertThat(text(drive("nothing held back, bias not known, no lead, no current")))
                    .contains("How far short of its aim the shaft stops is not known: no sprocket is reached both ways")
                    .contains("not known")
                    .contains("No millimetres: no screw lead is known.");
        }
    }

    @Nested
    class Rows_of_the_table {
        @Test
        void that_were_not_seen_are_named_gaps_and_no_numbers() {
            HtmlReportTest.Page page = HtmlReportTest.Page.of(html(drive("fourteen sprockets, a gap")));

            assertThat(page.rowsStarting("13→14").get(0))
                    .containsExactly("13→14", "0", "0", "gap", "", "", "gap", "gap: no shift from 13 to 14 was seen");
            assertThat(page.text()).contains("these rows of the table are gaps").contains("25 of 26");
        }

        @Test
        void without_overtravel_say_how_much_could_have_gone_unseen() {
            HtmlReportTest.Page page = HtmlReportTest.Page.of(html(ten()));

            assertThat(page.rowsStarting("7→8").get(0))
                    .containsExactly(
                            "7→8",
                            "12",
                            "6",
                            "none",
                            "",
                            "",
                            "none",
                            "none in all of 12; up to 22.1\u00a0% with it unseen");
        }

        @Test
        void with_overtravel_give_achieved_and_programmed() {
            HtmlReportTest.Page page = HtmlReportTest.Page.of(html(ten()));

            assertThat(page.rowsStarting("1→2").get(0))
                    .containsExactly(
                            "1→2",
                            "12",
                            "6",
                            "68.0 ±\u00a00.8",
                            "1.2",
                            "65.8 to 70.2",
                            "74.0 ±\u00a01.4",
                            "in all of 12; up to 22.1\u00a0% without it unseen");
        }

        @Test
        void that_were_seen_once_have_no_standard_deviation() {
            MadeDrive once = new MadeDrive(3);
            once.patterns.put(
                    "1→2",
                    new OvertravelPattern.Programmed(
                            new Estimated.Estimate(1, 272.9, 0, 0.3, 272.9, 272.9), 287.9, 19.7, 0.95));

            List<String> row =
                    HtmlReportTest.Page.of(html(once)).rowsStarting("1→2").get(0);
            assertThat(row)
                    .containsSubsequence("272.9 ±\u00a00.3", "–", "272.9 to 272.9")
                    .last()
                    .asString()
                    .startsWith("in the only shift; up to 95");
        }

        @Test
        void that_are_irregular_or_rang_are_drawn_first() {
            HtmlReportTest.Page page = HtmlReportTest.Page.of(html(drive("irregular, rang, jumps")));

            assertThat(page.titles("svg").stream().filter(t -> t.endsWith("over each other")))
                    .startsWith(
                            "Shifts 3→4 over each other", "Shifts 5→6 over each other", "Shifts 6→5 over each other")
                    .hasSize(18);
            assertThat(page.text()).contains("irregular: 3 of 12").contains("rang: 5\u00a0shifts");
        }
    }

    @Nested
    class The_ladder {
        @Test
        void tells_of_millimetres_where_the_screw_lead_is_known() {
            assertThat(html(ten())).contains("sprocket, position, mm of cage travel from 1");
        }

        @Test
        void tells_of_none_where_it_is_not() {
            MadeDrive drive = ten();
            drive.withLead = false;

            assertThat(html(drive)).contains(">sprocket, position<").doesNotContain("mm of cage travel");
        }
    }

    @Nested
    class A_draft_without_shifts_held_back {
        @Test
        void is_not_said_to_be_proved_on_any() {
            MadeDrive drive = ten();
            drive.verdict = Optional.empty();

            assertThat(text(drive)).doesNotContain("On every third cycle, held back and never learned from:");
        }
    }

    @Nested
    class Text_from_outside {
        private static final String HOSTILE =
                "</title><script>alert(1)</script>\"'&<b onload=x> ]]> \u202e\u0000 url(http://x)";

        @Test
        void is_only_ever_text() {
            MadeDrive drive = drive("irregular, rang, jumps");
            drive.text = HOSTILE.replace("url(http://x)", "${T(java.lang.Runtime)} __${1+1}__");
            drive.gap(8, 7).units = 2;

            String html = html(drive);

            HtmlReportTest.Page page = HtmlReportTest.Page.of(html);
            page.mustStandAlone();
            page.mustLinkOnlyToItself();
            assertThat(html).doesNotContain("<script", "<b onload", "\u202e", "\u0000");
            assertThat(page.text())
                    .contains("<script>alert(1)</script>")
                    .contains("${T(java.lang.Runtime)} __${1+1}__");
            assertThat(html).contains("content:\"Shiftstand, as learned\"");
        }
    }

    @Nested
    class However_much_was_captured {
        @Test
        void the_page_stays_below_two_megabytes_and_says_what_it_leaves_out() {
            MadeDrive drive = new MadeDrive(14);
            drive.strands = 24;
            drive.noiseDeg = 60; // no corner can be left out
            drive.sources = 400;
            drive.units = 400;
            drive.withJumps = true;

            String html = html(drive);

            assertThat(html.getBytes(StandardCharsets.UTF_8)).hasSizeLessThan(2_000_000);
            assertThat(HtmlReportTest.Page.of(html).text()).containsPattern("\\d+ of 39 shifts");
        }
    }

    /** The small page, whole and to the letter; {@code -Dgolden.rewrite=true} writes it anew. */
    @Nested
    class A_small_page {
        @ParameterizedTest
        @ValueSource(
                strings = {"undecided", "overtravel", "stopping", "positions", "overlays", "dwell", "measures", "units"
                })
        void is_as_it_was_read(String part) throws IOException {
            MadeDrive small = new MadeDrive(3).none(2, 3).gap(3, 2);
            String html = html(small);
            int begin = html.indexOf("<section aria-labelledby=\"" + part + "\"");
            String now = html.substring(begin, html.indexOf("</section>", begin)) + "</section>\n";
            Path file = Path.of("src", "test", "resources", "golden", "learned", part + ".html");
            if (Boolean.getBoolean("golden.rewrite")) {
                Files.createDirectories(file.getParent());
                Files.writeString(file, now, StandardCharsets.UTF_8);
            }

            assertThat(now).isEqualTo(Files.readString(file, StandardCharsets.UTF_8));
        }
    }
}
