package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.report.ManyRunsPage.Cell;
import org.thymeleaf.context.Context;
import org.w3c.dom.Element;

/** What holds for every page that the program writes, whatever is on it. */
class EveryPageTest {
    private static final Path TEMPLATES = Path.of("src", "main", "resources", "org", "shiftstand", "report");

    static Stream<String> templates() throws IOException {
        try (Stream<Path> files = Files.list(TEMPLATES)) {
            return files
                    .map(file -> file.getFileName().toString())
                    .filter(name -> name.endsWith(".html"))
                    .sorted()
                    .toList()
                    .stream();
        }
    }

    @ParameterizedTest
    @MethodSource("templates")
    void can_be_read_by_ear_and_by_keyboard_and_stands_alone(String template) throws IOException {
        HtmlReportTest.Page page = HtmlReportTest.Page.of(made(template));

        page.mustStandAlone();
        page.mustBeReadableByEar();
        page.mustLinkOnlyToItself();
        page.mustBeReachedByKeyboard();
        assertThat(page.only("h1").getTextContent()).isNotBlank();
        assertThat(page.text()).contains("Local codes, the cell maker's data and qualified people come first.");
    }

    /** Sheets that fall apart are put in order again. */
    @ParameterizedTest
    @MethodSource("templates")
    void numbers_its_sheets_when_printed(String template) throws IOException {
        assertThat(made(template)).contains("counter(page) \" / \" counter(pages)");
    }

    /** A drawing of what moved, alone on a sheet, says nothing: heading, sentence and drawings go together. */
    @Test
    void what_moved_is_printed_on_one_sheet_with_its_drawings() throws IOException {
        HtmlReportTest.Page page = HtmlReportTest.Page.of(made("comparison.html"));

        Element together = page.withClass("div", "together");

        assertThat(together.getElementsByTagName("h3").getLength()).isEqualTo(1);
        assertThat(together.getElementsByTagName("p").item(0).getTextContent()).isEqualTo("moved");
        assertThat(together.getElementsByTagName("div").getLength()).isEqualTo(6); // two plates, drawing and notes each
        assertThat(page.html()).containsPattern("\\.together,li\\{break-inside:avoid\\}");
    }

    /** What floats beside a heading takes the room of what follows it: at 360 px a drawing was half as wide as the page. */
    @Test
    void the_report_number_stands_below_its_heading_where_there_is_no_room_beside_it() throws IOException {
        String narrow =
                made("report.html").split("@media \\(max-width:640px\\)")[1].split("@media")[0];

        assertThat(narrow).contains("h2[data-report]::after{float:none;display:block");
    }

    /** Each breaks one rule: what finds nothing here would find nothing in a page. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "<table aria-label='t'><thead><tr><th>a</th></tr></thead><tbody><tr><th scope='row'>1</th></tr></tbody></table>",
                "<table aria-label='t'><thead><tr><th scope='col'>a</th></tr></thead><tbody><tr><td>1</td></tr></tbody></table>",
                "<table><thead><tr><th scope='col'>a</th></tr></thead><tbody><tr><th scope='row'>1</th></tr></tbody></table>",
                "<h3>two levels down</h3>",
                "<svg role='img'><title>drawn</title></svg>",
                "<svg role='img'><title>drawn</title><desc> </desc></svg>",
                "<svg><path d=''/></svg>",
                "<dl><div><dt>a</dt><dd>1</dd></div><div>→</div></dl>",
                "<div class='roll'>wide</div>",
                "<div class='roll' tabindex='0' role='region'>wide</div>",
            })
    void a_page_that_breaks_a_rule_is_found(String wrong) {
        HtmlReportTest.Page page = HtmlReportTest.Page.of(
                "<html lang='en'><head><title>page</title></head><body><h1>page</h1>" + wrong + "</body></html>");

        assertThatThrownBy(() -> {
                    page.mustBeReadableByEar();
                    page.mustBeReachedByKeyboard();
                })
                .isInstanceOf(AssertionError.class);
    }

    @Test
    void a_page_that_breaks_none_passes() {
        HtmlReportTest.Page page =
                HtmlReportTest.Page.of("<html lang='en'><head><title>page</title></head><body><h1>page</h1>"
                        + "<div class='roll' tabindex='0' role='region' aria-label='t'><table><caption>t</caption><thead><tr>"
                        + "<th scope='col'>a</th></tr></thead><tbody><tr><th scope='row'>1</th></tr></tbody></table></div>"
                        + "<dl><div><dt>a</dt><dd>1</dd></div></dl></body></html>");

        page.mustBeReadableByEar();
        page.mustBeReachedByKeyboard();
    }

    private static String made(String template) throws IOException {
        StringWriter out = new StringWriter();
        switch (template) {
            case "report.html" ->
                out.append(HtmlReportTest.html(HtmlReportTest.fixture("faulty").judged(), true));
            case "learned.html" -> {
                MadeDrive drive = new MadeDrive(3).none(2, 3).gap(3, 2);
                drive.units = 3;
                LearnedPage.write(drive.learned(), drive.overlays(), drive.proofs(), HtmlReportTest.OPTIONS, out);
            }
            case "many-runs.html" -> ManyRunsPage.write(manyRuns(), HtmlReportTest.OPTIONS, out);
            case "comparison.html" ->
                HtmlReport.engine().process("comparison", new Context(Locale.ROOT, Map.of("sheet", comparison())), out);
            default -> throw new IllegalArgumentException("a page that no test makes: template=" + template);
        }
        return out.toString();
    }

    private static ManyRunsPage.Content manyRuns() {
        return new ManyRunsPage.Content(
                "How the units did",
                "All runs",
                "One run.",
                List.of(new ManyRunsPage.Fact("runs", "1")),
                List.of("Simulated."),
                List.of(new ManyRunsPage.Part(
                        "Yield by week",
                        List.of("First runs."),
                        drawing(),
                        List.of("A dot is a run."),
                        List.of(Cell.words("Week"), Cell.number("Units")),
                        List.of(List.of(Cell.name("2026-W48"), Cell.number("1"))))));
    }

    private static String drawing() {
        return "<svg role=\"img\" viewBox=\"0 0 9 9\"><title>runs</title><desc>One dot.</desc></svg>";
    }

    private static ComparisonSheet comparison() {
        ComparisonSheet.Row row = new ComparisonSheet.Row(
                mark(), "equivalent", "pass", "sprocket 4", "40", "296", "295", "-1", "-2 to 0", "3", "0.2", "");
        Plate plate = new Plate(drawing(), List.of("A dot is a group."));
        return new ComparisonSheet(
                new ComparisonSheet.Head(
                        mark(),
                        "Equivalent",
                        "pass",
                        "TD-0201",
                        "spec",
                        "all alike",
                        "2.3.1",
                        "2.4.0",
                        List.of(new ComparisonSheet.Fact("equivalent", "1"))),
                List.of(new ComparisonSheet.Fact("rig", "bench-two")),
                List.of(new ComparisonSheet.RunRow("base", "a.run", "2.3.1", "2026-11-25", "40", "a3f0")),
                List.of(new ComparisonSheet.Shown(
                        mark(),
                        "different",
                        "fail",
                        "shown-1",
                        "landing",
                        "moved",
                        Optional.of(plate),
                        Optional.of(plate))),
                "",
                List.of(new ComparisonSheet.Part(
                        mark(), "part-1", "overtravel", "subject", "reason", "1", plate, List.of(row))),
                List.of(row),
                "not judged",
                List.of("claim"),
                List.of("notice"),
                Cautions.read(),
                "0.1.0",
                "undated");
    }

    /** A mark beside its word has nothing to say. */
    private static String mark() {
        return "<svg class=\"mark\" viewBox=\"0 0 24 24\" aria-hidden=\"true\"></svg>";
    }
}
