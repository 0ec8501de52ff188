package org.shiftstand.archive;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** A new file, of which {@link #close} returns when the disk holds it. */
final class Durable extends OutputStream {
    private final FileChannel channel;
    private final OutputStream out;

    Durable(Path file) throws IOException {
        channel = FileChannel.open(file, StandardOpenOption.WRITE, StandardOpenOption.CREATE);
        out = Channels.newOutputStream(channel);
    }

    @Override
    public void write(int b) throws IOException {
        out.write(b);
    }

    @Override
    public void write(byte[] bytes, int from, int count) throws IOException {
        out.write(bytes, from, count);
    }

    @Override
    public void close() throws IOException {
        try (channel) {
            if (channel.isOpen()) {
                channel.force(true);
            }
        }
    }
}
