package org.shiftstand.learn;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measuring;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A bench capture learned from, beside the truth of its independent simulation. */
record BenchLearning(String name, JsonNode truth, Learned learned) {
    static BenchLearning of(String name) {
        try {
            JsonNode truth = JsonMapper.shared().readTree(Files.readString(path(name + ".truth.json")));
            try (SampleSource source = CsvCapture.open(path(name + ".csv.gz"), CsvOptions.usual())) {
                // the one whose Hall pair turns the other way round; its README says that it must be told
                JudgeOptions options = truth.get("swap").asBoolean()
                        ? JudgeOptions.defaults().withSense("reversed")
                        : JudgeOptions.defaults();
                LearningInput input = new LearningInput(
                        name,
                        "unit",
                        Map.of(),
                        Measuring.measure(source, Optional.empty(), options),
                        OptionalInt.empty());
                return new BenchLearning(
                        name, truth, Learning.learn(List.of(input), LearnOptions.of("drive"), OptionalDouble.of(2.4)));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static Path path(String file) {
        try {
            return Path.of(Objects.requireNonNull(BenchLearning.class.getResource("/captures/" + file), file)
                    .toURI());
        } catch (URISyntaxException e) {
            throw new IllegalStateException(e);
        }
    }

    int sprockets() {
        return truth.get("sprockets").asInt();
    }

    /** What the capture's firmware was told, degrees; 0 for none. */
    double programmedDeg(LearnedStep step) {
        return step.to() > step.from()
                ? truth.get("overtravel_inboard_deg").get(step.from() - 1).asDouble()
                : truth.get("overtravel_outboard_deg")
                        .get(sprockets() - step.from())
                        .asDouble();
    }

    double positionDeg(int sprocket) {
        return truth.get("positions_deg").get(sprocket - 1).asDouble()
                - truth.get("positions_deg").get(0).asDouble();
    }
}
