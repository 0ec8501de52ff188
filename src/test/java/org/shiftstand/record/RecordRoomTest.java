package org.shiftstand.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RecordRoomTest {
    private static final long FIXED = 32L << 20;

    @TempDir
    Path folder;

    /** What is written grows by no more than what was estimated, and by no less than four fifths of it. */
    @ParameterizedTest
    @CsvSource({"512, 64, 600", "4000, 100, 120", "100, 12, 1800"})
    void the_estimate_is_what_a_run_takes(int rateHz, int samplesABlock, int seconds) throws Exception {
        Path file = folder.resolve("unit.run");
        long interval = 1_000_000_000L / rateHz;
        Random random = new Random(1);
        short[] samples = new short[samplesABlock * 4];
        try (SqliteRunWriter writer = SqliteRunWriter.create(file, Runs.simulated())) {
            long before = Files.size(file);
            int blocks = seconds * rateHz / samplesABlock;
            writer.together(() -> {
                for (int number = 0; number < blocks; number++) {
                    for (int i = 0; i < samples.length; i++) {
                        samples[i] = (short) random.nextInt();
                    }
                    long at = number * samplesABlock * interval / 1000;
                    writer.block(number, at, interval, samples);
                    if (at / 750_000 != (at - samplesABlock * interval / 1000) / 750_000) { // a shift each 1.5 s
                        writer.event(new RunEvent(at, "hall-on", 0, 0, 0, 0, "", 8200, ""));
                    }
                }
            });
            writer.finish("");
            long took = Files.size(file) - before;

            long estimated = RecordRoom.bytes(seconds, rateHz) - FIXED;
            assertThat(took).isBetween(estimated * 4 / 5, estimated);
            assertThat(RecordRoom.bytes(0, rateHz)).isEqualTo(FIXED);
        }
    }

    /** The promise: within 1.3 times of the samples alone. */
    @Test
    void a_run_of_eight_hours_takes_little_more_than_its_samples() {
        double s = 8 * 3600;

        assertThat((RecordRoom.bytes(s, 512) - FIXED) / (s * 512 * 8)).isBetween(1.0, 1.3);
        assertThat((RecordRoom.bytes(s, 4000) - FIXED) / (s * 4000 * 8)).isBetween(1.0, 1.3);
    }

    @Test
    void the_room_of_a_folder_that_is_still_to_be_made_is_that_of_its_disk() {
        long usable = RecordRoom.usable(folder.resolve("a/b/c"));

        assertThat(usable).isPositive().isLessThanOrEqualTo(folder.toFile().getTotalSpace());
    }

    @Test
    void a_run_without_a_length_has_no_size() {
        assertThatThrownBy(() -> RecordRoom.bytes(Double.NaN, 512)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> RecordRoom.bytes(1, 0)).isInstanceOf(IllegalArgumentException.class);
    }
}
