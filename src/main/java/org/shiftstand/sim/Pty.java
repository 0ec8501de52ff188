package org.shiftstand.sim;

import com.sun.jna.LastErrorException;
import com.sun.jna.Library;
import com.sun.jna.Native;
import com.sun.jna.NativeLong;
import com.sun.jna.Platform;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;

/**
 * The master side of a pseudo-terminal, made inside this process; Linux only. Bytes written come out of the port
 * {@link #path} and the other way round, unchanged (raw mode).
 *
 * <p>Neither reading nor writing blocks longer than asked: a blocked {@code read(2)} would keep the terminal open behind a
 * {@code close(2)}. One thread uses it; {@link #close} may come from another once that thread has ended.
 */
final class Pty implements AutoCloseable {
    /** The few calls of the C library that are needed. */
    interface C extends Library {
        int posix_openpt(int flags) throws LastErrorException;

        int grantpt(int fd) throws LastErrorException;

        int unlockpt(int fd) throws LastErrorException;

        int ptsname_r(int fd, byte[] buffer, NativeLong length);

        int open(String path, int flags) throws LastErrorException;

        NativeLong read(int fd, byte[] bytes, NativeLong n) throws LastErrorException;

        NativeLong write(int fd, byte[] bytes, NativeLong n) throws LastErrorException;

        int poll(byte[] descriptors, NativeLong n, int milliseconds) throws LastErrorException;

        int close(int fd);

        int tcgetattr(int fd, byte[] attributes) throws LastErrorException;

        int tcsetattr(int fd, int when, byte[] attributes) throws LastErrorException;

        void cfmakeraw(byte[] attributes);
    }

    // Linux, all architectures that the JDK runs on
    private static final int O_RDWR = 2;
    private static final int O_NOCTTY = 0x100;
    private static final int O_NONBLOCK = 0x800;
    private static final int POLLIN = 1;
    private static final int EINTR = 4;
    private static final int EAGAIN = 11;
    private static final int ROOM_FOR_TERMIOS = 128;

    private final C c;
    private final int master;
    private final int slave;
    private final String path;
    private final byte[] poll = new byte[8];
    private boolean closed;

    /**
     * Makes a pair in raw mode.
     *
     * @throws IllegalStateException off Linux, or where the system refuses; says why
     */
    Pty() {
        if (!Platform.isLinux()) {
            throw new IllegalStateException("a pseudo-terminal is made on Linux only, and this is "
                    + System.getProperty("os.name") + "; use the rig address sim instead");
        }
        c = Native.load("c", C.class);
        try {
            master = c.posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
            c.grantpt(master);
            c.unlockpt(master);
            byte[] name = new byte[64];
            c.ptsname_r(master, name, new NativeLong(name.length));
            path = Native.toString(name);
            slave = c.open(path, O_RDWR | O_NOCTTY); // kept, so that the master reads no error before a host opens
            byte[] attributes = new byte[ROOM_FOR_TERMIOS];
            c.tcgetattr(slave, attributes);
            c.cfmakeraw(attributes);
            c.tcsetattr(slave, 0, attributes);
        } catch (LastErrorException e) {
            throw new IllegalStateException(
                    "the system gave no pseudo-terminal: error " + e.getErrorCode() + "; is /dev/pts mounted?", e);
        }
        ByteBuffer.wrap(poll).order(ByteOrder.nativeOrder()).putInt(0, master).putShort(4, (short) POLLIN);
    }

    /** The port that a host opens. */
    String path() {
        return path;
    }

    /** How many bytes were read; 0 after so long a silence. */
    int read(byte[] into, int waitMs) {
        try {
            if (c.poll(poll, new NativeLong(1), waitMs) <= 0) {
                return 0;
            }
            return Math.max(0, c.read(master, into, new NativeLong(into.length)).intValue());
        } catch (LastErrorException e) {
            return passing(e);
        }
    }

    /** Writes what there is room for; how many bytes that was. */
    int write(byte[] bytes, int n) {
        try {
            return Math.max(0, c.write(master, bytes, new NativeLong(n)).intValue());
        } catch (LastErrorException e) {
            return passing(e);
        }
    }

    private static int passing(LastErrorException e) {
        if (e.getErrorCode() == EAGAIN || e.getErrorCode() == EINTR) {
            return 0;
        }
        throw new IllegalStateException("the pseudo-terminal failed: error " + e.getErrorCode(), e);
    }

    /** Unplugs: a host that has the port open reads an error. */
    @Override
    public void close() {
        if (!closed) {
            closed = true;
            c.close(slave);
            c.close(master);
        }
    }
}
