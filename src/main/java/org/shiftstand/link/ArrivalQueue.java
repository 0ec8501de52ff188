package org.shiftstand.link;

import java.util.ArrayDeque;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;

/**
 * Arrivals from the thread that reads a port to the one that uses it: bounded, and never a reason to wait for the reader.
 *
 * <p>Once {@link #MOST_BLOCKS} wait, sample blocks and damage are dropped until a quarter of the room is free again; all
 * other frames (answers, events, faults) have {@link #ROOM_FOR_OTHERS} places more. What is dropped is counted, and told by
 * one {@link Arrival.Dropped} in its place. Memory: about 5 MB at most. Thread-safe.
 */
final class ArrivalQueue {
    /** 127 s of 4 channels at 4 kHz in blocks of 124 samples. */
    static final int MOST_BLOCKS = 4096;

    static final int ROOM_FOR_OTHERS = 512;

    private static final int FREE_AGAIN = MOST_BLOCKS * 3 / 4;

    private final ReentrantLock lock = new ReentrantLock();
    private final Condition some = lock.newCondition();
    private final ArrayDeque<Arrival> waiting = new ArrayDeque<>();
    private boolean dropping;
    private int dropped; // behind all that wait

    /** Takes or drops an arrival, at once. */
    void put(Arrival arrival) {
        lock.lock();
        try {
            if (dropping && waiting.size() <= FREE_AGAIN) {
                dropping = false;
            } else if (waiting.size() >= MOST_BLOCKS) {
                dropping = true;
            }
            boolean room = droppable(arrival) ? !dropping : waiting.size() < MOST_BLOCKS + ROOM_FOR_OTHERS;
            if (room) {
                tellDropped();
                waiting.add(arrival);
            } else {
                dropped++;
            }
            some.signal();
        } finally {
            lock.unlock();
        }
    }

    private static boolean droppable(Arrival arrival) {
        return !(arrival instanceof Arrival.Received r) || r.frame().type() == MessageCodec.SAMPLES;
    }

    private void tellDropped() {
        if (dropped > 0) {
            waiting.add(new Arrival.Dropped(dropped));
            dropped = 0;
        }
    }

    /** The next arrival; null where none came within so long. */
    @Nullable
    Arrival poll(long micros) throws InterruptedException {
        long left = TimeUnit.MICROSECONDS.toNanos(micros);
        lock.lock();
        try {
            while (waiting.isEmpty() && dropped == 0 && left > 0) {
                left = some.awaitNanos(left);
            }
            if (waiting.isEmpty()) {
                tellDropped();
            }
            return waiting.poll();
        } finally {
            lock.unlock();
        }
    }

    boolean isEmpty() {
        lock.lock();
        try {
            return waiting.isEmpty() && dropped == 0;
        } finally {
            lock.unlock();
        }
    }
}
