package org.shiftstand.link;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.jspecify.annotations.Nullable;

/**
 * A link over a serial port, 8N1, exclusive.
 *
 * <p>Threads: one reader only decodes into a bounded queue and never waits for its user: what there is no room for is
 * dropped whole, counted, and told in its place ({@link Arrival.Dropped}). One writer only empties a bounded queue. Both end
 * with {@link #close}. An unplugged port is found within a second. The caller's thread never touches the port, so that a rig which stops reading cannot hold up a run.
 * Blocking: {@link #send} never, {@link #receive} to the time asked for, {@link #close} at most about 1.5 s. An
 * interrupted thread is not held up and not woken: {@code receive} keeps its time and the interrupt is there again after
 * {@code close}, since a run must still cut the supply.
 */
public final class SerialLink implements Link {
    /** Bits a second where nothing else is said. */
    public static final int USUAL_SPEED = 921_600;

    private static final int MOST_UNSENT = 256;
    // jSerialComm counts read timeouts in steps of 100 ms (VTIME)
    private static final int READ_TIMEOUT_MS = 100;
    private static final int WAIT_MS = 50;
    // a driver may go on giving nothing for a device that is gone
    private static final long LOOK_NANOS = 500_000_000;
    private static final int DRAIN_MS = 500;
    // closing drops what the driver still holds: 9 of 200 last frames were lost without this
    private static final long LINGER_MICROS = 50_000;

    // errno values that mean "held by another": EAGAIN of the lock, EBUSY; 2 is jSerialComm's own within one process
    private static final int OPEN_HERE = 2;
    private static final int LOCKED = 11;
    private static final int NO_RIGHTS = 13;
    private static final int BUSY = 16;

    private final SerialPort port;
    private final String path;
    private final long openedNanos = System.nanoTime();
    private final Clock clock;
    private final Optional<Path> device; // where the port is a file
    private final ArrivalQueue waiting = new ArrivalQueue();
    private final BlockingQueue<byte[]> unsent = new ArrayBlockingQueue<>(MOST_UNSENT);
    private final AtomicInteger notYetWritten = new AtomicInteger();
    private final Thread reader;
    private final Thread writer;
    private volatile boolean closing;
    private volatile long writtenAtMicros;
    private volatile @Nullable String lost;
    private boolean interrupted;
    private boolean given; // back to the system

    private SerialLink(SerialPort port, String path, Clock clock, Optional<Path> device) {
        this.port = port;
        this.path = path;
        this.clock = clock;
        this.device = device;
        this.reader = new Thread(this::read, "link-reader");
        this.writer = new Thread(this::write, "link-writer");
        reader.setDaemon(true);
        writer.setDaemon(true);
    }

    /**
     * Opens a port and clears the line with one 0x00.
     *
     * @param path such as {@code /dev/ttyACM0} or {@code COM3}; links to a port are followed
     * @param speed bits a second
     * @throws LinkException naming the port, what is wrong and what to do: no such port, no rights, busy, not a serial
     *     port
     */
    public static SerialLink open(String path, int speed) {
        return open(path, speed, Clock.systemUTC(), device(path));
    }

    /** @param device the port's file, which goes away with an adapter that is pulled out; empty where it is none */
    static SerialLink open(String path, int speed, Clock clock, Optional<Path> device) {
        if (path.startsWith("/")) {
            checkFile(path);
        }
        SerialPort port;
        try {
            port = SerialPort.getCommPort(path);
        } catch (SerialPortInvalidPortException e) {
            throw noSuchPort(path);
        }
        port.setComPortParameters(speed, 8, SerialPort.ONE_STOP_BIT, SerialPort.NO_PARITY);
        port.setFlowControl(SerialPort.FLOW_CONTROL_DISABLED);
        port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_TIMEOUT_MS, 0);
        if (!port.openPort(0)) {
            throw notOpened(path, port.getLastErrorCode());
        }
        OpenPorts.opened();
        SerialLink link = new SerialLink(port, path, clock, device);
        link.queue(new byte[1]);
        link.reader.start();
        link.writer.start();
        return link;
    }

    /** The file itself: a symbolic link to it may come and go. */
    private static Optional<Path> device(String path) {
        try {
            return path.startsWith("/") ? Optional.of(Path.of(path).toRealPath()) : Optional.empty();
        } catch (IOException | InvalidPathException e) {
            return Optional.empty(); // opening will tell
        }
    }

    private static void checkFile(String path) {
        try {
            Path file = Path.of(path);
            if (!Files.exists(file)) {
                throw noSuchPort(path);
            }
            if (!Files.isReadable(file) || !Files.isWritable(file)) {
                throw noRights(path);
            }
        } catch (InvalidPathException e) {
            throw noSuchPort(path);
        }
    }

    private static LinkException noSuchPort(String path) {
        return new LinkException(
                "serial:" + path + ": no such port; expected a serial port's path, such as /dev/ttyACM0."
                        + " Check the cable; 'rig list' shows the ports that are there.");
    }

    private static LinkException noRights(String path) {
        return new LinkException("serial:" + path
                + ": no rights to read and write this port. Give the user rights to it: on Debian be a member of"
                + " group dialout, then log in again; 'shiftstand rig list' says which group here.");
    }

    private static LinkException notOpened(String path, int error) {
        return switch (error) {
            case OPEN_HERE, LOCKED, BUSY ->
                new LinkException("serial:" + path
                        + ": the port is busy; another program holds it. End that program, then try again.");
            case NO_RIGHTS -> noRights(path);
            default ->
                new LinkException(String.format(
                        Locale.ROOT,
                        "serial:%s: not a serial port, or it cannot be set to 8N1 at the speed asked for (error %d)."
                                + " 'rig list' shows the ports that are there.",
                        path,
                        error));
        };
    }

    @Override
    public String address() {
        return "serial:" + path;
    }

    @Override
    public void send(Frame frame) {
        if (lost == null) {
            queue(FrameCodec.encode(frame));
        }
    }

    private void queue(byte[] bytes) {
        notYetWritten.incrementAndGet();
        if (!unsent.offer(bytes)) {
            lost = "the rig no longer takes what is sent: " + MOST_UNSENT + " frames wait";
        }
    }

    @Override
    public Arrival receive(long untilMicros) {
        while (true) {
            long left = untilMicros - now();
            try {
                Arrival next = waiting.poll(Math.max(0, Math.min(left, TimeUnit.MILLISECONDS.toMicros(WAIT_MS))));
                if (next != null) {
                    return next;
                }
            } catch (InterruptedException e) {
                interrupted = true; // told again after close; until then the supply must be cut in peace
            }
            String cause = lost;
            if (cause != null && waiting.isEmpty()) {
                return new Arrival.Lost(cause);
            }
            if (left <= 0) {
                return new Arrival.Nothing();
            }
        }
    }

    @Override
    public long now() {
        return (System.nanoTime() - openedNanos) / 1000;
    }

    /** The system's wall clock at this moment: it may step, as {@link #now} never does. */
    @Override
    public long utcMicros() {
        return ChronoUnit.MICROS.between(Instant.EPOCH, clock.instant());
    }

    /** Sends what still waits (at most 0.5 s), then gives the port free. Harmless when repeated. */
    @Override
    public void close() {
        long until = now() + TimeUnit.MILLISECONDS.toMicros(DRAIN_MS);
        while (lost == null && now() < until && onItsWay()) {
            pause();
        }
        closing = true;
        if (lost == null) {
            lost = "the link was closed";
        }
        port.closePort(); // frees a write that the rig does not take
        join(writer);
        join(reader);
        if (!given) {
            given = true;
            OpenPorts.closed();
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private boolean onItsWay() {
        return notYetWritten.get() > 0 || port.bytesAwaitingWrite() > 0 || now() < writtenAtMicros + LINGER_MICROS;
    }

    private void pause() {
        try {
            Thread.sleep(2); // the port's edge, not the run: a link that closes has no clock to wait on
        } catch (InterruptedException e) {
            interrupted = true;
        }
    }

    private void join(Thread thread) {
        try {
            thread.join(DRAIN_MS);
        } catch (InterruptedException e) {
            interrupted = true;
        }
    }

    private void read() {
        FrameDecoder decoder = new FrameDecoder();
        byte[] bytes = new byte[4096];
        long lookAt = System.nanoTime() + LOOK_NANOS;
        while (!closing) {
            // semi-blocking: what is there, or 0 after the timeout; -1 once the other end is gone
            int n = port.readBytes(bytes, bytes.length);
            if (n == 0 && System.nanoTime() >= lookAt) {
                lookAt = System.nanoTime() + LOOK_NANOS;
                n = device.isPresent() && Files.notExists(device.get()) ? -1 : 0;
            }
            if (n < 0) {
                lost = "the port is gone (unplugged, or the rig closed it)";
                return;
            }
            decoder.feed(bytes, 0, n, waiting::put);
        }
    }

    private void write() {
        try {
            while (!closing && lost == null) {
                byte[] bytes = unsent.poll(WAIT_MS, TimeUnit.MILLISECONDS);
                if (bytes != null) {
                    put(bytes);
                    notYetWritten.decrementAndGet();
                }
            }
        } catch (InterruptedException e) {
            closing = true;
        }
    }

    private void put(byte[] bytes) {
        int sent = 0;
        while (sent < bytes.length) {
            int n = port.writeBytes(bytes, bytes.length - sent, sent);
            if (n <= 0) {
                lost = "the port no longer takes bytes (unplugged, or the rig closed it)";
                return;
            }
            sent += n;
            writtenAtMicros = now();
        }
    }
}
