package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.TimeZone;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

class ResultJsonTest {
    private static final String GOLDEN = "/golden/result.json";

    private static String written() {
        try {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            ResultJson.write(MadeJudgement.judgement(), out);
            return out.toString(StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    private static Schema schema() throws IOException {
        try (InputStream in = ResultJsonTest.class.getResourceAsStream("/bundled/specs/schema/result.schema.json")) {
            return SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                    .getSchema(new String(in.readAllBytes(), StandardCharsets.UTF_8), InputFormat.JSON);
        }
    }

    private static List<Error> errors(String json) throws IOException {
        return schema().validate(json, InputFormat.JSON);
    }

    /** The golden file is rewritten only with -Dgolden.rewrite=true. */
    @Test
    void is_the_golden_document_to_the_byte() throws IOException {
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.writeString(Path.of("src/test/resources" + GOLDEN), written());
        }

        try (InputStream in = ResultJsonTest.class.getResourceAsStream(GOLDEN)) {
            assertThat(written()).isEqualTo(new String(in.readAllBytes(), StandardCharsets.UTF_8));
        }
    }

    @Test
    void keeps_to_its_schema() throws IOException {
        assertThat(errors(written())).isEmpty();
    }

    @Test
    void has_a_schema_that_refuses_what_a_result_is_not() throws IOException {
        String good = written();

        assertThat(errors(good.replace("\"verdict\": \"fail\"", "\"verdict\": \"failed\"")))
                .isNotEmpty();
        assertThat(errors(good.replace("\"format\": 1", "\"format\": 2"))).isNotEmpty();
        assertThat(errors(good.replace("\"notMeasured\"", "\"unmeasured\""))).isNotEmpty();
        assertThat(errors(good.replace("\"unit\": \"TD-0107\"", "\"unit\": \"../TD-0107\"")))
                .isNotEmpty();
        assertThat(errors(good.replaceFirst("\"value\": [-0-9.]+", "\"value\": \"none\"")))
                .isNotEmpty();
    }

    @Test
    void has_a_schema_that_lets_later_versions_add_fields() throws IOException {
        assertThat(errors(written().replaceFirst("\\{", "{\n  \"seal\": \"later\",")))
                .isEmpty();
    }

    @Test
    void has_the_promised_fields_in_their_order() {
        JsonNode json = new ObjectMapper().readTree(written());

        assertThat(json.propertyNames())
                .containsExactly(
                        "format",
                        "verdict",
                        "reason",
                        "unit",
                        "identity",
                        "source",
                        "spec",
                        "profile",
                        "rule",
                        "claim",
                        "confidence",
                        "falseAccept",
                        "sense",
                        "sprockets",
                        "numbering",
                        "origin",
                        "turnLostFrom",
                        "settleBandDeg",
                        "correction",
                        "uncertainty",
                        "limits",
                        "runEnd",
                        "breaks",
                        "counts",
                        "clauses",
                        "overTheRun",
                        "drift",
                        "positioning",
                        "notices",
                        "tool",
                        "report");
        JsonNode group = json.get("clauses").get(0).get("groups").get(0);
        assertThat(group.propertyNames())
                .containsExactly(
                        "key",
                        "n",
                        "notMeasured",
                        "notApplicable",
                        "displaced",
                        "notMade",
                        "value",
                        "margin",
                        "assessment",
                        "verdict",
                        "reason",
                        "shifts");
        assertThat(group.get("key").get("sprocket").asInt()).isEqualTo(4);
        assertThat(group.get("key").get("direction").asString()).isEqualTo("inboard");
        assertThat(group.get("value").asDouble()).isEqualTo(220.1);
        assertThat(group.get("shifts").get(0).asInt()).isEqualTo(1);
    }

    @Test
    void gives_null_for_what_is_not_measured_never_nan() {
        JsonNode json = new ObjectMapper().readTree(written());

        assertThat(json.get("correction").get("residualDeg").isNull()).isTrue();
        assertThat(json.get("clauses").get(0).get("groups").get(1).get("value").isNull())
                .isTrue();
        assertThat(written()).doesNotContain("NaN").doesNotContain("Infinity");
    }

    @Test
    void gives_bounds_values_and_margins_in_the_unit_of_the_bound_as_written() {
        JsonNode hold = new ObjectMapper().readTree(written()).get("clauses").get(1);

        assertThat(hold.get("unit").asString()).isEqualTo("ms");
        assertThat(hold.get("bound").get("atMost").asDouble()).isEqualTo(750);
        assertThat(hold.get("bound").get("atLeast").isNull()).isTrue();
        assertThat(hold.get("value").asDouble()).isEqualTo(721.5);
        assertThat(hold.get("margin").asDouble()).isEqualTo(28.5);
    }

    @Test
    void is_the_same_in_every_locale_and_time_zone() {
        Locale locale = Locale.getDefault();
        TimeZone zone = TimeZone.getDefault();
        String before = written();
        try {
            Locale.setDefault(Locale.forLanguageTag("ar-EG"));
            TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Kiritimati"));

            assertThat(written()).isEqualTo(before);
        } finally {
            Locale.setDefault(locale);
            TimeZone.setDefault(zone);
        }
    }

    @Test
    void escapes_what_json_must_and_keeps_other_letters() {
        StringBuilder out = new StringBuilder();
        new JsonWriter(out)
                .object()
                .field("a\"b", "line\nta\tb \\ é \u0001 \ud800 \ud83d\ude00 →")
                .endObject()
                .end();

        assertThat(out.toString())
                .isEqualTo("{\n  \"a\\\"b\": \"line\\nta\\tb \\\\ é \\u0001 \\ud800 \ud83d\ude00 →\"\n}\n");
    }

    @Test
    void writes_empty_objects_and_arrays_in_one_line() {
        StringBuilder out = new StringBuilder();
        new JsonWriter(out)
                .object()
                .object("o")
                .endObject()
                .array("a")
                .endArray()
                .numbers("n", List.of())
                .endObject()
                .end();

        assertThat(out.toString()).isEqualTo("{\n  \"o\": {},\n  \"a\": [],\n  \"n\": []\n}\n");
    }
}
