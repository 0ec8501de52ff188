package org.shiftstand.sim;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.profile.Profile;

/**
 * A simulated rig on a real pseudo-terminal, in real time; Linux only. A host opens {@link #path} as it would a serial port.
 *
 * <p>One thread of its own paces the rig on the system's clock and moves the bytes. A host that does not read loses whole
 * frames once 64 KiB wait, as on a real line. A host that hangs up is noticed as on a line without modem signals: no
 * heartbeat, and the supply is cut within a second. {@link #close} cuts the supply, ends the thread, unplugs.
 */
public final class PtyRig implements AutoCloseable {
    private static final int WAITING_BYTES = 1 << 16;
    private static final int POLL_MS = 1;
    private static final long JOIN_MS = 2000;

    private final SimulatedRig rig;
    private final Pty pty;
    private final @Nullable Path symlink;
    private final long startNanos = System.nanoTime();
    private final long unplugNanos;
    private final byte[] waiting = new byte[WAITING_BYTES];
    private int waitingBytes;
    private long dropped;
    private volatile boolean ending;
    private volatile String failure = "";
    private final Thread thread;

    /**
     * Opens the terminal and starts.
     *
     * @param symlink made to point at the port, and taken away at the end; must not exist
     * @throws IllegalStateException off Linux, or where no terminal can be had
     * @throws IllegalArgumentException where options speak of sprockets that the profile has not
     * @throws IOException where the link cannot be made
     */
    public PtyRig(Profile profile, SimOptions options, Optional<Path> symlink) throws IOException {
        rig = new SimulatedRig(profile, options);
        unplugNanos = options.line().unplugAtS().isPresent()
                ? Math.round(options.line().unplugAtS().getAsDouble() * 1e9)
                : Long.MAX_VALUE;
        pty = new Pty();
        this.symlink = symlink.orElse(null);
        if (this.symlink != null) {
            try {
                Files.createSymbolicLink(this.symlink, Path.of(pty.path()));
            } catch (IOException e) {
                pty.close();
                throw e;
            }
        }
        thread = new Thread(this::run, "simulated rig");
        thread.setDaemon(true);
        thread.start();
    }

    /** The port, such as {@code /dev/pts/3}. */
    public String path() {
        return pty.path();
    }

    /** Whether the rig still runs: false after {@link #close}, an unplugging by option, or a failure. */
    public boolean running() {
        return thread.isAlive();
    }

    /** Why the rig ended by itself; empty while it runs and after a plain close. */
    public String failure() {
        return failure;
    }

    /** Waits until the rig ends, at most so long; whether it has ended. */
    public boolean awaitEnd(long milliseconds) throws InterruptedException {
        thread.join(milliseconds);
        return !thread.isAlive();
    }

    /** Truth of every shift so far. */
    public SimTruth truth() {
        synchronized (rig) {
            return rig.truth();
        }
    }

    /** Every change of the supply so far. */
    public List<SupplyChange> supplyLog() {
        synchronized (rig) {
            return List.copyOf(rig.supplyLog());
        }
    }

    /** Frames that a host did not read in time. */
    public long dropped() {
        synchronized (rig) {
            return dropped;
        }
    }

    private void run() {
        byte[] bytes = new byte[4096];
        try {
            while (!ending) {
                int n = pty.read(bytes, POLL_MS);
                long nanos = System.nanoTime() - startNanos;
                synchronized (rig) {
                    rig.advanceTo(nanos / 1000, this::out);
                    rig.onBytes(bytes, 0, n, this::out);
                    flush();
                }
                if (nanos >= unplugNanos) {
                    failure = "unplugged, as asked";
                    ending = true;
                }
            }
        } catch (IllegalStateException e) {
            failure = String.valueOf(e.getMessage());
        } finally {
            synchronized (rig) {
                rig.portLost();
            }
            pty.close();
            removeSymlink();
        }
    }

    private void out(byte[] frame) {
        if (frame.length > WAITING_BYTES - waitingBytes) {
            dropped++;
            return;
        }
        System.arraycopy(frame, 0, waiting, waitingBytes, frame.length);
        waitingBytes += frame.length;
    }

    private void flush() {
        if (waitingBytes > 0) {
            int gone = pty.write(waiting, waitingBytes);
            System.arraycopy(waiting, gone, waiting, 0, waitingBytes - gone);
            waitingBytes -= gone;
        }
    }

    private void removeSymlink() {
        Path made = symlink;
        try {
            if (made != null && Files.isSymbolicLink(made)) {
                Files.delete(made);
            }
        } catch (IOException e) {
            failure = "the link " + made + " could not be removed: " + e.getMessage();
        }
    }

    @Override
    public void close() {
        ending = true;
        try {
            thread.join(JOIN_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
