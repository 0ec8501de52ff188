package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunRecord;

/**
 * Whatever becomes of the host, the supply goes off: proved by the log of a rig in a process that outlives it. Where the
 * host lives it cuts itself; where it does not, the rig's watchdog cuts 1 s after the last heartbeat.
 */
enum SupplyOff {
    KILLED("SIGKILL of the host", false),
    TERMINATED("SIGTERM", true),
    INTERRUPTED("Ctrl-C", true),
    INTERRUPTED_TWICE("Ctrl-C, and another right after it", true),
    STOPPED("SIGSTOP of the host for 5 s", false),
    CRASHED("crash of the Java machine (SIGSEGV)", false),
    HUNG("runner hangs, its process lives", false),
    UNPLUGGED("line unplugged", true);

    /** rig/WIRE.md, section 6: supply off after the last heartbeat. */
    private static final long WATCHDOG_MICROS = 1_000_000;

    /** Of this machine under load: when a signal is seen, when a thread runs again. */
    private static final double TOLERANCE_S = 0.25;

    private static final Duration LONGEST = Duration.ofSeconds(6);
    private static final Duration ENDS = Duration.ofSeconds(90);
    private static final double LATEST_S = 8;

    final String words;
    private final boolean atOnce;

    SupplyOff(String words, boolean atOnce) {
        this.words = words;
        this.atOnce = atOnce;
    }

    Seen run(long seed, Path folder) throws Exception {
        Random random = new Random(seed);
        double after = random.nextDouble() * LATEST_S;
        // the line breaks by the rig's own clock, which starts with it: some seconds for the host to start
        String options = "seed=" + seed + (this == UNPLUGGED ? ",unplug-at=" + (5 + after) : "");
        String[] java = this == HUNG
                ? Hang.OPTIONS
                : new String[] {"-XX:-CreateCoredumpOnCrash", "-XX:ErrorFile=" + folder.resolve("crash.log")};
        try (Rig rig = Rig.start(folder, "rig", options);
                Check check = Check.start(folder, "check", rig.address(), "TD-" + seed, Check.SHORT, java)) {
            Left left = check.left();
            if (this == UNPLUGGED) {
                return unplugged(rig, check, left);
            }
            Wait.pause(Duration.ofNanos((long) (after * 1e9)));
            Wait.until(LONGEST, () -> rig.log().on());
            boolean on = rig.log().on();
            long at = inflict(check, random);
            SupplyLog.Change off = rig.log().awaitOffAfter(at, LONGEST);
            double tookS = (off.nanos() - at) / 1e9;
            assertThat(on).as("the supply was on before").isTrue();
            assertThat(tookS).as("seconds to supply off: %s", off).isLessThan((atOnce ? 0.3 : 1) + TOLERANCE_S);
            assertThat(off.sinceBeatMicros())
                    .as("µs without a heartbeat")
                    .isLessThanOrEqualTo(WATCHDOG_MICROS + 20_000);
            if (!atOnce) {
                assertThat(off.cause()).isEqualTo("watchdog");
            }
            ended(check, left, off);
            assertThat(rig.log().on()).as("the supply, once all is over").isFalse();
            return Seen.survived().withSupplyOff(tookS);
        }
    }

    /** Does it; {@link System#nanoTime} when it was done. */
    private long inflict(Check check, Random random) throws Exception {
        if (this == HUNG) {
            return Hang.hang(check.child(), Duration.ofSeconds(3));
        }
        long at = System.nanoTime();
        switch (this) {
            case KILLED -> check.child().kill();
            case TERMINATED -> check.child().signal("TERM");
            case INTERRUPTED -> check.child().signal("INT");
            case INTERRUPTED_TWICE -> {
                check.child().signal("INT");
                Wait.pause(Duration.ofMillis(random.nextInt(30)));
                if (check.child().alive()) {
                    check.child().signal("INT");
                }
            }
            case STOPPED -> {
                check.child().signal("STOP");
                Wait.pause(Duration.ofSeconds(5));
                check.child().signal("CONT");
            }
            case CRASHED -> check.child().signal("SEGV");
            case HUNG, UNPLUGGED -> {} // above; by the rig's option
        }
        return at;
    }

    /** What the program itself says and leaves. */
    private void ended(Check check, Left left, SupplyLog.Change off) {
        switch (this) {
            case KILLED -> {}
            case CRASHED -> check.child().exit(ENDS);
            case TERMINATED -> check.ended(ENDS, 143);
            case INTERRUPTED, INTERRUPTED_TWICE -> check.ended(ENDS, 130);
            default -> check.ended(ENDS, 4);
        }
        Optional<String> end;
        try (RunRecord record = RunRecord.open(left.file())) {
            end = record.end();
            assertThat(record.samples() >= 0).isTrue();
        }
        switch (this) {
            case KILLED, CRASHED ->
                assertThat(end).as("a record that nobody finished").isEmpty();
            case TERMINATED, INTERRUPTED, INTERRUPTED_TWICE -> {
                assertThat(end).contains("stopped by the user");
                assertThat(off.cause()).isEqualTo("cut");
            }
            default -> assertThat(end.orElse("")).as(check.child().said()).isNotEmpty();
        }
    }

    private static Seen unplugged(Rig rig, Check check, Left left) {
        SupplyLog.Change off = rig.log().awaitOffAfter(0, Duration.ofSeconds(60));
        assertThat(off.cause()).isEqualTo("port-lost");
        check.ended(ENDS, 4);
        try (RunRecord record = RunRecord.open(left.file())) {
            assertThat(record.end().orElse("")).startsWith("link lost");
            List<RunEvent> ends =
                    record.events().stream().filter(e -> e.kind().equals("end")).toList();
            assertThat(ends).hasSize(1);
            double noticedS = (ends.get(0).atMicros() - off.rigMicros()) / 1e6;
            assertThat(noticedS).as("seconds until the host knew").isLessThan(1 + TOLERANCE_S);
            return Seen.survived().withNoticed(noticedS); // the simulated rig is told of the loss: no time to state
        }
    }
}
