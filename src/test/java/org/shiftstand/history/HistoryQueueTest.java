package org.shiftstand.history;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** What waits for a history, with names that are to be forgotten and what killed programs left. */
@Timeout(60)
class HistoryQueueTest {
    private static final String DIGEST = "sha256:" + "1".repeat(64);
    private static final String OTHER = "sha256:" + "2".repeat(64);

    @TempDir
    Path folder;

    private HistoryQueue queue() {
        return new HistoryQueue(folder.resolve("queue"));
    }

    /** A file that is a folder: nothing can be opened there. */
    private Database away() {
        return Database.of(folder.toString(), "", "");
    }

    private Database here() {
        return Database.of(folder.resolve("history.db").toString(), "", "");
    }

    private static byte[] result(int number) {
        return MadeResults.result(
                "source " + number, "TD-" + number, "1.0", Instant.parse("2026-11-02T00:00:00Z"), "pass", 10, false);
    }

    private List<Path> waiting() throws IOException {
        try (Stream<Path> files = Files.list(folder.resolve("queue"))) {
            return files.filter(file -> file.toString().endsWith(".waiting")).toList();
        }
    }

    @Test
    void a_forgotten_name_is_taken_out_of_what_waits_and_the_rest_is_kept() throws Exception {
        queue().post(away(), result(1), "here", Map.of(DIGEST, "R. Fell", OTHER, "H. Moss"));

        queue().forget(List.of(DIGEST));

        assertThat(Files.readString(waiting().get(0), StandardCharsets.UTF_8))
                .doesNotContain("R. Fell")
                .contains("H. Moss");
        try (History history = History.open(here())) {
            assertThat(queue().send(history)).isEqualTo(1);
            assertThat(history.names()).containsOnlyKeys(OTHER);
        }
    }

    /** What one program has just sent, another one is about to look into. */
    @Test
    void forgetting_while_another_program_sends_fails_nowhere_and_brings_nothing_back() throws Exception {
        int runs = 200;
        for (int i = 0; i < runs; i++) {
            queue().post(away(), result(i), "here", Map.of(DIGEST, "R. Fell"));
        }
        ExecutorService pool = Executors.newSingleThreadExecutor();
        Future<Integer> sent = pool.submit(() -> {
            try (History history = History.open(here())) {
                return queue().send(history);
            }
        });
        int rounds = 0;
        for (; !sent.isDone(); rounds++) {
            queue().forget(List.of(rounds % 2 == 0 ? DIGEST : OTHER));
        }

        assertThat(sent.get()).isEqualTo(runs);
        assertThat(rounds).isPositive();
        pool.shutdown();
        assertThat(waiting()).isEmpty();
        try (History history = History.open(here())) {
            assertThat(history.count(Filter.all())).isEqualTo(runs);
        }
    }

    @Test
    void a_file_that_is_no_result_keeps_no_name_from_being_forgotten() throws Exception {
        queue().post(away(), result(1), "here", Map.of(DIGEST, "R. Fell"));
        Files.writeString(folder.resolve("queue/0.waiting"), "no JSON with " + DIGEST + "\n");
        Files.writeString(folder.resolve("queue/1.waiting"), "{\"names\":{\"" + DIGEST + "\":\"R. Fell\"}}\n{}");

        queue().forget(List.of(DIGEST));

        assertThat(waiting()).hasSize(3);
        Path result = waiting().stream()
                .filter(file -> file.getFileName().toString().length() > 20)
                .findFirst()
                .orElseThrow();
        assertThat(result).content().doesNotContain("R. Fell");
    }

    @Test
    void what_a_killed_program_left_half_written_is_swept_at_the_next_start() throws Exception {
        queue().post(away(), result(1), "here", Map.of());
        Path left = Files.writeString(folder.resolve("queue/.partial-123"), "half");

        assertThat(queue().waiting()).isEqualTo(1);

        assertThat(left).doesNotExist();
        assertThat(waiting()).hasSize(1);
    }

    @Test
    void what_is_being_written_now_is_not_swept() throws Exception {
        for (int i = 0; i < 50; i++) {
            queue().post(away(), result(i), "here", Map.of());
        }
        AtomicBoolean over = new AtomicBoolean();
        ExecutorService pool = Executors.newSingleThreadExecutor();
        Future<Integer> looks = pool.submit(() -> {
            int n = 0;
            for (; !over.get(); n++) {
                queue().waiting();
            }
            return n;
        });

        for (int i = 50; i < 100; i++) {
            queue().post(away(), result(i), "here", Map.of()); // throws where its half-written file is gone
        }
        over.set(true);

        assertThat(looks.get()).isPositive();
        pool.shutdown();
        assertThat(queue().waiting()).isEqualTo(100);
    }
}
