package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

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
    private static final Explanation EXPLAINED = explained(20);

    private static Explanation explained(int repetitions) {
        List<Action> actions = Script.layOut(END_OF_LINE, TARN);
        return Explainer.explain(
                SPEC,
                TARN,
                Schedule.of(actions, Plan.of(actions), TARN),
                true,
                new Assumptions(SoundUnit.USUAL, false, repetitions, 1, OptionalDouble.empty()));
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

    private static void golden(String name, String now) throws IOException {
        Path file = FOLDER.resolve(name);
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.createDirectories(FOLDER);
            Files.writeString(file, now, StandardCharsets.UTF_8);
        }
        assertThat(now).isEqualTo(Files.readString(file, StandardCharsets.UTF_8));
    }
}
