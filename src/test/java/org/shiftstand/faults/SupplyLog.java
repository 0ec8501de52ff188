package org.shiftstand.faults;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What {@code rig simulate --supply-log} wrote: every change of the supply, on the rig's clock and on the monotonic clock
 * that all processes of a Linux machine share, which is that of {@link System#nanoTime}.
 */
record SupplyLog(Path file) {
    private static final int FIELDS = 6;

    /**
     * One change.
     *
     * @param milliVolts 0 for off
     * @param sinceBeatMicros since the last heartbeat that the rig heard
     */
    record Change(long rigMicros, long nanos, int milliVolts, String cause, long sinceBeatMicros) {
        /** The rig's clock at another instant, as far as it runs like this machine's. */
        long rigMicrosAt(long otherNanos) {
            return rigMicros + (otherNanos - nanos) / 1000;
        }
    }

    List<Change> changes() {
        List<Change> changes = new ArrayList<>();
        try {
            if (Files.exists(file)) {
                List<String> names = List.of();
                for (String line : Files.readAllLines(file)) {
                    List<String> fields = List.of(line.split(",", -1));
                    if (names.isEmpty()) {
                        names = fields;
                    } else if (fields.size() == FIELDS) { // else it is being written
                        changes.add(new Change(
                                Long.parseLong(fields.get(names.indexOf("rig_us"))),
                                Long.parseLong(fields.get(names.indexOf("monotonic_ns"))),
                                Integer.parseInt(fields.get(names.indexOf("millivolts"))),
                                fields.get(names.indexOf("cause")),
                                Long.parseLong(fields.get(names.indexOf("since_heartbeat_us")))));
                    }
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return changes;
    }

    /** Whether the supply is on, as far as the log goes. */
    boolean on() {
        List<Change> changes = changes();
        return !changes.isEmpty() && changes.get(changes.size() - 1).milliVolts() > 0;
    }

    /** Whether it was on at an instant. */
    boolean onAt(long nanos) {
        boolean on = false;
        for (Change change : changes()) {
            if (change.nanos() <= nanos) {
                on = change.milliVolts() > 0;
            }
        }
        return on;
    }

    /** The first switching off at or after an instant. */
    Optional<Change> offAfter(long nanos) {
        return changes().stream()
                .filter(change -> change.milliVolts() == 0 && change.nanos() >= nanos)
                .findFirst();
    }

    /** Waits for it; a supply that stays on is what no fault may lead to. */
    Change awaitOffAfter(long nanos, Duration longest) {
        Wait.until(longest, () -> offAfter(nanos).isPresent());
        return offAfter(nanos)
                .orElseThrow(() -> new AssertionError(
                        "the supply was still on " + longest.toSeconds() + " s after the fault: " + changes()));
    }
}
