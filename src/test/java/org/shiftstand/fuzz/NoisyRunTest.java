package org.shiftstand.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.TextFile;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.RigMessage;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunRecord;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.rig.Plans;
import org.shiftstand.rig.RigRunner;
import org.shiftstand.rig.RunEnd;
import org.shiftstand.rig.RunMonitor;
import org.shiftstand.rig.RunPlan;
import org.shiftstand.sim.SimOptions;

/** Runs over a line that damages frames: nothing that the rig did not say is recorded, and whatever is missing is said. */
@Timeout(3600)
class NoisyRunTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @TempDir
    private Path folder;

    private int rounds;

    @Test
    void damaged_frames_never_become_samples() {
        Fuzz.rounds("runs over a noisy line", 40, random -> {
            Path file = folder.resolve("noisy-" + rounds++ + ".run");
            int oneIn = List.of(2, 4, 8, 40, 400).get(random.nextInt(5));
            var link = new NoisyLink(TARN, SimOptions.seeded(random.nextInt(1000)), random, oneIn);
            RunEnd end;
            try {
                end = RigRunner.run(
                        link, plan(), header -> SqliteRunWriter.create(file, header), new RunMonitor() {}, () -> false);
            } catch (LinkException e) {
                assertThat(e.getMessage()).isNotBlank();
                return "no rig";
            } finally {
                // a rig whose host has gone cuts by itself
                link.rig().advanceTo(link.rig().nowMicros() + 1_100_000, frame -> {});
                assertThat(link.rig().supplyMv()).isZero();
                link.close();
            }
            compare(link, file);
            return end.getClass().getSimpleName() + (link.hurt() == 0 ? " without damage" : "");
        });
    }

    private RunPlan plan() throws IOException {
        Path file = Files.writeString(folder.resolve("noisy.yaml"), """
                procedure: noisy
                version: 1
                sample-rate: 512 Hz
                steps:
                  - supply: 8.2 V
                  - home: {}
                  - sweep: { from: 1, to: 4, and-back: true, times: 2, rest: 100 ms }
                """);
        Procedure procedure = ProcedureReader.read(TextFile.read("noisy.yaml", file));
        return Plans.of(procedure, TARN);
    }

    private static void compare(NoisyLink link, Path file) throws SQLException {
        TreeMap<Long, RigMessage.Samples> taken = new TreeMap<>();
        Set<String> happened = new HashSet<>();
        for (RigMessage message : link.said()) {
            if (message instanceof RigMessage.Samples block) {
                taken.put(block.blockNumber(), block);
            } else if (message instanceof RigMessage.Event event) {
                happened.add(event.atMicros() + " " + event.value());
            }
        }
        try (RunRecord record = RunRecord.open(file)) {
            assertThat(record.end()).isPresent();
            assertThat(record.notices()).noneMatch(notice -> notice.contains("changed or damaged"));
            long last = lastBlock(file, taken);
            long missing =
                    record.gaps().stream().mapToLong(SampleSource.Gap::samples).sum();
            assertThat(record.samples() + missing)
                    .as("samples and gaps up to the last block, %d", last)
                    .isEqualTo(taken.headMap(last, true).values().stream()
                            .mapToLong(RigMessage.Samples::count)
                            .sum());
            for (RunEvent event : record.events()) {
                if (List.of("hall-on", "hall-off", "request", "supply-off").contains(event.kind())) {
                    assertThat(happened)
                            .as("%s at %d µs", event.kind(), event.atMicros())
                            .contains(event.atMicros() + " " + event.value());
                }
            }
        }
    }

    /** Number of the last block in a record, each of which must be as the rig sent it; −1 where there is none. */
    private static long lastBlock(Path file, Map<Long, RigMessage.Samples> taken) throws SQLException {
        long last = -1;
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement sql = connection.createStatement();
                ResultSet rows = sql.executeQuery("SELECT number, first_micros, samples FROM block ORDER BY seq")) {
            while (rows.next()) {
                last = rows.getLong(1);
                RigMessage.Samples sent = Objects.requireNonNull(taken.get(last), "block " + last + " was never sent");
                ByteBuffer bytes =
                        ByteBuffer.allocate(sent.samples().length * 2).order(ByteOrder.LITTLE_ENDIAN);
                bytes.asShortBuffer().put(sent.samples());
                assertThat(rows.getBytes(3)).as("block %d", last).isEqualTo(bytes.array());
                assertThat(rows.getLong(2)).as("block %d", last).isEqualTo(sent.firstMicros());
            }
        }
        return last;
    }
}
