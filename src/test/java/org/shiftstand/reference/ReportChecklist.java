package org.shiftstand.reference;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.StringReader;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Named;
import org.shiftstand.report.HtmlReport;
import org.shiftstand.report.ReportOptions;
import org.shiftstand.report.ResultJson;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Every item of the checklist in the result and in the page of a capture with everything stated that people know. */
final class ReportChecklist implements Published {
    private static final Path CAPTURE = Path.of("src", "test", "resources", "captures", "bench-a.csv.gz");
    private static final String STATED = "src/test/resources/schema/everything.particulars.yaml";

    @Override
    public Source source() {
        return new Source(
                "REF-REP-01",
                "ISO/IEC 17025:2017, 7.8.2.1 a to p, 7.8.6 and extras of 7.8.3",
                "VERIFIED keywords; extras RECALL");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode checklist = Reference.json("reference/stats/iso17025_report_checklist.json");
        Report report = Report.of(Optional.of(STATED));
        for (JsonNode item : checklist.get("items")) {
            String clause = "7.8.2.1 " + item.get("item").asString();
            comparisons.word(clause, item.get("keyword").asString(), report.says(clause));
        }
        List<String> conformity = List.of("7.8.6.1", "7.8.6.2 a", "7.8.6.2 b", "7.8.6.2 c");
        each(comparisons, report, conformity, checklist.get("conformity_statement"));
        List<String> extras = List.of("7.8.3.1 a", "7.8.3.1 b", "7.8.3.1 c");
        each(comparisons, report, extras, checklist.get("test_report_extra_7_8_3"));
    }

    private static void each(Comparisons comparisons, Report report, List<String> clauses, JsonNode keywords) {
        comparisons.count(clauses.get(0).substring(0, 5) + ", entries", keywords.size(), clauses.size());
        for (int i = 0; i < clauses.size(); i++) {
            comparisons.word(clauses.get(i), keywords.get(i).asString(), report.says(clauses.get(i)));
        }
    }

    /**
     * Result and page of one judgement.
     *
     * @param rows of the page's table by clause: what is asked and what is said
     */
    record Report(JsonNode result, String page, Map<String, List<String>> rows) {
        /** The bench capture judged as it is. */
        static Report of(Optional<String> particulars) {
            try (JudgeInput input = JudgeInput.open(CAPTURE, CsvOptions.usual())) {
                Judged judged = Judge.judge(
                        input.source(),
                        input.assemble(
                                Named.spec("passive-capture").withParticulars(particulars),
                                JudgeOptions.defaults().withUnit("TD-0107")));
                ByteArrayOutputStream json = new ByteArrayOutputStream();
                ResultJson.write(judged.judgement(), json);
                StringWriter page = new StringWriter();
                ReportOptions options = new ReportOptions(Instant.parse("2026-11-25T12:00:00Z"), "0.1.0");
                HtmlReport.write(judged.judgement(), Optional.of(judged.track()), options, page);
                return new Report(
                        JsonMapper.shared().readTree(json.toString(StandardCharsets.UTF_8)),
                        page.toString(),
                        rows(page.toString()));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        private static Map<String, List<String>> rows(String page) throws IOException {
            try {
                var document = DocumentBuilderFactory.newInstance()
                        .newDocumentBuilder()
                        .parse(new InputSource(new StringReader(page)));
                Map<String, List<String>> rows = new HashMap<>();
                var all = document.getElementsByTagName("tr");
                for (int i = 0; i < all.getLength(); i++) {
                    Element row = (Element) all.item(i);
                    var table = (Element) row.getParentNode().getParentNode();
                    var cells = row.getElementsByTagName("td");
                    if (table.getAttribute("class").equals("particulars") && cells.getLength() == 2) {
                        String asks = row.getElementsByTagName("th").item(0).getTextContent();
                        rows.put(
                                cells.item(1).getTextContent(),
                                List.of(asks, plain(cells.item(0).getTextContent())));
                    }
                }
                return rows;
            } catch (ParserConfigurationException | SAXException e) {
                throw new IOException("the page is not well-formed", e);
            }
        }

        private static String plain(String text) {
            return text.replace('\u00a0', ' ').replace('\u2212', '-');
        }

        /** What is asked for under a clause, where both say it; else what is wrong. */
        String says(String clause) {
            JsonNode found = null;
            for (JsonNode particular : result.get("report").get("particulars")) {
                found = particular.get("clause").asString().equals(clause) ? particular : found;
            }
            List<String> row = rows.get(clause);
            if (found == null || row == null) {
                return found == null ? "not in the result" : "not in the page";
            }
            List<String> wrong = new ArrayList<>();
            for (JsonNode line : found.get("lines")) {
                String key = line.get("key").asString();
                if (!line.get("stated").asBoolean()) {
                    wrong.add(key + " not stated");
                }
                for (JsonNode text : line.get("texts")) {
                    if (!row.get(1).contains(text.asString())) {
                        wrong.add(key + " not in the page: " + text.asString());
                    }
                }
            }
            String asks = found.get("asks").asString();
            if (!row.get(0).equals(asks)) {
                wrong.add("the page asks for " + row.get(0));
            }
            return wrong.isEmpty() ? asks : String.join("; ", wrong);
        }
    }
}
