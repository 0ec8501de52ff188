package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.shiftstand.record.RunRecord;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Two units on two rigs at once on one host: whatever becomes of one, the other's run goes to its end, and is its own. */
final class TwoRigs {
    private static final Duration ENDS = Duration.ofSeconds(180);

    private TwoRigs() {}

    /** A check of its own for each. */
    static Seen apart(long seed, Path folder) throws Exception {
        Random random = Moments.of(seed);
        String[] faults = {"host killed", "host stopped for 3 s", "rig killed", "emergency stop"};
        String fault = faults[(int) Math.floorMod(seed, faults.length)];
        String options =
                "seed=" + seed + (fault.equals("emergency stop") ? ",estop-at=" + (6 + random.nextInt(6)) : "");
        Path truth = folder.resolve("other.truth.json");
        try (Rig hurt = Rig.start(folder, "hurt", options);
                Rig other = Rig.start(folder, "other", "seed=" + (seed + 1000), "--truth", truth.toString());
                Check first = Check.start(folder, "first", hurt.address(), "TD-A" + seed, Check.SHORT);
                Check second = Check.start(folder, "second", other.address(), "TD-B" + seed, Check.SHORT)) {
            first.left();
            Left left = second.left();
            Wait.pause(Duration.ofMillis(random.nextInt(8000)));
            switch (fault) {
                case "host killed" -> first.child().kill();
                case "host stopped for 3 s" -> {
                    first.child().signal("STOP");
                    Wait.pause(Duration.ofSeconds(3));
                    first.child().signal("CONT");
                    first.ended(ENDS, 4);
                }
                case "rig killed" -> {
                    hurt.child().kill();
                    first.ended(ENDS, 4);
                }
                default -> first.ended(ENDS, 4); // its rig's emergency stop
            }
            second.ended(ENDS, 0, 1, 3);
            whole(other, left, truth, seed);
            return Seen.survived().withRemark(fault);
        }
    }

    /** One command for both: the rig of the first is killed. */
    static Seen together(long seed, Path folder) throws Exception {
        Random random = Moments.of(seed);
        Path truth = folder.resolve("other.truth.json");
        Path procedure = Files.writeString(folder.resolve("short.yaml"), Check.SHORT);
        Path out = folder.resolve("both-out");
        try (Rig hurt = Rig.start(folder, "hurt", "seed=" + seed);
                Rig other = Rig.start(folder, "other", "seed=" + (seed + 1000), "--truth", truth.toString());
                Child child = Child.start(
                        folder,
                        "both",
                        "check",
                        "--unit",
                        "TD-A" + seed,
                        "--rig",
                        hurt.address(),
                        "--unit",
                        "TD-B" + seed,
                        "--rig",
                        other.address(),
                        "--procedure",
                        procedure.toString(),
                        "--spec",
                        "tarn-drive-end-of-line",
                        "--attended",
                        "--out",
                        out.toString())) {
            Check both = new Check(child, out);
            Wait.until(Check.STARTS, () -> hurt.log().on() && other.log().on());
            Wait.pause(Duration.ofMillis(random.nextInt(8000)));
            hurt.child().kill();
            both.ended(ENDS, 4);
            whole(other, left(out, "TD-B" + seed), truth, seed);
            try (RunRecord record = RunRecord.open(left(out, "TD-A" + seed).file())) {
                assertThat(record.end().orElse("")).startsWith("link lost");
            }
            return Seen.survived();
        }
    }

    private static Left left(Path out, String unit) throws IOException {
        try (Stream<Path> files = Files.walk(out)) {
            return files.filter(file -> file.endsWith(unit + ".run"))
                    .map(Left::new)
                    .findFirst()
                    .orElseThrow(() -> new AssertionError("no record of " + unit));
        }
    }

    /** Nothing is missing in a record, and its shifts are, to the microsecond, those that its own rig's unit was asked for. */
    private static void whole(Rig rig, Left left, Path truth, long seed) throws Exception {
        rig.child().signal("INT");
        rig.child().exit(Duration.ofSeconds(30));
        List<Long> asked = new ArrayList<>();
        for (JsonNode shift :
                JsonMapper.shared().readTree(Files.readString(truth)).get("shifts")) {
            asked.add(Math.round(shift.get("request_s").asDouble() * 1e6));
        }
        try (RunRecord record = RunRecord.open(left.file())) {
            assertThat(record.end()).contains("");
            assertThat(record.header().unit()).isEqualTo("TD-B" + seed);
            assertThat(record.gaps()).isEmpty();
            assertThat(record.breaks()).isEmpty();
            List<Long> recorded = record.events().stream()
                    .filter(e -> e.kind().equals("request"))
                    .map(e -> Math.round(record.timeS(e.atMicros()) * 1e6)) // after the first sample, as the truth is
                    .toList();
            assertThat(recorded).as("requests of the other's record").isEqualTo(asked);
        }
    }
}
