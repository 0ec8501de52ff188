package org.shiftstand.history;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A shop floor: eight benches, one server, and a power cut in the server room. */
class EightBenchesTest {
    private static final int BENCHES = 8;
    private static final int RUNS = 30;

    static {
        Server.quiet();
    }

    @TempDir
    Path folder;

    private static byte[] result(int bench, int run) {
        // every fifth run of a pair of benches is the same one, judged on both
        String source = run % 5 == 0 ? "shared " + bench / 2 + " " + run : bench + " " + run;
        return MadeResults.result(
                source,
                "TD-" + source.replace(' ', '-'),
                "1.0",
                Instant.parse("2026-11-02T00:00:00Z").plusSeconds(60L * run),
                "pass",
                10,
                false);
    }

    /** Of 30 runs a bench, 6 are shared between two. */
    private static final int DISTINCT = BENCHES * 24 + BENCHES / 2 * 6;

    @Test
    void nothing_is_lost_and_nothing_counted_twice_when_the_server_is_killed_in_the_middle() throws Exception {
        try (Server server = Server.start(folder)) {
            AtomicInteger posted = new AtomicInteger();
            AtomicInteger waited = new AtomicInteger();
            CountDownLatch some = new CountDownLatch(BENCHES * 6);
            CountDownLatch killed = new CountDownLatch(1);
            ExecutorService benches = Executors.newFixedThreadPool(BENCHES);
            List<Future<?>> all = new ArrayList<>();
            for (int b = 0; b < BENCHES; b++) {
                int bench = b;
                HistoryQueue queue = new HistoryQueue(folder.resolve("queue-" + bench));
                all.add(benches.submit(() -> {
                    for (int run = 0; run < RUNS; run++) {
                        boolean there = queue.post(server.database(), result(bench, run), "bench " + bench, Map.of())
                                .posted();
                        (there ? posted : waited).incrementAndGet();
                        some.countDown();
                        if (run == RUNS / 2) {
                            killed.await();
                        }
                    }
                    return null;
                }));
            }
            some.await();
            server.kill();
            killed.countDown();
            for (Future<?> bench : all) {
                bench.get();
            }
            benches.shutdown();
            assertThat(posted.get()).isPositive();
            assertThat(waited.get()).isGreaterThanOrEqualTo(BENCHES * (RUNS / 2 - 1));

            server.startAgain();
            try (History history = History.open(server.database())) {
                for (int bench = 0; bench < BENCHES; bench++) {
                    new HistoryQueue(folder.resolve("queue-" + bench)).send(history);
                }
                assertThat(history.count(Filter.all())).isEqualTo(DISTINCT);
                for (int bench = 0; bench < BENCHES; bench++) {
                    assertThat(new HistoryQueue(folder.resolve("queue-" + bench)).waiting())
                            .isZero();
                }
            }
        }
    }

    @Test
    void a_result_that_is_sent_again_after_a_kill_between_commit_and_delete_counts_once() throws Exception {
        Database database = Database.of(folder.resolve("history.db").toString(), "", "");
        Database away = Database.of("jdbc:postgresql://localhost:1/nowhere", "", "");
        HistoryQueue queue = new HistoryQueue(folder.resolve("queue"));
        HistoryQueue.Posted posted = queue.post(away, result(0, 1), "here", Map.of());
        assertThat(posted.posted()).isFalse();
        assertThat(posted.why()).contains("it waits in");
        Path waiting;
        try (var files = Files.list(folder.resolve("queue"))) {
            waiting = files.filter(file -> file.toString().endsWith(".waiting"))
                    .findFirst()
                    .orElseThrow();
        }
        Path copy = Files.copy(waiting, folder.resolve("copy"));

        try (History history = History.open(database)) {
            assertThat(queue.send(history)).isEqualTo(1);
            Files.move(copy, waiting, StandardCopyOption.ATOMIC_MOVE);
            assertThat(queue.send(history)).isEqualTo(1);

            assertThat(history.count(Filter.all())).isEqualTo(1);
            assertThat(queue.waiting()).isZero();
        }
    }

    @Test
    void eight_benches_share_a_file_too() throws Exception {
        Database database = Database.of(folder.resolve("history.db").toString(), "", "");
        ExecutorService benches = Executors.newFixedThreadPool(BENCHES);
        List<Future<String>> all = new ArrayList<>();
        for (int b = 0; b < BENCHES; b++) {
            int bench = b;
            all.add(benches.submit(() -> {
                HistoryQueue queue = new HistoryQueue(folder.resolve("queue"));
                StringBuilder away = new StringBuilder();
                for (int run = 0; run < 10; run++) {
                    away.append(queue.post(database, result(bench, run), "bench", Map.of())
                            .why());
                }
                return away.toString();
            }));
        }
        for (Future<String> bench : all) {
            assertThat(bench.get()).isEmpty();
        }
        benches.shutdown();

        try (History history = History.open(database)) {
            assertThat(history.count(Filter.all())).isEqualTo(BENCHES * 8 + BENCHES / 2 * 2);
        }
    }
}
