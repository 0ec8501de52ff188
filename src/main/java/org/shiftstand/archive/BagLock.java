package org.shiftstand.archive;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.locks.ReentrantLock;

/**
 * One at a time changes a bag: a lock on a hidden file beside it, which the system frees when its holder is gone, however it went.
 * The file alone means nothing; it is taken away again.
 */
final class BagLock implements AutoCloseable {
    /** A lock of the system is one of the whole process. */
    private static final ReentrantLock WITHIN = new ReentrantLock();

    private static final int MOST_SIZE = 1 << 16;

    private final Path file;
    private final FileChannel channel;

    private BagLock(Path file, FileChannel channel) {
        this.file = file;
        this.channel = channel;
    }

    /**
     * Takes it; waits for whoever has it.
     *
     * @param bag where it really lies
     */
    static BagLock take(Path bag) {
        Path file = bag.resolveSibling("." + bag.getFileName() + ".lock");
        WITHIN.lock();
        try {
            for (; ; ) {
                FileChannel channel = FileChannel.open(
                        file, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE);
                if (held(file, channel)) {
                    return new BagLock(file, channel);
                }
                channel.close();
            }
        } catch (IOException e) {
            WITHIN.unlock();
            throw Trouble.bad(
                    bag,
                    "cannot be kept from being changed by others at the same moment: a lock beside it was refused ("
                            + Trouble.words(e)
                            + "). Nothing was changed; change a copy in a folder that you may write to");
        } catch (RuntimeException | Error e) {
            WITHIN.unlock();
            throw e;
        }
    }

    /**
     * Whether the lock is on the file that stands there: whoever had it before may have taken that file away. Told by a size that
     * nobody else gives it; opening the file once more to look would free the lock, since closing any handle of a file frees all
     * locks of the process on it (POSIX).
     */
    private static boolean held(Path file, FileChannel channel) throws IOException {
        boolean held = false;
        try {
            channel.lock();
            byte[] mine = new byte[ThreadLocalRandom.current().nextInt(1, MOST_SIZE)];
            channel.truncate(0);
            channel.write(ByteBuffer.wrap(mine));
            held = Files.size(file) == mine.length;
        } catch (NoSuchFileException gone) {
            held = false;
        } finally {
            if (!held) {
                channel.close();
            }
        }
        return held;
    }

    @Override
    public void close() {
        try (channel) {
            Files.deleteIfExists(file); // while it is locked, so that nobody else's is deleted
        } catch (IOException e) {
            file.toFile().deleteOnExit(); // it means nothing by itself
        } finally {
            WITHIN.unlock();
        }
    }
}
