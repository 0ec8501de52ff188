package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.shiftstand.learn.CurrentSignature;
import org.shiftstand.learn.FirmwareTable;
import org.shiftstand.learn.FixedPoint;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.MadeLearned;
import org.shiftstand.learn.Proof;
import org.shiftstand.learn.StoppingBias;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

class LearnedJsonTest {
    private static final Schema SCHEMA = schema();

    private static Schema schema() {
        try (InputStream in = Objects.requireNonNull(
                LearnedJsonTest.class.getResourceAsStream("/bundled/specs/schema/learned.schema.json"))) {
            return SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                    .getSchema(new String(in.readAllBytes(), StandardCharsets.UTF_8), InputFormat.JSON);
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    static Stream<MadeLearned> drives() {
        return Stream.of(
                MadeLearned.four().scatter(Measure.LANDING, 8, 54),
                gaps(),
                MadeLearned.drive(0, Double.NaN, 1400),
                MadeLearned.four()
                        .stopping(new StoppingBias(
                                0,
                                Double.POSITIVE_INFINITY,
                                java.util.OptionalDouble.empty(),
                                "not known: why",
                                false)));
    }

    private static MadeLearned gaps() {
        return MadeLearned.four()
                .row(3, 4, MadeLearned.gap("no shift from 3 to 4 was seen"))
                .row(4, 3, MadeLearned.irregular(200));
    }

    private static String json(Learned learned) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        Proof proof = new Proof(
                "made.csv", 0, Optional.empty(), "nothing was held back", List.of(), List.of("overtravel-1-2"));
        LearnedJson.write(
                learned,
                Optional.of(FirmwareTable.of(learned, FixedPoint.CENTIDEGREES).table()),
                List.of(proof),
                out);
        return out.toString(StandardCharsets.UTF_8);
    }

    @ParameterizedTest
    @MethodSource("drives")
    void keeps_to_its_schema(MadeLearned made) throws IOException {
        Learned learned = made.learned()
                .with(List.of(new CurrentSignature(
                        Direction.INBOARD, true, 4, 0.002, new double[] {Double.NaN, 1.5}, new double[] {Double.NaN, 0.1
                        })));

        assertThat(SCHEMA.validate(json(learned), InputFormat.JSON)).isEmpty();
    }

    @Test
    void a_schema_that_lets_everything_pass_would_be_none() throws IOException {
        String json = json(gaps().learned());

        assertThat(SCHEMA.validate(
                        json.replace("\"pattern\": \"programmed\"", "\"pattern\": \"gap\""), InputFormat.JSON))
                .isNotEmpty();
        assertThat(SCHEMA.validate(json.replace("\"heldBack\": 12", "\"heldBack\": null"), InputFormat.JSON))
                .isNotEmpty();
    }

    @Test
    void gaps_are_null_in_rows_and_in_the_firmware_table() throws IOException {
        JsonNode json = new ObjectMapper().readTree(json(gaps().learned()));

        assertThat(json.at("/rows/0/overtravel/programmedDeg").asDouble()).isEqualTo(270);
        assertThat(json.at("/rows/2/overtravel/programmedDeg").isNull()).isTrue();
        assertThat(json.at("/rows/2/overtravel/reason").asString()).isEqualTo("no shift from 3 to 4 was seen");
        assertThat(json.at("/rows/3/overtravel/programmedDeg").isNull()).isTrue();
        assertThat(json.at("/firmware/positions/2").asInt()).isEqualTo(140_550);
        assertThat(json.at("/firmware/overtravelInboard/1").asInt()).isEqualTo(30_030);
        assertThat(json.at("/firmware/overtravelInboard/2").isNull()).isTrue();
        assertThat(json.at("/firmware/dwellMs").asInt()).isEqualTo(700);
        assertThat(json.at("/undecided/0/moreShifts").asInt()).isEqualTo(25);
    }
}
