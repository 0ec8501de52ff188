package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.shiftstand.record.RunRecord;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Two units on two rigs at once on one host: whatever becomes of one, the other's run goes to its end, and is its own. */
final class TwoRigs {
    private static final Duration ENDS = Duration.ofSeconds(180);

    private TwoRigs() {}

    static Seen run(long seed, Path folder) throws Exception {
        Random random = new Random(seed);
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
            other.child().signal("INT");
            other.child().exit(Duration.ofSeconds(30));
            whole(left, truth, seed);
            return Seen.survived().withRemark(fault);
        }
    }

    /** Nothing is missing in a record, and its shifts are, to the microsecond, those that its own rig's unit was asked for. */
    private static void whole(Left left, Path truth, long seed) throws Exception {
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
                    .map(e -> Math.round(record.timeS(e.atMicros()) * 1e6))
                    .toList();
            assertThat(recorded).as("requests of the other's record").isEqualTo(asked);
        }
    }
}
