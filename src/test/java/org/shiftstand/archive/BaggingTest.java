package org.shiftstand.archive;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Bags written by a program of its own: killed in the midst of it, and in a small heap. */
@Timeout(120)
class BaggingTest {
    private static final List<String> SMALL = List.of("-Xmx96m", "-XX:+UseSerialGC");
    private static final long SENT = 40 << 20;

    @TempDir
    Path dir;

    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void killed_midway_it_leaves_nothing_half_written_under_the_final_name(String name) throws Exception {
        killMidway(name);

        assertThat(dir.resolve(name)).doesNotExist();
        assertThat(Bags.namesIn(dir)).singleElement().asString().startsWith(".partial-");
        Bags.write(dir.resolve(name)); // and what was left is in nobody's way
        assertThat(Bags.findings(dir.resolve(name))).isEmpty();
    }

    @Test
    void killed_while_it_replaces_a_bag_it_leaves_the_one_before() throws Exception {
        BagDigest before = Bags.write(dir.resolve("bag.zip"));

        killMidway("bag.zip");

        assertThat(Bags.check(dir.resolve("bag.zip")).digest()).isEqualTo(before.text());
        assertThat(Bags.findings(dir.resolve("bag.zip"))).isEmpty();
    }

    /** SIGKILL once a part of the payload is on the disk; the rest of it never comes. */
    private void killMidway(String name) throws IOException, InterruptedException {
        Process process = Bagging.start(
                SMALL, "1000000000", Long.toString(SENT), dir.resolve(name).toString());
        try {
            await().atMost(Duration.ofSeconds(30)).until(() -> partial() > 100_000);
        } finally {
            process.destroyForcibly();
            process.waitFor(10, TimeUnit.SECONDS);
        }
    }

    /** Bytes that lie under hidden names. */
    private long partial() throws IOException {
        long octets = 0;
        for (String name : Bags.namesIn(dir)) {
            if (name.startsWith(".partial-")) {
                try (Stream<Path> files = Files.walk(dir.resolve(name))) {
                    octets += files.filter(Files::isRegularFile)
                            .mapToLong(BaggingTest::size)
                            .sum();
                }
            }
        }
        return octets;
    }

    private static long size(Path file) {
        try {
            return Files.size(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void a_file_larger_than_the_heap_fits_through_it_in_every_form() throws Exception {
        String octets = Long.toString(112L << 20);

        Process process = Bagging.start(
                SMALL,
                octets,
                octets,
                dir.resolve("bag").toString(),
                dir.resolve("bag.tar.gz").toString(),
                dir.resolve("bag.zip").toString());

        assertThat(process.waitFor(100, TimeUnit.SECONDS)).isTrue();
        assertThat(process.exitValue()).isZero();
        assertThat(Bags.check(dir.resolve("bag")).octets()).isEqualTo(112L << 20);
        assertThat(Bags.findings(dir.resolve("bag"))).isEmpty();
    }
}
