package org.shiftstand.angle;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A bench capture of the test data with its truth. */
final class BenchCapture {
    final SampleSource source;
    final JsonNode truth;

    private BenchCapture(SampleSource source, JsonNode truth) {
        this.source = source;
        this.truth = truth;
    }

    static BenchCapture load(String name) {
        try {
            var truth = JsonMapper.shared().readTree(Files.readString(path(name + ".truth.json")));
            return new BenchCapture(CsvCapture.open(path(name + ".csv.gz"), CsvOptions.usual()), truth);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static Path path(String file) {
        try {
            return Path.of(Objects.requireNonNull(BenchCapture.class.getResource("/captures/" + file), file)
                    .toURI());
        } catch (URISyntaxException e) {
            throw new IllegalStateException(e);
        }
    }

    Decoded track() {
        return Decoded.of(HallDecoder.decode(source, DecodeOptions.fromCapture()));
    }

    /** Where the shaft rests in one shift: instants well inside the rests, and the true angles. Times 0 without plateau. */
    record Rest(
            double plateauFromS,
            double plateauToS,
            double plateauDeg,
            double landingFromS,
            double landingToS,
            double landingDeg) {}

    /** Rests of the shifts with complete evidence, from truth alone. */
    List<Rest> rests() {
        var rests = new ArrayList<Rest>();
        JsonNode shifts = truth.get("shifts");
        for (int k = 0; k < shifts.size(); k++) {
            JsonNode shift = shifts.get(k);
            if (!shift.get("evidence").asString().equals("complete")) {
                continue;
            }
            double settled = shift.get("settled_s").asDouble();
            double end =
                    k + 1 < shifts.size() ? shifts.get(k + 1).get("request_s").asDouble() : settled + 0.4;
            boolean plateau = shift.path("hold_s").asDouble(0) > 0.3;
            double request = shift.get("request_s").asDouble();
            double reached = request + shift.path("travel_time_s").asDouble(0);
            rests.add(new Rest(
                    plateau ? reached + 0.2 : 0,
                    plateau ? reached + 0.45 : 0,
                    plateau ? shift.get("plateau_deg").asDouble() : 0,
                    settled + 0.1,
                    Math.min(end - 0.01, settled + 0.5),
                    shift.get("landing_deg").asDouble()));
        }
        return rests;
    }
}
