package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** REF-CSV-01: RFC 4180 section 2, rows verified against an independent reader. */
class Rfc4180Test {
    @TestFactory
    Stream<DynamicTest> records_are_read_as_the_standard_says() throws IOException {
        try (InputStream in = Objects.requireNonNull(getClass().getResourceAsStream("/capture/rfc4180.json"))) {
            JsonNode cases = JsonMapper.shared().readTree(in).get("cases");
            assertThat(cases.size()).isEqualTo(7);
            return cases.valueStream()
                    .map(c -> DynamicTest.dynamicTest(
                            c.get("name").asString(),
                            () -> assertThat(read(c.get("text").asString())).isEqualTo(rows(c.get("rows")))));
        }
    }

    private static List<List<String>> read(String text) throws IOException {
        var bytes =
                new Bytes(new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)), new CsvProblems("case.csv"));
        var rows = new ArrayList<List<String>>();
        while (bytes.hasLine()) {
            rows.add(CsvRecord.read(bytes).fields());
        }
        return rows;
    }

    private static List<List<String>> rows(JsonNode rows) {
        return rows.valueStream()
                .map(row -> row.valueStream().map(JsonNode::asString).toList())
                .toList();
    }
}
