package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalDouble;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Plan;
import org.shiftstand.planning.Assumptions;
import org.shiftstand.planning.Explainer;
import org.shiftstand.planning.Explanation;
import org.shiftstand.planning.Schedule;
import org.shiftstand.planning.SoundUnit;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;
import org.xml.sax.InputSource;
import tools.jackson.databind.ObjectMapper;

/** The bundled spec, explained: text and JSON compared whole, with few repetitions, so that the test is quick. */
class ExplanationTest {
    private static final Path FOLDER = Path.of("src/test/resources/golden/explanation");
    private static final Profile TARN = ProfileReader.find("tarn-drive");
    private static final Spec SPEC = SpecReader.read(Bundled.find("tarn-drive-end-of-line", Bundled.Kind.SPEC));
    private static final Procedure END_OF_LINE = ProcedureReader.find("end-of-line");
    private static final Spec GUARDED = read("guarded");
    private static final Explanation EXPLAINED = explained(20);

    private static Explanation explained(int repetitions) {
        return explained(SPEC, repetitions, OptionalDouble.empty());
    }

    private static Explanation explained(Spec spec, int repetitions, OptionalDouble power) {
        List<Action> actions = Script.layOut(END_OF_LINE, TARN);
        return Explainer.explain(
                spec,
                TARN,
                Schedule.of(actions, Plan.of(actions), TARN),
                true,
                new Assumptions(SoundUnit.USUAL, false, repetitions, 1, power));
    }

    @Test
    void text_says_what_it_said_when_it_was_last_read() throws IOException {
        String text =
                ExplanationText.of(EXPLAINED, "Procedure end-of-line: " + Script.summary(END_OF_LINE, TARN) + ".");

        golden("tarn-drive-end-of-line.txt", text);
        assertThat(text.lines()).allSatisfy(line -> assertThat(line).hasSizeLessThanOrEqualTo(100));
    }

    @Test
    void json_is_what_it_was_when_it_was_last_read() throws IOException {
        var json = new StringBuilder();
        ExplanationJson.write(EXPLAINED, json);

        golden("tarn-drive-end-of-line.json", json.toString());
    }

    @Test
    void json_has_every_clause_and_every_point_of_every_curve() {
        var json = new StringBuilder();
        ExplanationJson.write(EXPLAINED, json);

        var root = new ObjectMapper().readTree(json.toString());
        assertThat(root.get("clauses").size()).isEqualTo(SPEC.clauses().size());
        root.get("clauses").forEach(clause -> {
            assertThat(clause.get("demand").asString()).isNotBlank();
            assertThat(clause.at("/supply/cycles").asInt()).isPositive();
            assertThat(clause.at("/curve/points").size()).isGreaterThan(5);
            clause.at("/curve/points")
                    .forEach(point -> assertThat(point.get("pass").asInt()
                                    + point.get("fail").asInt()
                                    + point.get("noVerdict").asInt())
                            .isEqualTo(20));
        });
    }

    @Test
    void json_keeps_to_its_schema() throws IOException {
        assertThat(errors(json(EXPLAINED))).isEmpty();
        assertThat(errors(json(Explainer.demands(SPEC, Assumptions.USUAL)))).isEmpty();
        assertThat(errors(json(explained(GUARDED, 4, OptionalDouble.of(0.95))))).isEmpty();
    }

    @Test
    void schema_refuses_what_an_explanation_is_not() throws IOException {
        String good = json(EXPLAINED);

        assertThat(errors(good.replace("\"format\": 1", "\"format\": 2"))).isNotEmpty();
        assertThat(errors(good.replace("\"worsening\": \"spread\"", "\"worsening\": \"spreads\"")))
                .isNotEmpty();
        assertThat(errors(good.replaceFirst("\"pass\": 20", "\"pass\": \"20\"")))
                .isNotEmpty();
        assertThat(errors(good.replace("\"noCurve\"", "\"withoutCurve\""))).isNotEmpty();
    }

    /** Nothing is known of a run's uncertainty: the bound stands where it is written, and the text says so. */
    @Test
    void guarded_clauses_have_chances_without_guard_bands_and_say_so() {
        Explanation guarded = explained(GUARDED, 20, OptionalDouble.empty());
        Explanation simple = explained(read("simple"), 20, OptionalDouble.empty());

        assertThat(guarded.guarded()).containsExactly("spread");
        assertThat(guarded.clauses().get(0).curve())
                .isEqualTo(simple.clauses().get(0).curve());
        assertThat(ExplanationText.of(guarded, "")).contains("Rule guarded", "Guard bands are not in these chances");
        assertThat(ExplanationText.of(simple, "")).doesNotContain("Guard bands");
    }

    @Test
    void drawing_is_well_formed_and_names_every_clause() throws Exception {
        String svg = OperatingDrawing.of(EXPLAINED);

        var document =
                DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(new InputSource(new StringReader(svg)));
        String texts = document.getDocumentElement().getTextContent();
        assertThat(SPEC.clauses()).allSatisfy(clause -> assertThat(texts).contains(clause.id()));
        assertThat(svg).doesNotContain("NaN").doesNotContain("Infinity");
    }

    @Test
    void without_a_profile_demands_are_told_and_nothing_is_drawn() {
        Explanation demands = Explainer.demands(SPEC, Assumptions.USUAL);
        var json = new StringBuilder();
        ExplanationJson.write(demands, json);

        assertThat(ExplanationText.of(demands, ""))
                .contains("No profile is named", "Takes 20 shifts in each group.")
                .doesNotContain("What a verdict is worth");
        assertThat(json.toString()).contains("\"whole\": null", "\"supply\": null");
        assertThat(OperatingDrawing.of(demands)).startsWith("<svg").endsWith("</svg>");
    }

    private static Spec read(String rule) {
        return SpecReader.read(TextFile.of("made.spec.yaml", """
                spec: made
                version: 1
                profile: tarn-drive
                decision: { rule: %s }
                clauses:
                  - { id: spread, measure: landing, statistic: standard-deviation, per: [sprocket, direction],
                      at-most: 18 deg, because: made up }
                """.formatted(rule)));
    }

    private static String json(Explanation explained) {
        var json = new StringBuilder();
        ExplanationJson.write(explained, json);
        return json.toString();
    }

    private static List<Error> errors(String json) throws IOException {
        String schema = Files.readString(Path.of("specs/schema/explanation.schema.json"), StandardCharsets.UTF_8);
        return SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                .getSchema(schema, InputFormat.JSON)
                .validate(json, InputFormat.JSON);
    }

    private static void golden(String name, String now) throws IOException {
        Path file = FOLDER.resolve(name);
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.createDirectories(FOLDER);
            Files.writeString(file, now, StandardCharsets.UTF_8);
        }
        assertThat(now).isEqualTo(Files.readString(file, StandardCharsets.UTF_8));
    }
}
