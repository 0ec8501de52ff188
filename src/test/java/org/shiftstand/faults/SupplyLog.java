package org.shiftstand.faults;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What {@code rig simulate --supply-log} wrote: every change of the supply, on the rig's clock and in UTC. */
record SupplyLog(Path file) {
    /** One change; off where {@code milliVolts} is 0. */
    record Change(long utcMicros, long rigMicros, int milliVolts, String cause) {}

    List<Change> changes() {
        List<Change> changes = new ArrayList<>();
        try {
            if (Files.exists(file)) {
                List<String> lines = Files.readAllLines(file);
                for (String line : lines.subList(Math.min(1, lines.size()), lines.size())) {
                    String[] fields = line.split(",", 4);
                    if (fields.length == 4) { // else it is being written
                        changes.add(new Change(
                                Long.parseLong(fields[0]),
                                Long.parseLong(fields[1]),
                                Integer.parseInt(fields[2]),
                                fields[3]));
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

    /** The first switching off at or after an instant. */
    Optional<Change> offAfter(long utcMicros) {
        return changes().stream()
                .filter(change -> change.milliVolts() == 0 && change.utcMicros() >= utcMicros)
                .findFirst();
    }
}
