package org.shiftstand.faults;

import java.nio.file.Path;
import java.util.concurrent.atomic.AtomicLong;

/**
 * Tells whether this machine itself stood still: a shared one may stop all its processes for a second, in which no rig can
 * speak and no host can listen. A trial in real time that fails then has shown nothing, and is made again.
 */
final class StoodStill {
    /** Half of what host and rig allow each other. */
    private static final long TOO_LONG_NANOS = 500_000_000;

    private static final int TRIES = 4;

    private static final AtomicLong LAST = new AtomicLong(Long.MIN_VALUE);

    static {
        Thread watch = new Thread(StoodStill::watch, "machine stood still?");
        watch.setDaemon(true);
        watch.setPriority(Thread.MAX_PRIORITY);
        watch.start();
    }

    private StoodStill() {}

    private static void watch() {
        long before = System.nanoTime();
        while (!Thread.currentThread().isInterrupted()) {
            Wait.pause(java.time.Duration.ofMillis(10));
            long now = System.nanoTime();
            if (now - before > TOO_LONG_NANOS) {
                LAST.set(now);
            }
            before = now;
        }
    }

    private static boolean since(long nanos) {
        long last = LAST.get();
        return last != Long.MIN_VALUE && last - nanos > 0;
    }

    /** The same trial, made again where it fails in a time in which the machine stood still; the remark says how often. */
    static Trial madeAgain(Trial trial) {
        return (seed, folder) -> {
            for (int i = 1; ; i++) {
                long start = System.nanoTime();
                Path own = folder.resolve("try-" + i);
                try {
                    java.nio.file.Files.createDirectories(own);
                    Seen seen = trial.run(seed, own);
                    return i == 1
                            ? seen
                            : seen.withRemark("made again, since the machine stood still"
                                    + (seen.remark().isEmpty() ? "" : ": " + seen.remark()));
                } catch (AssertionError e) {
                    if (i == TRIES || !since(start)) {
                        throw e;
                    }
                    System.err.println("seed " + seed + " is made again, since the machine stood still: "
                            + String.valueOf(e.getMessage())
                                    .lines()
                                    .filter(line -> line.contains("ended early"))
                                    .findFirst()
                                    .orElse("no run that ended early"));
                }
            }
        };
    }
}
