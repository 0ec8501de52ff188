package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.StringWriter;
import java.io.Writer;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TimeZone;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.judge.Judgement;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.Statistic.Kind;
import org.shiftstand.spec.Verdict;
import org.w3c.dom.Element;

class HtmlReportTest {
    static final ReportOptions OPTIONS = new ReportOptions(Instant.parse("2026-11-25T12:00:00.5Z"), "0.1.0");

    static String html(Judgement judgement, boolean withTrack) {
        return html(judgement, withTrack, OPTIONS);
    }

    private static String html(Judgement judgement, boolean withTrack, ReportOptions options) {
        StringWriter out = new StringWriter();
        try {
            HtmlReport.write(
                    judgement, withTrack ? Optional.of(new MadeTrack(judgement)) : Optional.empty(), options, out);
        } catch (IOException e) {
            throw new AssertionError("a string takes everything", e);
        }
        return out.toString();
    }

    private static Page page(Fixture fixture) {
        return Page.of(html(fixture.judged(), true));
    }

    /** By name, so that a failing test says which. */
    static Fixture fixture(String name) {
        return switch (name) {
            case "good" -> Fixture.good();
            case "faulty" -> Fixture.faulty();
            case "ended" -> Fixture.endedEarly();
            case "empty" -> new Fixture(10, 0, 1).endOfLine();
            case "no clauses" -> new Fixture(10, 2, 1).sweep();
            case "two sprockets, one sweep" -> new Fixture(2, 1, 1).sweep().endOfLine();
            case "fourteen sprockets" -> new Fixture(14, 8, 2).sweep().endOfLine();
            case "no profile" -> {
                Fixture bare = Fixture.good();
                bare.withProfile = false;
                yield bare;
            }
            default -> throw new IllegalArgumentException("no such fixture: name=" + name);
        };
    }

    @Nested
    class Whatever_is_judged {
        @ParameterizedTest
        @ValueSource(
                strings = {
                    "good",
                    "faulty",
                    "ended",
                    "empty",
                    "no clauses",
                    "two sprockets, one sweep",
                    "fourteen sprockets",
                    "no profile"
                })
        void the_page_keeps_to_its_rules(String name) {
            String html = html(fixture(name).judged(), true);

            Page page = Page.of(html); // well-formed, or this fails

            page.mustStandAlone();
            page.mustBeReadableByEar();
            page.mustLinkOnlyToItself();
            assertThat(html).doesNotContain("NaN", "Infinity", "Optional[", "null");
            assertThat(page.text()).contains("Local codes, the cell maker's data and qualified people come first.");
        }

        @Test
        void the_same_judgement_gives_the_same_bytes_in_any_country() {
            Locale locale = Locale.getDefault();
            TimeZone zone = TimeZone.getDefault();
            String here = html(Fixture.faulty().judged(), true);
            try {
                Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
                TimeZone.setDefault(TimeZone.getTimeZone("Asia/Kathmandu"));

                assertThat(html(Fixture.faulty().judged(), true)).isEqualTo(here);
            } finally {
                Locale.setDefault(locale);
                TimeZone.setDefault(zone);
            }
        }

        @Test
        void the_date_stands_on_one_line_and_nothing_else_changes_with_it() {
            List<String> today = html(Fixture.good().judged(), true).lines().toList();
            ReportOptions later = new ReportOptions(Instant.parse("2031-02-03T04:05:06Z"), "0.1.0");

            List<String> then =
                    html(Fixture.good().judged(), true, later).lines().toList();

            List<String> changed = new ArrayList<>(then);
            changed.removeAll(today);
            assertThat(then).hasSameSizeAs(today);
            assertThat(changed)
                    .containsExactly(
                            "<p>Report <time datetime=\"2031-02-03T04:05:06Z\">made at 2031-02-03T04:05:06Z</time></p>");
        }

        @Test
        void a_writer_that_cannot_write_is_said_as_such() {
            Writer full = new Writer() {
                @Override
                public void write(char[] text, int from, int length) throws IOException {
                    throw new IOException("No space left on device");
                }

                @Override
                public void flush() {}

                @Override
                public void close() {}
            };

            assertThatThrownBy(() -> HtmlReport.write(Fixture.good().judged(), Optional.empty(), OPTIONS, full))
                    .isInstanceOf(IOException.class)
                    .hasMessage("No space left on device");
        }
    }

    @Nested
    class The_verdict {
        @Test
        void comes_first_as_a_word_and_a_shape_with_its_reason() {
            Page page = page(Fixture.faulty());

            assertThat(page.only("h1").getTextContent()).isEqualTo("TD-0107 fail");
            assertThat(page.text().indexOf("fail")).isLessThan(page.text().indexOf("overtravel-inboard-small"));
            assertThat(page.html())
                    .containsSubsequence("class=\"verdict fail\"", "M12 .8L23.2 12L12 23.2L.8 12Z", "</h1>");
            assertThat(page.withClass("p", "reason").getTextContent())
                    .startsWith("landing-place: sprocket 3 inboard: −71 deg");
        }

        @Test
        void has_another_shape_for_each_word() {
            assertThat(List.of(
                            page(Fixture.good()).html(),
                            page(Fixture.faulty()).html(),
                            page(fixture("empty")).html()))
                    .extracting(html -> html.substring(html.indexOf("class=\"mark\""), html.indexOf("<h1>")))
                    .doesNotHaveDuplicates();
            assertThat(page(fixture("empty")).only("h1").getTextContent()).isEqualTo("TD-0107 no verdict");
            assertThat(page(Fixture.good()).only("h1").getTextContent()).isEqualTo("TD-0107 pass");
        }

        @Test
        void names_rule_and_claim() {
            assertThat(page(Fixture.good()).text()).contains("Judged by rule simple, claim observed.");
        }

        @Test
        void of_a_run_that_ended_early_says_why_it_ended() {
            assertThat(page(Fixture.endedEarly()).withClass("p", "ended").getTextContent())
                    .isEqualTo("The run ended early. stopped by stop-when: outcome stalled, in cycle 6, shift 108");
            assertThat(page(Fixture.good()).html()).doesNotContain("The run ended early");
        }
    }

    @Nested
    class The_title_block {
        private final String text = page(Fixture.good()).text();

        @Test
        void identifies_unit_files_and_rules() {
            assertThat(text)
                    .contains("tarn-drive-end-of-line, version\u00a04", "tarn-drive, version\u00a02, 10\u00a0sprockets")
                    .contains("a3f0".repeat(16), "5d1c".repeat(16), "9b7e".repeat(16))
                    .contains("td-0107-20261125T101500Z-001.run", "firmware", "tarn 2.3.1", "± 20\u00a0deg");
        }

        @Test
        void says_that_an_aligned_origin_is_not_measured() {
            assertThat(text).contains("aligned, not measured: +123.4\u00a0deg added");
            assertThat(page(fixture("no profile")).text())
                    .contains("not measured: angles count from an arbitrary zero");
        }

        @Test
        void says_how_angles_were_corrected_and_how_sure_they_are() {
            assertThat(text)
                    .contains("residual 0.052\u00a0deg rms after the correction")
                    .contains("standard uncertainty of one angle 0.10\u00a0deg")
                    .contains("second-order term from a fit to this run (0.38\u00a0deg)"); // hypot(0.31, 0.22)
        }

        @Test
        void of_an_unnamed_capture_names_the_file() {
            Fixture capture = Fixture.good();
            capture.unit = Optional.empty();
            capture.sourceName = "bench-a.csv";

            assertThat(page(capture).only("h1").getTextContent()).startsWith("unit not named: bench-a.csv");
        }
    }

    @Nested
    class Failed_clauses {
        private final Page page = page(Fixture.faulty());

        @Test
        void list_the_shifts_that_failed_them() {
            assertThat(page.text()).contains("6\u00a0shifts outside the bound", "3→4 inboard", "91.700\u00a0s");
        }

        @Test
        void each_draw_the_shift_that_is_farthest_outside() {
            assertThat(page.titles("svg"))
                    .contains("Shift 200, 2→3 inboard", "Shift 39, 3→4 inboard", "Shift 250, 4→3 outboard");
        }

        @Test
        void with_many_shifts_list_some_and_say_how_many_there_are() {
            Fixture many = new Fixture(10, 12, 3).sweep();
            many.clause("none-rings", Measure.RINGING, Kind.EVERY, List.of(), Double.NaN, 0.01, "");

            assertThat(page(many).text())
                    .contains("The 16 farthest outside of 216\u00a0shifts are listed; all of them are in shifts.csv.");
        }

        @Test
        void list_the_shift_that_is_drawn_however_late_it_came() {
            Fixture many = new Fixture(10, 12, 3).sweep();
            many.clause("none-rings", Measure.RINGING, Kind.EVERY, List.of(), Double.NaN, 0.01, "");
            Judgement judged = many.judged();
            int worst = judged.table().shifts().stream()
                    .max(Comparator.comparingDouble(
                            shift -> shift.get(Measure.RINGING).number().orElse(0)))
                    .orElseThrow()
                    .number();

            Sheet.Case told = new Cases(judged, new Findings(judged), Optional.empty())
                    .of(Verdict.FAIL).stream()
                            .filter(c -> c.id().equals("none-rings"))
                            .findFirst()
                            .orElseThrow();

            assertThat(told.shifts())
                    .hasSize(Cases.MOST_SHIFTS)
                    .anyMatch(row -> row.number().equals("" + worst));
        }

        @Test
        void without_samples_say_that_the_drawing_is_missing() {
            String html = html(Fixture.faulty().judged(), false);

            assertThat(html)
                    .contains("No drawing: the samples were not at hand")
                    .doesNotContain("id=\"drawing-");
        }

        @Test
        void on_a_spread_draw_the_shift_farthest_from_its_group() {
            Fixture wide = new Fixture(10, 24, 3).sweep();
            wide.clause(
                    "spread",
                    Measure.LANDING,
                    Kind.STANDARD_DEVIATION,
                    List.of(Per.SPROCKET, Per.DIRECTION),
                    Double.NaN,
                    8,
                    "");
            wide.change(200, s -> Fixture.farOff(s, 90));

            assertThat(page(wide).titles("svg")).contains("Shift 200, 2→3 inboard");
        }

        @Test
        void beyond_a_dozen_are_told_by_the_table() {
            Fixture many = new Fixture(4, 3, 3).sweep();
            for (int i = 1; i <= 20; i++) {
                many.clause("none-rings-" + i, Measure.RINGING, Kind.EVERY, List.of(), Double.NaN, 0.01, "");
            }

            Page page = page(many);

            assertThat(page.text()).contains("The first 12 of 20 are shown in detail");
            page.mustLinkOnlyToItself();
        }
    }

    @Nested
    class Clauses_without_a_verdict {
        @Test
        void say_what_is_missing() {
            Page page = page(Fixture.faulty());

            assertThat(page.text())
                    .contains("The evidence does not decide these.")
                    .contains("1 of 24 shifts not measured (sensor fault)");
        }

        @Test
        void for_want_of_any_uncertainty_ask_for_the_rig_and_for_no_new_run() {
            Page page = page(Fixture.good().guarded());

            assertThat(page.text())
                    .contains(
                            "nothing is known of the uncertainty, and rule guarded decides nothing without: give the rig's"
                                    + " description with its uncertainty (--bench FILE) and judge again; no new run is needed.")
                    .doesNotContain("too near its bound");
        }

        @Test
        void that_ask_for_the_same_share_a_step() {
            Page page = page(Fixture.good().guarded());

            assertThat(page.withClass("section", "todo").getTextContent())
                    .containsOnlyOnce("--bench FILE")
                    .containsPattern("The same for \\d+ more clauses\\.");
        }

        @Test
        void say_where_to_look_when_the_capture_and_not_the_unit_left_them_open() {
            Fixture damaged = Fixture.good();
            for (int shift = 1; shift <= 100; shift++) {
                damaged.change(shift, s -> Fixture.unseen(s));
            }

            Page page = page(damaged);

            assertThat(page.withClass("section", "todo").getTextContent())
                    .contains(
                            "The sensor's values cannot be right in 100 of 432\u00a0shifts: look at its plug, cable, supply and"
                                    + " magnet; then capture again. (common practice)")
                    .contains("No verdict is not a pass");
        }

        @Test
        void make_a_failure_beside_them_doubtful_where_the_capture_is_damaged() {
            Fixture damaged = Fixture.faulty();
            for (int shift = 301; shift <= 360; shift++) {
                damaged.change(shift, s -> Fixture.unseen(s));
            }

            Page page = page(damaged);

            assertThat(page.withClass("section", "todo").getTextContent())
                    .contains(
                            "in 61 of 432\u00a0shifts",
                            "See first whether the failure stays in a capture that is whole");
        }

        @Test
        void for_a_single_damaged_shift_leave_a_failure_as_it_is() {
            assertThat(page(Fixture.faulty()).text()).doesNotContain("See first whether the failure stays");
        }

        @Test
        void are_not_forgotten_where_another_clause_fails() {
            Page page = page(Fixture.faulty());

            assertThat(page.text())
                    .containsPattern(
                            "\\d clauses? (has|have) no verdict besides; what would decide (it|them) stands under"
                                    + " Clauses without a verdict\\.");
        }
    }

    @Nested
    class A_good_unit {
        @Test
        void shows_the_shift_with_the_least_margin() {
            Fixture good = Fixture.good();
            good.change(77, s -> Fixture.farOff(s, 39.5)); // half a degree inside its bound of 40

            Page page = page(good);

            assertThat(page.titles("svg")).contains("Shift 77, 5→6 inboard");
            assertThat(page.text())
                    .contains("The shift with the least margin to a bound on single shifts: clause landing-place.");
        }
    }

    @Nested
    class What_was_not_measured {
        @Test
        void is_grouped_by_reason_with_its_shifts() {
            Fixture gaps = Fixture.good();
            for (int number : new int[] {3, 7, 8, 9, 12}) {
                gaps.change(
                        number,
                        s -> Fixture.with(
                                s,
                                Outcome.LANDED,
                                Evidence.CLOCK_STOPPED,
                                Map.of(
                                        Measure.HOLD, new Measured.NotMeasured("clock stopped"),
                                        Measure.SETTLE_TIME, new Measured.NotMeasured("clock stopped"))));
            }

            assertThat(page(gaps).rowsStarting("clock stopped").get(1))
                    .containsExactly("clock stopped", "hold, settle time", "5", "3, 7–9, 12");
        }

        @Test
        void is_told_apart_from_what_does_not_apply() {
            assertThat(page(Fixture.good()).text())
                    .contains("wake up error: 432\u00a0shifts")
                    .contains("creep: 1\u00a0shift");
        }

        @Test
        void shows_as_an_unknown_outcome() {
            assertThat(page(Fixture.faulty()).rowsStarting("unknown").get(0)).startsWith("unknown", "1");
            assertThat(page(Fixture.faulty()).rowsStarting("sensor fault").get(0))
                    .startsWith("sensor fault", "1");
        }
    }

    @Nested
    class Hostile_text {
        private static final String TAG = "<script>alert(1)</script>";
        private static final String QUOTES = "\"' onload='x' ]]> --> &amp; <b>";

        @Test
        void stays_text_wherever_it_comes_from() {
            Fixture hostile = new Fixture(4, 3, 3).sweep();
            hostile.unit = Optional.of(TAG + "\";}body{display:none}");
            hostile.title = TAG + QUOTES + "${7*7} [[${sheet}]]";
            hostile.runEnd = Optional.of(TAG);
            hostile.sourceName = TAG + ".csv";
            hostile.identity.put(TAG, QUOTES);
            hostile.notices.add(TAG + QUOTES);
            hostile.clause(
                    TAG,
                    Measure.RINGING,
                    Kind.EVERY,
                    List.of(),
                    Fixture.anywhere(),
                    Double.NaN,
                    0.01,
                    Unit.DEG,
                    TAG + QUOTES);
            hostile.change(
                    2,
                    s -> Fixture.with(
                            s,
                            Outcome.LANDED,
                            Evidence.COMPLETE,
                            Map.of(Measure.HOLD, new Measured.NotMeasured(TAG)),
                            TAG));

            Page page = page(hostile);

            page.mustStandAlone();
            assertThat(page.html()).doesNotContain("<script", "<b>");
            assertThat(page.all("style").get(1).getTextContent()).doesNotContain("body", "alert");
            assertThat(page.text()).contains(TAG, QUOTES, "${7*7} [[${sheet}]]");
        }

        @Test
        void with_characters_that_no_page_may_hold_is_made_visible() {
            Fixture hostile = Fixture.good();
            hostile.unit = Optional.of("TD\u0000\u0008\u202e7010\ud800\uffff");

            assertThat(page(hostile).only("h1").getTextContent()).startsWith("TD\ufffd\ufffd\ufffd7010\ufffd\ufffd");
        }

        @Test
        void reaches_the_foot_of_printed_pages_only_as_a_plain_word() {
            Fixture plain = Fixture.good();
            Fixture hostile = Fixture.good();
            hostile.unit = Optional.of("a\"}");

            assertThat(html(plain.judged(), false)).contains("content:\"TD-0107: pass\"");
            assertThat(html(hostile.judged(), false)).contains("content:\"Shiftstand report\"");
        }
    }

    @Nested
    class A_hundred_thousand_shifts {
        private final Judgement judgement = long14().judged();
        private final String html = html(judgement, true);

        private static Fixture long14() {
            Fixture fixture = new Fixture(14, 3847, 3).sweep().endOfLine();
            fixture.clause(
                    "each-ringing", Measure.RINGING, Kind.EVERY, List.of(Per.EACH), Double.NaN, 6, "half of them fail");
            fixture.clause(
                    "each-cycle", Measure.LANDING_ERROR, Kind.EVERY, List.of(Per.CYCLE), -8, 8, "most cycles fail");
            return fixture;
        }

        @Test
        void stay_below_two_megabytes() {
            assertThat(judgement.table().shifts()).hasSizeGreaterThan(100_000);
            assertThat(html.getBytes(java.nio.charset.StandardCharsets.UTF_8)).hasSizeLessThan(2_000_000);
        }

        @Test
        void say_that_they_were_binned_and_thinned() {
            assertThat(Page.of(html).text())
                    .contains("Long run: a bar reaches from the least to the most")
                    .contains("In rows of more than 150 shifts, dots that would cover each other are drawn as one.")
                    .contains("are listed; all of them are in shifts.csv.");
        }
    }

    /** A page, parsed as XML. */
    static final class Page {
        private static final Pattern OUTSIDE = Pattern.compile(
                "(?i)<(script|link|iframe|object|embed|img|base|form|image|use|foreignObject)\\b|@import|url\\(|\\ssrc=|javascript:");
        private final String html;
        private final org.w3c.dom.Document document;

        private Page(String html, org.w3c.dom.Document document) {
            this.html = html;
            this.document = document;
        }

        static Page of(String html) {
            try {
                var factory = javax.xml.parsers.DocumentBuilderFactory.newInstance();
                var builder = factory.newDocumentBuilder();
                builder.setErrorHandler(null);
                return new Page(html, builder.parse(new org.xml.sax.InputSource(new java.io.StringReader(html))));
            } catch (org.xml.sax.SAXException | IOException | javax.xml.parsers.ParserConfigurationException e) {
                throw new AssertionError("the page is not well-formed", e);
            }
        }

        String html() {
            return html;
        }

        String text() {
            return document.getElementsByTagName("body").item(0).getTextContent();
        }

        List<Element> all(String tag) {
            var nodes = document.getElementsByTagName(tag);
            List<Element> elements = new ArrayList<>();
            for (int i = 0; i < nodes.getLength(); i++) {
                elements.add((Element) nodes.item(i));
            }
            return elements;
        }

        Element only(String tag) {
            assertThat(all(tag)).hasSize(1);
            return all(tag).get(0);
        }

        Element withClass(String tag, String name) {
            return all(tag).stream()
                    .filter(e -> e.getAttribute("class").equals(name))
                    .findFirst()
                    .orElseThrow();
        }

        List<String> titles(String tag) {
            return all(tag).stream()
                    .flatMap(e -> children(e, "title").stream())
                    .map(Element::getTextContent)
                    .toList();
        }

        /** Cells of the rows, in order of the page, whose heading is this. */
        List<List<String>> rowsStarting(String first) {
            return all("tr").stream()
                    .filter(e -> children(e, "th").stream()
                            .anyMatch(th -> th.getTextContent().equals(first)))
                    .map(row -> children(row, "*").stream()
                            .map(Element::getTextContent)
                            .toList())
                    .toList();
        }

        private static List<Element> children(Element parent, String tag) {
            List<Element> found = new ArrayList<>();
            for (var n = parent.getFirstChild(); n != null; n = n.getNextSibling()) {
                if (n instanceof Element e && (tag.equals("*") || e.getTagName().equals(tag))) {
                    found.add(e);
                }
            }
            return found;
        }

        void mustStandAlone() {
            assertThat(OUTSIDE.matcher(html).results().map(r -> r.group())).isEmpty();
            for (Element e : all("*")) {
                var attributes = e.getAttributes();
                for (int i = 0; i < attributes.getLength(); i++) {
                    String name = attributes.item(i).getNodeName();
                    assertThat(name)
                            .doesNotStartWith("on")
                            .doesNotStartWith("th:")
                            .doesNotStartWith("xmlns:th");
                    if (name.equals("href")) {
                        assertThat(attributes.item(i).getNodeValue()).startsWith("#");
                    }
                }
            }
        }

        void mustLinkOnlyToItself() {
            Set<String> ids = new HashSet<>();
            for (Element e : all("*")) {
                if (e.hasAttribute("id")) {
                    assertThat(ids.add(e.getAttribute("id")))
                            .as("id %s is unique", e.getAttribute("id"))
                            .isTrue();
                }
            }
            for (Element e : all("*")) {
                List<String> targets = new ArrayList<>();
                if (e.hasAttribute("href")) {
                    targets.add(e.getAttribute("href").substring(1));
                }
                if (e.hasAttribute("aria-labelledby")) {
                    targets.addAll(List.of(e.getAttribute("aria-labelledby").split(" ")));
                }
                assertThat(ids).containsAll(targets);
            }
        }

        /** What scrolls sideways in a narrow window can be reached, and says what it is. */
        void mustBeReachedByKeyboard() {
            for (Element e : all("div")) {
                if (e.getAttribute("class").equals("roll")) {
                    assertThat(e.getAttribute("tabindex")).isEqualTo("0");
                    assertThat(e.getAttribute("role")).isEqualTo("region");
                    assertThat(e.getAttribute("aria-label")).isNotBlank();
                }
            }
        }

        void mustBeReadableByEar() {
            assertThat(document.getDocumentElement().getAttribute("lang")).isEqualTo("en");
            assertThat(all("title").get(0).getTextContent()).isNotBlank();
            for (Element svg : all("svg")) {
                if (!svg.getAttribute("aria-hidden").equals("true")) {
                    assertThat(svg.getAttribute("role")).isEqualTo("img");
                    assertThat(children(svg, "title")).hasSize(1);
                    assertThat(children(svg, "desc")).hasSize(1);
                    assertThat(children(svg, "title").get(0).getTextContent()).isNotBlank();
                    assertThat(children(svg, "desc").get(0).getTextContent()).isNotBlank();
                }
            }
            for (Element th : all("th")) {
                assertThat(th.getAttribute("scope")).isIn("col", "row");
            }
            for (Element table : all("table")) {
                assertThat(children(table, "caption").size()
                                + (table.hasAttribute("aria-label") || table.hasAttribute("aria-labelledby") ? 1 : 0))
                        .as("names of a table")
                        .isEqualTo(1);
            }
            for (Element body : all("tbody")) {
                for (Element row : children(body, "tr")) {
                    assertThat(children(row, "th").stream().map(th -> th.getAttribute("scope")))
                            .as("heading of the row %s", row.getTextContent())
                            .contains("row");
                }
            }
            for (Element list : all("dl")) {
                for (Element group : children(list, "div")) {
                    assertThat(children(group, "dt")).as(group.getTextContent()).isNotEmpty();
                    assertThat(children(group, "dd")).as(group.getTextContent()).isNotEmpty();
                }
            }
            int level = 0;
            for (Element e : all("*")) {
                if (e.getTagName().matches("h[1-6]")) {
                    int next = e.getTagName().charAt(1) - '0';
                    assertThat(next)
                            .as("heading %s after level %s", e.getTextContent(), level)
                            .isLessThanOrEqualTo(level + 1);
                    level = next;
                }
            }
        }
    }
}
