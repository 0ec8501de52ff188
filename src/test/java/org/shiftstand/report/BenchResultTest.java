package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.TimeZone;
import org.junit.jupiter.api.Test;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeCase;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measurement;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.Named;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

/** A bench capture from file to the machine-readable renderings. Invented data. */
class BenchResultTest {
    private static Path capture(String name) throws URISyntaxException {
        return Path.of(Objects.requireNonNull(BenchResultTest.class.getResource("/captures/" + name + ".csv.gz"))
                .toURI());
    }

    private static String result(String name) throws IOException, URISyntaxException {
        try (JudgeInput input = JudgeInput.open(capture(name), CsvOptions.usual())) {
            JudgeCase assembled = input.assemble(
                    Named.spec("specs/passive-capture.spec.yaml"),
                    JudgeOptions.defaults().withUnit("TD-0042"));
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            ResultJson.write(
                    Judge.judge(input.source(), assembled.spec(), assembled.profile(), assembled.options())
                            .judgement(),
                    out);
            return out.toString(StandardCharsets.UTF_8);
        }
    }

    private interface Rendering {
        void write(Measurement measured, ByteArrayOutputStream out) throws IOException;
    }

    private static String measured(String name, Rendering rendering) throws IOException, URISyntaxException {
        try (JudgeInput input = JudgeInput.open(capture(name), CsvOptions.usual())) {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            rendering.write(
                    Measuring.measure(input.source(), input.profile(Named.nothing()), JudgeOptions.defaults()), out);
            return out.toString(StandardCharsets.UTF_8);
        }
    }

    @Test
    void a_result_keeps_to_the_schema() throws IOException, URISyntaxException {
        try (InputStream in = Objects.requireNonNull(
                BenchResultTest.class.getResourceAsStream("/bundled/specs/schema/result.schema.json"))) {
            var schema = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                    .getSchema(new String(in.readAllBytes(), StandardCharsets.UTF_8), InputFormat.JSON);

            assertThat(schema.validate(result("bench-h"), InputFormat.JSON)).isEmpty();
        }
    }

    @Test
    void a_result_is_the_same_to_the_byte_in_every_locale_and_time_zone() throws IOException, URISyntaxException {
        Locale locale = Locale.getDefault();
        TimeZone zone = TimeZone.getDefault();
        String before = result("bench-a");
        try {
            Locale.setDefault(Locale.forLanguageTag("hi-IN-u-nu-deva"));
            TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Kiritimati"));

            assertThat(result("bench-a")).isEqualTo(before);
        } finally {
            Locale.setDefault(locale);
            TimeZone.setDefault(zone);
        }
    }

    @Test
    void the_shift_table_as_csv_has_one_row_a_shift_and_a_note_for_each_gap_in_a_row() throws Exception {
        List<String> lines = measured("bench-h", (measured, out) -> {
                    StringBuilder text = new StringBuilder();
                    ShiftCsv.write(measured.table(), text);
                    out.writeBytes(text.toString().getBytes(StandardCharsets.UTF_8));
                })
                .lines()
                .toList();

        assertThat(lines).hasSize(109);
        List<String> columns = List.of(lines.get(0).split(",", -1));
        String gap = lines.stream()
                .filter(line -> line.split(",", -1)[5].equals("gap"))
                .findFirst()
                .orElseThrow();
        String[] cells = gap.split(",", -1);
        for (String column : List.of("overtravel_deg", "ringing_deg", "hold_s")) {
            assertThat(cells[columns.indexOf(column)]).as(column).isEmpty();
            assertThat(cells[columns.indexOf("notes")]).as(column).contains(column + ": ");
        }
        assertThat(lines).allMatch(line -> line.split(",", -1).length == columns.size());
    }

    @Test
    void the_shift_table_as_json_has_the_columns_of_the_csv() throws Exception {
        JsonNode json = new ObjectMapper().readTree(measured("bench-c", ShiftJson::write));

        assertThat(json.get("format").asInt()).isEqualTo(1);
        assertThat(json.get("source").get("kind").asString()).isEqualTo("csv");
        assertThat(json.get("profile").isNull()).isTrue();
        assertThat(json.get("shifts").size()).isEqualTo(120);
        JsonNode shift = json.get("shifts").get(0);
        for (String column : ShiftCsv.columns()) {
            assertThat(shift.has(column)).as(column).isTrue();
        }
        assertThat(shift.get("hold_s").isNull()).isTrue();
        assertThat(shift.get("notes").get("hold_s").asString()).contains("clock stopped");
        assertThat(shift.get("landing_deg").isNumber()).isTrue();
    }
}
