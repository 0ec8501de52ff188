package org.shiftstand.cli;

import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunWriter;

/** A writer that tells somebody who reads the record meanwhile to let go of it before it is closed. */
class WatchedWriter implements RunWriter {
    private final RunWriter writer;
    private final Runnable letGo;

    WatchedWriter(RunWriter writer, Runnable letGo) {
        this.writer = writer;
        this.letGo = letGo;
    }

    @Override
    public void session(long atMicros, long offsetMicros, long utcMicros, String cause) {
        writer.session(atMicros, offsetMicros, utcMicros, cause);
    }

    @Override
    public void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples) {
        writer.block(blockNumber, firstMicros, intervalNanos, samples);
    }

    @Override
    public void event(RunEvent event) {
        writer.event(event);
    }

    @Override
    public void gap(long fromMicros, long toMicros, long samples, String cause) {
        writer.gap(fromMicros, toMicros, samples, cause);
    }

    @Override
    public void anchor(long rigMicros, long utcMicros) {
        writer.anchor(rigMicros, utcMicros);
    }

    @Override
    public void place(int action, long atMicros) {
        writer.place(action, atMicros);
    }

    @Override
    public void counter(String name, long value) {
        writer.counter(name, value);
    }

    @Override
    public void finish(String end) {
        letGo.run();
        writer.finish(end);
    }

    @Override
    public void close() {
        letGo.run();
        writer.close();
    }
}
