package org.shiftstand.judge;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.StreamSupport;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.profile.Profile;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Demand;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A bench capture judged, beside its truth. Invented data; see src/test/resources/captures/README.md. */
final class BenchRun {
    private final Path capture;
    private final JsonNode truth;

    private BenchRun(Path capture, JsonNode truth) {
        this.capture = capture;
        this.truth = truth;
    }

    static BenchRun of(String name) {
        try {
            JsonNode truth = JsonMapper.shared().readTree(Files.readString(path(name + ".truth.json")));
            return new BenchRun(path(name + ".csv.gz"), truth);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Path path(String file) {
        try {
            return Path.of(Objects.requireNonNull(BenchRun.class.getResource("/captures/" + file), file)
                    .toURI());
        } catch (URISyntaxException e) {
            throw new IllegalStateException(e);
        }
    }

    List<JsonNode> trueShifts() {
        return StreamSupport.stream(truth.get("shifts").spliterator(), false).toList();
    }

    /** What the truth file says the unit was built to. */
    Profile profile() {
        return new Profile(
                truth.get("name").asString(),
                1,
                truth.get("sprockets").asInt(),
                numbers("positions_deg"),
                OptionalDouble.empty(),
                OptionalDouble.of(numbers("limits_deg").get(0)),
                OptionalDouble.of(numbers("limits_deg").get(1)),
                OptionalDouble.of(truth.get("hold_s").asDouble()),
                numbers("overtravel_inboard_deg"),
                numbers("overtravel_outboard_deg"),
                List.of(),
                "0".repeat(64));
    }

    private List<Double> numbers(String key) {
        List<Double> numbers = new ArrayList<>();
        truth.get(key).forEach(number -> numbers.add(number.asDouble()));
        return numbers;
    }

    Judgement judge(Demand... demands) {
        return judge(JudgeOptions.defaults(), Optional.of(profile()), demands);
    }

    Judgement judge(JudgeOptions options, Optional<Profile> profile, Demand... demands) {
        try (SampleSource source = CsvCapture.open(capture, CsvOptions.usual())) {
            return Judge.judge(source, Demand.spec(demands), profile, options).judgement();
        }
    }

    ClauseResult clause(Demand demand) {
        return judge(demand).clauses().get(0);
    }
}
