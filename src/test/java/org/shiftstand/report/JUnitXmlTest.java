package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.shiftstand.report.JUnitXml.Case;
import org.shiftstand.report.JUnitXml.Ending;
import org.shiftstand.report.JUnitXml.Suite;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

/** Test results for build servers, read back by the parser of the JDK. */
class JUnitXmlTest {
    private static final String NASTY = "a < b & \"c\" > 'd' ]]> — \u0001 \u202e end";

    private Element root;

    @BeforeEach
    void write_and_read_back() throws Exception {
        StringWriter text = new StringWriter();
        JUnitXml.write(
                "shiftstand compare",
                List.of(
                        new Suite(
                                "landing",
                                Map.of("firmware <before>", "1.4 & older"),
                                List.of(
                                        new Case(
                                                "landing", "sprocket 2 inboard", Ending.PASSED, "equivalent", "inside"),
                                        new Case("landing", NASTY, Ending.FAILED, "different", NASTY))),
                        new Suite(
                                "hold",
                                Map.of(),
                                List.of(
                                        new Case(
                                                "hold",
                                                "sprocket 2 inboard",
                                                Ending.UNDECIDED,
                                                "not decided",
                                                "beyond"),
                                        new Case(
                                                "hold",
                                                "sprocket 3 inboard",
                                                Ending.NOT_JUDGED,
                                                "no margin",
                                                "told")))),
                text);
        Document document = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new ByteArrayInputStream(text.toString().getBytes(StandardCharsets.UTF_8)));
        root = document.getDocumentElement();
    }

    private Element element(String name, int i) {
        return (Element) root.getElementsByTagName(name).item(i);
    }

    @Test
    void counts_stand_on_both_levels() {
        assertThat(root.getTagName()).isEqualTo("testsuites");
        assertThat(List.of(
                        root.getAttribute("tests"),
                        root.getAttribute("failures"),
                        root.getAttribute("errors"),
                        root.getAttribute("skipped")))
                .containsExactly("4", "1", "1", "1");
        assertThat(element("testsuite", 0).getAttribute("name")).isEqualTo("landing");
        assertThat(element("testsuite", 0).getAttribute("failures")).isEqualTo("1");
        assertThat(element("testsuite", 1).getAttribute("tests")).isEqualTo("2");
    }

    @Test
    void a_case_has_its_suite_and_name() {
        Element passed = element("testcase", 0);

        assertThat(passed.getAttribute("classname")).isEqualTo("landing");
        assertThat(passed.getAttribute("name")).isEqualTo("sprocket 2 inboard");
        assertThat(passed.getElementsByTagName("failure").getLength()).isZero();
    }

    @Test
    void what_is_not_decided_is_an_error_and_what_is_not_judged_is_skipped() {
        assertThat(element("error", 0).getAttribute("type")).isEqualTo("not decided");
        assertThat(element("skipped", 0).getAttribute("message")).isEqualTo("told");
    }

    @Test
    void text_comes_back_as_it_was_but_for_what_xml_cannot_hold_or_what_turns_the_reading_direction() {
        String readable = NASTY.replace('\u0001', '\ufffd').replace('\u202e', '\ufffd');

        assertThat(element("testcase", 1).getAttribute("name")).isEqualTo(readable);
        assertThat(element("failure", 0).getAttribute("message")).isEqualTo(readable);
        assertThat(element("failure", 0).getTextContent()).isEqualTo(readable);
        assertThat(element("property", 0).getAttribute("name")).isEqualTo("firmware <before>");
    }
}
