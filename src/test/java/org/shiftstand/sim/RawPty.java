package org.shiftstand.sim;

import java.util.Arrays;

/** A pseudo-terminal without a rig behind it, for tests of what is on the other end. */
public final class RawPty implements AutoCloseable {
    private final Pty pty = new Pty();

    public String path() {
        return pty.path();
    }

    /** What came within 20 ms. */
    public byte[] read() {
        byte[] bytes = new byte[4096];
        return Arrays.copyOf(bytes, Math.max(0, pty.read(bytes, 20)));
    }

    /** What there was no room for is lost. */
    public void write(byte[] bytes) {
        pty.write(bytes, bytes.length);
    }

    /** Writes what there is room for, from an index on; how many bytes that was. */
    public int writeSome(byte[] bytes, int from) {
        byte[] rest = Arrays.copyOfRange(bytes, from, bytes.length);
        return pty.write(rest, rest.length);
    }

    /** Unplugs. */
    @Override
    public void close() {
        pty.close();
    }
}
