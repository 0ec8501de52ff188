package org.shiftstand.faults;

import java.time.Duration;
import java.util.function.BooleanSupplier;

/** Waiting for the real world. */
final class Wait {
    private Wait() {}

    /** Looks each millisecond; whether it came in time. */
    static boolean until(Duration longest, BooleanSupplier it) {
        long end = System.nanoTime() + longest.toNanos();
        while (!it.getAsBoolean()) {
            if (System.nanoTime() > end) {
                return false;
            }
            pause(Duration.ofMillis(1));
        }
        return true;
    }

    static void pause(Duration time) {
        try {
            Thread.sleep(time.toMillis(), time.toNanosPart() % 1_000_000);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted while waiting", e);
        }
    }
}
