package org.shiftstand.capture;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Blocks of bytes, kept in memory up to a limit and from there on in a temporary file.
 *
 * <p>The file is opened to be deleted: on Linux and macOS it has no name from the start and vanishes however the process
 * ends; elsewhere it is deleted on close.
 */
final class Spool implements AutoCloseable {
    private final long memoryLimit;
    private final Path folder;
    private final List<byte[]> inMemory = new ArrayList<>();
    private long memoryBytes;
    private long[] offsets = new long[64];
    private int count;
    private long fileBytes;
    private @Nullable FileChannel file;
    private boolean closed;

    Spool(long memoryLimit, Path folder) {
        this.memoryLimit = memoryLimit;
        this.folder = folder;
    }

    /** Appends what remains in the buffer as one block. */
    void append(ByteBuffer block) {
        int length = block.remaining();
        if (file == null && memoryBytes + length <= memoryLimit) {
            var copy = new byte[length];
            block.get(copy);
            inMemory.add(copy);
            memoryBytes += length;
            count++;
            return;
        }
        try {
            if (file == null) {
                moveToFile();
            }
            appendToFile(block);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot write the temporary file for a long capture in " + folder, e);
        }
    }

    private void moveToFile() throws IOException {
        Path path = Files.createTempFile(folder, "shiftstand-", ".spool");
        file = FileChannel.open(
                path, StandardOpenOption.READ, StandardOpenOption.WRITE, StandardOpenOption.DELETE_ON_CLOSE);
        count = 0;
        for (byte[] block : inMemory) {
            appendToFile(ByteBuffer.wrap(block));
        }
        inMemory.clear();
        memoryBytes = 0;
    }

    private void appendToFile(ByteBuffer bytes) throws IOException {
        if (count + 1 >= offsets.length) {
            offsets = Arrays.copyOf(offsets, offsets.length * 2);
        }
        offsets[count] = fileBytes;
        fileBytes += bytes.remaining();
        offsets[++count] = fileBytes;
        FileChannel channel = channel();
        while (bytes.hasRemaining()) {
            channel.write(bytes);
        }
    }

    private FileChannel channel() {
        FileChannel channel = file;
        if (channel == null) {
            throw new IllegalStateException("no spool file: blocks=" + count);
        }
        return channel;
    }

    int blocks() {
        return count;
    }

    boolean inFile() {
        return file != null;
    }

    /** Block {@code index}, little-endian, ready to read; {@code reuse} is used where it is large enough. */
    ByteBuffer read(int index, ByteBuffer reuse) {
        if (closed) {
            throw new IllegalStateException("the source is closed: block=" + index);
        }
        if (file == null) {
            return ByteBuffer.wrap(inMemory.get(index)).order(ByteOrder.LITTLE_ENDIAN);
        }
        int length = (int) (offsets[index + 1] - offsets[index]);
        ByteBuffer into = reuse.capacity() >= length ? reuse : ByteBuffer.allocate(length);
        into.clear().limit(length);
        try {
            long at = offsets[index];
            while (into.hasRemaining()) {
                int n = channel().read(into, at);
                if (n < 0) {
                    throw new IOException("temporary file of a capture ends early: block=" + index);
                }
                at += n;
            }
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read the temporary file of a long capture", e);
        }
        return into.flip().order(ByteOrder.LITTLE_ENDIAN);
    }

    @Override
    public void close() {
        closed = true;
        inMemory.clear();
        try {
            if (file != null) {
                file.close();
            }
        } catch (IOException e) {
            throw new UncheckedIOException("cannot close the temporary file of a capture", e);
        }
    }
}
