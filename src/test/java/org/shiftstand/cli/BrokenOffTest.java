package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.SqliteRunWriter;

class BrokenOffTest {
    @TempDir
    Path folder;

    @Test
    void a_run_goes_on_after_a_session_that_got_no_sample_and_never_before_it() {
        Path file = folder.resolve("TD-0107.run");
        Map<String, String> texts = Map.of("procedure", "p", "spec", "s", "profile", "f");
        var header = new RunHeader(
                "TD-0107", Map.of("rig", "bench"), texts, texts, 1_953_125, 0.0012, 0.0025, 1_000_000, true);
        try (SqliteRunWriter first = SqliteRunWriter.create(file, header)) {
            first.block(0, 500_000, 1_953_125, new short[4]);
        }
        try (SqliteRunWriter second = SqliteRunWriter.resume(file)) {
            second.session(90_000_000, 0, 91_000_000, "power");
            second.counter("lost-blocks", 3);
        }

        BrokenOff run = BrokenOff.read(file);

        assertThat(run.continuation().lastMicros()).isEqualTo(90_000_000);
        assertThat(run.continuation().counters()).containsEntry("lost-blocks", 3L);
    }
}
