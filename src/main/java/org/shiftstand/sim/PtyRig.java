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
 * heartbeat, and the supply is cut within a second. Unplugging, when options ask for it, takes the terminal and the symbolic
 * link to it away; plugging in again makes another terminal and the link anew. {@link #close} cuts the supply, ends the
 * thread, unplugs.
 */
public final class PtyRig implements AutoCloseable {
    private static final int WAITING_BYTES = 1 << 16;
    private static final int POLL_MS = 1;
    // a heartbeat and a half: less is noise of a shared computer that no duty of a rig notices
    private static final long HELD_UP_NANOS = 300_000_000;
    private static final long JOIN_MS = 2000;

    private final SimulatedRig rig;
    private final @Nullable Path symlink;
    private final @Nullable SupplyLog supplyLog;
    private final long startNanos = System.nanoTime();
    private volatile long heldNanos; // for so long the rig's clock stood still
    private final Due unplugs;
    private final long replugAfterNanos;
    private final boolean reboots;
    private final byte[] waiting = new byte[WAITING_BYTES];
    private int waitingBytes;
    private int logged; // supply changes in the file
    private long dropped;
    private volatile Pty pty;
    private volatile boolean ending;
    private volatile String failure = "";
    private final Thread thread;

    /** Without a supply log. */
    public PtyRig(Profile profile, SimOptions options, Optional<Path> symlink) throws IOException {
        this(profile, options, symlink, Optional.empty());
    }

    /**
     * Opens the terminal and starts.
     *
     * @param symlink made to point at the port, and taken away at the end; must not exist
     * @param supplyLog to which each change of the supply is added at once; closed with the rig
     * @throws IllegalStateException off Linux, or where no terminal can be had
     * @throws IllegalArgumentException where options speak of sprockets that the profile has not, or plug in again without a
     *     symbolic link
     * @throws IOException where the symbolic link cannot be made
     */
    public PtyRig(Profile profile, SimOptions options, Optional<Path> symlink, Optional<SupplyLog> supplyLog)
            throws IOException {
        rig = new SimulatedRig(profile, options);
        unplugs = options.line().due(Mishap.UNPLUG);
        replugAfterNanos = options.line().replugAfterS().isPresent()
                ? Math.round(options.line().replugAfterS().getAsDouble() * 1e9)
                : Due.NEVER;
        reboots = options.line().reboot();
        if (replugAfterNanos != Due.NEVER && symlink.isEmpty()) {
            throw new IllegalArgumentException(
                    "sim: replug-after gives another pseudo-terminal, whose path the host cannot"
                            + " know; make a symbolic link that follows it with --link PATH, and give the host that path");
        }
        this.symlink = symlink.orElse(null);
        this.supplyLog = supplyLog.orElse(null);
        pty = new Pty();
        try {
            makeSymlink();
        } catch (IOException e) {
            pty.close();
            throw e;
        }
        thread = new Thread(this::run, "simulated rig");
        thread.setDaemon(true);
        thread.start();
    }

    /** The port now, or the last one while unplugged, such as {@code /dev/pts/3}. */
    public String path() {
        return pty.path();
    }

    /** Whether the rig still runs: false after {@link #close}, an unplugging for good, or a failure. */
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

    private long nanos() {
        return System.nanoTime() - startNanos - heldNanos;
    }

    private void run() {
        try {
            while (!ending) {
                talk();
                if (!ending) {
                    unplugged();
                }
            }
        } catch (IllegalStateException | IOException e) {
            failure = String.valueOf(e.getMessage());
        } catch (InterruptedException e) {
            failure = "interrupted";
        } finally {
            leave();
        }
    }

    private void leave() {
        try {
            synchronized (rig) {
                rig.portLost();
                logSupply();
            }
            removeSymlink();
            if (supplyLog != null) {
                supplyLog.close();
            }
        } catch (IOException e) {
            failure = String.valueOf(e.getMessage());
        } finally {
            pty.close();
        }
    }

    /**
     * A real rig's processor is its own; this one shares a computer. Where its process was held up, its clock stands still
     * for as long, so that a busy computer is not taken for a host that fell silent.
     */
    private void standStill(long sinceLastTurnNanos) {
        if (sinceLastTurnNanos > HELD_UP_NANOS) {
            heldNanos += sinceLastTurnNanos - POLL_MS * 1_000_000L;
        }
    }

    /** Serves the host until the line breaks or the end. */
    private void talk() throws IOException {
        byte[] bytes = new byte[4096];
        long before = nanos();
        while (!ending && nanos() < unplugs.nanos()) {
            int n = pty.read(bytes, POLL_MS);
            standStill(nanos() - before);
            before = nanos();
            synchronized (rig) {
                rig.advanceTo(nanos() / 1000, this::out);
                rig.onBytes(bytes, 0, n, this::out);
                logSupply();
                flush();
            }
        }
    }

    /** The line broke: the rig goes on without it, until it is whole again or the end. */
    private void unplugged() throws IOException, InterruptedException {
        long again = replugAfterNanos == Due.NEVER ? Due.NEVER : unplugs.nanos() + replugAfterNanos;
        synchronized (rig) {
            rig.portLost();
            waitingBytes = 0;
            logSupply();
        }
        pty.close();
        removeSymlink();
        if (again == Due.NEVER) {
            failure = "unplugged, as asked";
            ending = true;
            return;
        }
        while (!ending && nanos() < again) {
            Thread.sleep(POLL_MS);
            synchronized (rig) {
                rig.advanceTo(Math.min(nanos(), again) / 1000, frame -> {});
            }
        }
        while (unplugs.nanos() <= again) {
            unplugs.strikes(again); // of the same time without a line
        }
        if (!ending) {
            if (reboots) {
                synchronized (rig) {
                    rig.boot();
                }
            }
            pty = new Pty();
            makeSymlink();
        }
    }

    private void logSupply() throws IOException {
        SupplyLog log = supplyLog;
        List<SupplyChange> changes = rig.supplyLog();
        while (log != null && logged < changes.size()) {
            log.write(changes.get(logged++));
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

    private void makeSymlink() throws IOException {
        if (symlink != null) {
            Files.createSymbolicLink(symlink, Path.of(pty.path()));
        }
    }

    private void removeSymlink() throws IOException {
        if (symlink != null && Files.isSymbolicLink(symlink)) {
            Files.delete(symlink);
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
