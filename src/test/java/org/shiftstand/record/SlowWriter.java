package org.shiftstand.record;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.Semaphore;
import java.util.function.IntUnaryOperator;

/** Keeps a run in memory as a disk does that takes its time: each row waits for leave, or for so long, or fails. */
final class SlowWriter implements RunWriter {
    final List<String> rows = Collections.synchronizedList(new ArrayList<>());
    final Semaphore leave = new Semaphore(0);
    private final IntUnaryOperator delayMicros;
    private int row;
    int failsAtRow = -1;
    RuntimeException failure = new IllegalStateException("not set");

    /** Waits for {@link #leave}, a permit a row. */
    SlowWriter() {
        this(row -> -1);
    }

    /** @param delayMicros of a row; below 0 to wait for leave */
    SlowWriter(IntUnaryOperator delayMicros) {
        this.delayMicros = delayMicros;
    }

    private void write(String text) {
        int delay = delayMicros.applyAsInt(row);
        if (delay < 0) {
            leave.acquireUninterruptibly();
        } else if (delay > 0) {
            java.util.concurrent.locks.LockSupport.parkNanos(delay * 1000L);
        }
        if (row++ == failsAtRow) {
            throw failure;
        }
        rows.add(text);
    }

    @Override
    public void session(long atMicros, long offsetMicros, long utcMicros, String cause) {
        write("session " + atMicros + " " + offsetMicros + " " + cause);
    }

    @Override
    public void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples) {
        write("block " + blockNumber + " " + firstMicros + " " + samples.length / 4 + " " + samples[0]);
    }

    @Override
    public void event(RunEvent event) {
        write("event " + event.kind());
    }

    @Override
    public void gap(long fromMicros, long toMicros, long samples, String cause) {
        write("gap " + fromMicros + " " + toMicros + " " + samples + " " + cause);
    }

    @Override
    public void anchor(long rigMicros, long utcMicros) {
        write("anchor " + rigMicros);
    }

    @Override
    public void place(int action, long atMicros) {
        write("place " + action);
    }

    @Override
    public void counter(String name, long value) {
        write("counter " + name + " " + value);
    }

    @Override
    public void finish(String end) {
        rows.add("finish " + end);
    }

    @Override
    public void close() {
        rows.add("closed");
    }
}
