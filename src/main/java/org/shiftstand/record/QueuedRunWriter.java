package org.shiftstand.record;

import java.io.UncheckedIOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/**
 * Keeps a slow disk away from whoever talks to the rig: rows wait in memory and are written by a thread of their own, in their
 * order, as many in one commit as wait.
 *
 * <p>No call but {@link #finish} and {@link #close} waits for the disk. At most 16 MiB wait (half an hour at 512 Hz, some
 * minutes at 4 kHz). Where there is no room, whole blocks are dropped until half of it is free again; one gap row, cause
 * {@code host buffer full}, says how many samples that were. Everything else is kept, however long the disk takes.
 *
 * <p>What goes wrong below is thrown by the next call, and by each after it. From then on blocks are dropped, with a gap row,
 * and all other rows still tried. Used by one thread; {@link #waiting} and {@link #droppedSamples} by any.
 */
public final class QueuedRunWriter implements RunWriter {
    /** Bytes that may wait. */
    public static final long MOST_BYTES = 16L << 20;

    /** Bytes and rows of one commit: small beside the room that is kept for the end of a run. */
    private static final long GROUP_BYTES = 256 << 10;

    private static final int GROUP_ROWS = 512;
    private static final int ROW_BYTES = 128; // of a row beside its values, as much as such things take in memory

    private final RunWriter below;
    private final long most;
    private final Thread thread;
    private final Object lock = new Object();

    // Of the writing thread alone: what could not be written, and is not told yet.
    private @Nullable Dropped lost;

    // All below are guarded by the lock.
    private final ArrayDeque<Row> queue = new ArrayDeque<>();
    private long bytes; // of the queue and of what is being written
    private int writing;
    private boolean dropping;
    private @Nullable Dropped dropped; // in the queue, may still grow
    private long droppedSamples;
    private @Nullable Throwable failure;
    private boolean told;
    private boolean ending;

    /** What waits for the disk. */
    public record Waiting(int rows, long bytes) {}

    /** @param below written to by a thread of this one, and by nobody else from now on; closed with this one */
    public QueuedRunWriter(RunWriter below) {
        this(below, MOST_BYTES);
    }

    QueuedRunWriter(RunWriter below, long mostBytes) {
        this.below = below;
        most = mostBytes;
        thread = new Thread(this::writeAll, "record writer");
        thread.setDaemon(true); // a hung disk must not keep the program from ending
        thread.start();
    }

    /** Something that waits; written in the order of arrival. */
    private sealed interface Row {
        long bytes();

        void write(RunWriter to);
    }

    private record Block(long number, long firstMicros, long intervalNanos, short[] samples) implements Row {
        @Override
        public long bytes() {
            return ROW_BYTES + samples.length * (long) Short.BYTES;
        }

        @Override
        public void write(RunWriter to) {
            to.block(number, firstMicros, intervalNanos, samples);
        }
    }

    private record Begun(Session session) implements Row {
        @Override
        public long bytes() {
            return ROW_BYTES + 2L * session.cause().length();
        }

        @Override
        public void write(RunWriter to) {
            to.session(session.atMicros(), session.offsetMicros(), session.utcMicros(), session.cause());
        }
    }

    private record Other(long bytes, Consumer<RunWriter> row) implements Row {
        @Override
        public void write(RunWriter to) {
            row.accept(to);
        }
    }

    /** Blocks that were dropped, one after another. */
    private static final class Dropped implements Row {
        private final String cause;
        private final long fromMicros;
        private long toMicros;
        private long samples;

        Dropped(Block first, String cause) {
            this.cause = cause;
            fromMicros = first.firstMicros - first.intervalNanos / 1000;
        }

        void add(Block block) {
            long n = block.samples.length / 4;
            toMicros = block.firstMicros + n * block.intervalNanos / 1000;
            samples += n;
        }

        @Override
        public long bytes() {
            return ROW_BYTES;
        }

        @Override
        public void write(RunWriter to) {
            to.gap(fromMicros, toMicros, samples, cause);
        }
    }

    @Override
    public void session(long atMicros, long offsetMicros, long utcMicros, String cause) {
        synchronized (lock) {
            dropped = null; // no gap spans a break
            put(new Begun(new Session(0, atMicros, offsetMicros, utcMicros, cause)));
        }
    }

    @Override
    public void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples) {
        Block block = new Block(blockNumber, firstMicros, intervalNanos, samples.clone());
        synchronized (lock) {
            if (failure != null) {
                drop(block, "could not be written");
                throwFailure();
            }
            if (bytes + block.bytes() > (dropping ? most / 2 : most)) {
                dropping = true;
                drop(block, "host buffer full");
                return;
            }
            dropping = false;
            dropped = null;
            put(block);
        }
    }

    @Override
    public void event(RunEvent event) {
        put(new Other(
                ROW_BYTES
                        + 2L
                                * (event.kind().length()
                                        + event.step().length()
                                        + event.text().length()),
                to -> to.event(event)));
    }

    @Override
    public void gap(long fromMicros, long toMicros, long samples, String cause) {
        put(new Other(ROW_BYTES + 2L * cause.length(), to -> to.gap(fromMicros, toMicros, samples, cause)));
    }

    @Override
    public void anchor(long rigMicros, long utcMicros) {
        put(new Other(ROW_BYTES, to -> to.anchor(rigMicros, utcMicros)));
    }

    @Override
    public void place(int action, long atMicros) {
        put(new Other(ROW_BYTES, to -> to.place(action, atMicros)));
    }

    @Override
    public void counter(String name, long value) {
        put(new Other(ROW_BYTES + 2L * name.length(), to -> to.counter(name, value)));
    }

    /** What waits for the disk now, or is being written. */
    public Waiting waiting() {
        synchronized (lock) {
            return new Waiting(queue.size() + writing, bytes);
        }
    }

    /** How many samples were dropped so far, for want of room here or below. */
    public long droppedSamples() {
        synchronized (lock) {
            return droppedSamples;
        }
    }

    /**
     * {@inheritDoc}
     *
     * <p>Waits until everything is written. Where that failed and no call has thrown it yet, the record ends with that as well,
     * and then it is thrown.
     */
    @Override
    public void finish(String end) {
        drain();
        Throwable untold = untold();
        if (untold == null) {
            below.finish(end);
            return;
        }
        try {
            below.finish((end.isEmpty() ? "" : end + "; ") + "the record could not be written: " + untold.getMessage());
        } catch (RuntimeException | Error second) {
            untold.addSuppressed(second);
        }
        throw thrown(untold);
    }

    /** {@inheritDoc} Waits until everything is written. */
    @Override
    public void close() {
        drain();
        Throwable untold = untold();
        try {
            below.close();
        } catch (RuntimeException | Error e) {
            if (untold == null) {
                throw e;
            }
            untold.addSuppressed(e);
        }
        if (untold != null) {
            throw thrown(untold);
        }
    }

    private void put(Row row) {
        synchronized (lock) {
            if (ending) {
                throw new IllegalStateException("the record is closed");
            }
            queue.add(row);
            bytes += row.bytes();
            lock.notifyAll();
            if (failure != null) {
                throwFailure();
            }
        }
    }

    /** With the lock. */
    private void drop(Block block, String cause) {
        if (dropped == null || !dropped.cause.equals(cause)) {
            Dropped begun = new Dropped(block, cause);
            begun.add(block); // before it can be written
            dropped = begun;
            queue.add(begun);
            bytes += begun.bytes();
            lock.notifyAll();
        } else {
            dropped.add(block);
        }
        droppedSamples += block.samples.length / 4;
    }

    /** With the lock. */
    private void throwFailure() {
        told = true;
        throw thrown(java.util.Objects.requireNonNull(failure));
    }

    private static RuntimeException thrown(Throwable failure) {
        if (failure instanceof Error error) {
            throw error;
        }
        if (failure instanceof UncheckedIOException io) {
            return io;
        }
        return failure instanceof RuntimeException unchecked ? unchecked : new IllegalStateException(failure);
    }

    private @Nullable Throwable untold() {
        synchronized (lock) {
            Throwable untold = told ? null : failure;
            told = true;
            return untold;
        }
    }

    private void drain() {
        synchronized (lock) {
            ending = true;
            lock.notifyAll();
        }
        boolean interrupted = false;
        while (true) {
            try {
                thread.join();
                break;
            } catch (InterruptedException e) {
                interrupted = true; // whoever ends a run is often interrupted; the record must be whole all the same
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    /** What the thread does. */
    private void writeAll() {
        for (List<Row> group = next(); !group.isEmpty(); group = next()) {
            int[] done = {0};
            List<Row> rows = group;
            Runnable write = () -> {
                for (Row row : rows) {
                    row.write(below);
                    done[0]++;
                }
            };
            try {
                if (failed()) {
                    one(group, 0);
                } else if (below instanceof SqliteRunWriter record) {
                    record.together(write);
                } else {
                    write.run();
                }
            } catch (RuntimeException | Error e) {
                fail(e);
                if (done[0] < rows.size()) {
                    leftOut(rows.get(done[0]), e);
                    one(rows, done[0] + 1);
                }
            }
            synchronized (lock) {
                bytes -= rows.stream().mapToLong(Row::bytes).sum();
                writing = 0;
            }
        }
        tellLost();
    }

    /** The next rows to be written together; empty at the end. */
    private List<Row> next() {
        List<Row> group = new ArrayList<>();
        synchronized (lock) {
            while (queue.isEmpty() && !ending) {
                try {
                    lock.wait();
                } catch (InterruptedException e) {
                    // nobody else knows this thread; it ends with the run
                }
            }
            long some = 0;
            while (!queue.isEmpty() && some < GROUP_BYTES && group.size() < GROUP_ROWS) {
                Row row = queue.remove();
                if (row == dropped) {
                    dropped = null;
                }
                some += row.bytes();
                group.add(row);
            }
            writing = group.size();
        }
        return group;
    }

    /** After a failure: every row for itself, but for blocks. */
    private void one(List<Row> rows, int from) {
        for (Row row : rows.subList(from, rows.size())) {
            if (row instanceof Block block) {
                lose(block);
                continue;
            }
            if (row instanceof Begun) {
                tellLost(); // no gap spans a break
            }
            try {
                row.write(below);
            } catch (RuntimeException | Error e) {
                leftOut(row, e);
            }
        }
    }

    private void leftOut(Row row, Throwable because) {
        boolean taken = because instanceof NotWritten n && n.row() != NotWritten.Row.LEFT_OUT;
        if (row instanceof Block block && !taken) {
            lose(block);
        }
    }

    private void lose(Block block) {
        Dropped grown = lost == null ? new Dropped(block, "could not be written") : lost;
        grown.add(block);
        lost = grown;
        synchronized (lock) {
            droppedSamples += block.samples.length / 4;
        }
    }

    private void tellLost() {
        Dropped row = lost;
        lost = null;
        if (row != null) {
            try {
                row.write(below);
            } catch (RuntimeException | Error e) {
                fail(e); // where nothing can be written, nothing can be told
            }
        }
    }

    private boolean failed() {
        synchronized (lock) {
            return failure != null;
        }
    }

    private void fail(Throwable e) {
        synchronized (lock) {
            if (failure == null) {
                failure = e;
            }
        }
    }
}
