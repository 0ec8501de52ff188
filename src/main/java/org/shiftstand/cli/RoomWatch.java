package org.shiftstand.cli;

import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.DoubleSupplier;
import org.jspecify.annotations.Nullable;

/**
 * Looks at the room on the disk while a run goes on, on a thread of its own: asking a slow disk must not hold up the run. Warns
 * once, and wants the run to stop before the disk is full.
 */
final class RoomWatch implements BooleanSupplier, AutoCloseable {
    private final Room room;
    private final DoubleSupplier left;
    private final Consumer<String> warn;
    private final Thread thread;
    private volatile @Nullable String full;
    private boolean warned;

    /**
     * Begins to look.
     *
     * @param everyMs how often
     * @param left share of the run that is still to come, 0 to 1; asked on the thread of this watch
     * @param warn is told once that room gets short, and that it is out; on the thread of this watch
     */
    RoomWatch(Room room, long everyMs, DoubleSupplier left, Consumer<String> warn) {
        this.room = room;
        this.left = left;
        this.warn = warn;
        thread = new Thread(() -> watch(everyMs), "room-watch");
        thread.setDaemon(true);
        thread.start();
    }

    /** Whether the run should stop. */
    @Override
    public boolean getAsBoolean() {
        return full != null;
    }

    /** Why the run should stop, where it should. */
    Optional<String> reason() {
        return Optional.ofNullable(full);
    }

    private void watch(long everyMs) {
        try {
            while (full == null) {
                Thread.sleep(everyMs); // first of all: before the run begins its whole need was looked at
                look();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt(); // the run is over
        }
    }

    private void look() {
        Room.Finding finding = room.look(left.getAsDouble());
        if (finding instanceof Room.Finding.Full f) {
            full = f.text();
            warn.accept(f.text());
        } else if (finding instanceof Room.Finding.Short s && !warned) {
            warned = true;
            warn.accept(s.text());
        }
    }

    @Override
    public void close() {
        thread.interrupt();
    }
}
