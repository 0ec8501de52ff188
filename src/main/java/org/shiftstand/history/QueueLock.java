package org.shiftstand.history;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;

/**
 * One at a time changes a queue: a lock on a hidden file in it, which the system frees when its holder is gone. On a disk that
 * knows no locks everybody may go on: all that it keeps from happening then is what the queue can bear, but not what it is swept of.
 */
final class QueueLock implements AutoCloseable {
    /** A lock of the system is one of the whole process. */
    private static final ReentrantLock WITHIN = new ReentrantLock();

    private final @Nullable FileChannel channel;

    private QueueLock(@Nullable FileChannel channel) {
        this.channel = channel;
    }

    /** Takes it; waits for whoever has it. Who holds it may take it again. */
    static QueueLock take(Path folder) {
        WITHIN.lock();
        if (WITHIN.getHoldCount() > 1) {
            return new QueueLock(null);
        }
        try {
            return new QueueLock(locked(folder));
        } catch (RuntimeException | Error e) {
            WITHIN.unlock();
            throw e;
        }
    }

    private static @Nullable FileChannel locked(Path folder) {
        try {
            FileChannel channel =
                    FileChannel.open(folder.resolve(".lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
            try {
                channel.lock();
                return channel;
            } catch (IOException e) {
                channel.close();
                return null;
            }
        } catch (IOException e) {
            return null;
        }
    }

    /** Whether nobody else can hold it. */
    boolean isHeld() {
        return channel != null;
    }

    @Override
    public void close() throws IOException {
        try {
            if (channel != null) {
                channel.close();
            }
        } finally {
            WITHIN.unlock();
        }
    }
}
