package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.Locale;
import org.shiftstand.record.RunRecord;

/** 4 kHz over four channels on a real pseudo-terminal: nothing lost, on half a core and 256 MiB. */
final class FastLine {
    private static final int RATE_HZ = 4000;
    private static final double MOST_CORES = 0.5;
    private static final double MOST_MIB = 256;
    private static final double STARTED_S = 5; // until then the Java machine compiles what it starts with

    private FastLine() {}

    /** @param seconds how long to sample */
    static Seen run(long seed, Path folder, int seconds) throws Exception {
        String procedure = """
                procedure: fast
                version: 1
                sample-rate: 4000 Hz
                steps:
                  - supply: 8.2 V
                  - home: {}
                  - sweep: { from: 1, to: last, and-back: true, times: 1000, rest: 350 ms }
                """;
        try (Rig rig = Rig.start(folder, "rig", "seed=" + seed);
                Check check = Check.start(folder, "check", rig.address(), "TD-" + seed, procedure, Child.LONG_RUN)) {
            Left left = check.left();
            Wait.pause(Duration.ofNanos((long) (STARTED_S * 1e9)));
            Used before = Used.by(check.child().pid());
            Wait.pause(Duration.ofSeconds(seconds));
            Used after = Used.by(check.child().pid());
            check.child().signal("INT");
            check.ended(Duration.ofSeconds(180), 130);
            long samples;
            long lost;
            try (RunRecord record = RunRecord.open(left.file())) {
                samples = record.samples();
                lost = record.gaps().stream().mapToLong(gap -> gap.samples()).sum();
                assertThat(record.gaps()).isEmpty();
                assertThat(record.counters())
                        .containsEntry("damaged-frames", 0L)
                        .containsEntry("lost-blocks", 0L);
                assertThat(record.intervalS()).isEqualTo(1.0 / RATE_HZ);
            }
            assertThat(samples).isGreaterThan((long) seconds * RATE_HZ);
            double cores = after.coresSince(before);
            assertThat(cores).as("cores").isLessThan(MOST_CORES);
            assertThat(after.residentMiB()).as("MiB resident").isLessThan(MOST_MIB);
            return Seen.survived()
                    .withLost(lost, 0)
                    .withRemark(String.format(
                            Locale.ROOT,
                            "%d samples in %d s; %.3f of a core, at most %.0f MiB resident",
                            samples,
                            seconds,
                            cores,
                            after.residentMiB()));
        }
    }
}
