package org.shiftstand.sim;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.temporal.ChronoUnit;

/**
 * A file that proves when a simulated rig switched its supply, whatever became of the host: one line of CSV a change, appended
 * and handed to the system at once.
 *
 * <p>Columns: {@code rig_us} since the simulation began; {@code monotonic_ns} of this machine, the same for all its processes
 * (Linux); {@code utc}; {@code millivolts}, 0 for off; {@code cause}; {@code since_heartbeat_us} on the rig's clock.
 */
public final class SupplyLog implements AutoCloseable {
    public static final String HEADER = "rig_us,monotonic_ns,utc,millivolts,cause,since_heartbeat_us";

    private final FileChannel file;

    /** @throws IOException where the file cannot be made or added to */
    public SupplyLog(Path path) throws IOException {
        file = FileChannel.open(path, StandardOpenOption.CREATE, StandardOpenOption.WRITE, StandardOpenOption.APPEND);
        if (file.size() == 0) {
            write(HEADER);
        }
    }

    void write(SupplyChange change) throws IOException {
        write(String.join(
                ",",
                Long.toString(change.atMicros()),
                Long.toString(System.nanoTime()),
                Instant.now().truncatedTo(ChronoUnit.MICROS).toString(),
                Integer.toString(change.milliVolts()),
                change.cause(),
                Long.toString(change.sinceBeatMicros())));
    }

    private void write(String line) throws IOException {
        ByteBuffer bytes = ByteBuffer.wrap((line + "\n").getBytes(StandardCharsets.UTF_8));
        while (bytes.hasRemaining()) {
            file.write(bytes);
        }
    }

    @Override
    public void close() throws IOException {
        file.close();
    }
}
