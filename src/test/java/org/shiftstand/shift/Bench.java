package org.shiftstand.shift;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.profile.Profile;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A bench capture of the test data, with the truth of its independent simulation. */
record Bench(String name, SampleSource source, JsonNode truth) {
    static Bench load(String name) {
        try {
            JsonNode truth = JsonMapper.shared().readTree(Files.readString(path(name + ".truth.json")));
            return new Bench(name, CsvCapture.open(path(name + ".csv.gz"), CsvOptions.usual()), truth);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Path path(String file) {
        try {
            return Path.of(Objects.requireNonNull(Bench.class.getResource("/captures/" + file), file)
                    .toURI());
        } catch (URISyntaxException e) {
            throw new IllegalStateException(e);
        }
    }

    AngleTrack track() {
        return HallDecoder.decode(source, DecodeOptions.fromCapture());
    }

    /** bench-d is the one whose Hall pair turns the other way round; its README says that it must be told. */
    ShiftOptions options() {
        ShiftOptions options = ShiftOptions.defaults();
        return truth.get("swap").asBoolean() ? options.withSense("reversed") : options;
    }

    ShiftTable measured() {
        return ShiftFinder.find(track(), Optional.empty(), options());
    }

    List<JsonNode> shifts() {
        List<JsonNode> list = new ArrayList<>();
        truth.get("shifts").forEach(list::add);
        return list;
    }

    private List<Double> list(String key) {
        List<Double> list = new ArrayList<>();
        truth.get(key).forEach(n -> list.add(n.asDouble()));
        return list;
    }

    /** What is nominal for this unit, from its truth. */
    Profile profile() {
        List<Double> limits = list("limits_deg");
        return new Profile(
                name,
                1,
                truth.get("sprockets").asInt(),
                list("positions_deg"),
                OptionalDouble.empty(),
                OptionalDouble.of(limits.get(0)),
                OptionalDouble.of(limits.get(1)),
                OptionalDouble.of(truth.get("hold_s").asDouble()),
                list("overtravel_inboard_deg"),
                list("overtravel_outboard_deg"),
                Collections.emptyList(),
                "");
    }
}
