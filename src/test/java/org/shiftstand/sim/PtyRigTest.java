package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.FrameCodec;
import org.shiftstand.link.FrameDecoder;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;

/** A real pseudo-terminal, both ways, in real time. */
@EnabledOnOs(OS.LINUX)
class PtyRigTest {
    /** The host's end, on a serial library, as a real host would. */
    private static final class Host implements AutoCloseable {
        private final SerialPort port;
        private final FrameDecoder decoder = new FrameDecoder();
        private final byte[] bytes = new byte[4096];
        private int sequence;
        final List<RigMessage> heard = new ArrayList<>();
        int damaged;
        boolean hungUp;

        Host(String path) {
            port = SerialPort.getCommPort(path);
            assertThat(port.openPort(0)).isTrue();
            port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, 100, 0);
        }

        void say(HostMessage message) {
            byte[] frame = FrameCodec.encode(MessageCodec.encode(message, sequence++));
            assertThat(port.writeBytes(frame, frame.length)).isEqualTo(frame.length);
        }

        void listen() {
            int n = port.readBytes(bytes, bytes.length);
            hungUp |= n < 0;
            if (n > 0) {
                decoder.feed(bytes, 0, n, this::take);
            }
        }

        private void take(Arrival arrival) {
            if (arrival instanceof Arrival.Received r
                    && MessageCodec.decodeRig(r.frame()) instanceof Decoded.Known<RigMessage> known) {
                heard.add(known.message());
            } else {
                damaged++;
            }
        }

        void arm() {
            say(new HostMessage.Hello(1, 0));
            say(new HostMessage.Configure(512, 32));
            say(Session.NO_GUARDS);
            say(new HostMessage.Arm(8200));
        }

        /** Listens and beats until so many blocks have come. */
        void listenForBlocks(int n) {
            await().atMost(Duration.ofSeconds(20))
                    .pollInterval(Duration.ofMillis(1))
                    .until(() -> {
                        say(new HostMessage.Heartbeat());
                        listen();
                        return blocks() >= n;
                    });
        }

        long blocks() {
            return heard.stream().filter(RigMessage.Samples.class::isInstance).count();
        }

        @Override
        public void close() {
            port.closePort();
        }
    }

    @Test
    void commands_go_in_and_samples_come_out_through_a_symbolic_link(@TempDir Path folder) throws IOException {
        Path port = folder.resolve("rig");
        try (PtyRig rig = new PtyRig(TarnDrive.profile(), SimOptions.seeded(1), Optional.of(port));
                Host host = new Host(port.toString())) {
            host.arm();
            host.say(new HostMessage.ShiftRequest(1, 0));
            host.listenForBlocks(16);
            host.say(new HostMessage.Stop());

            assertThat(host.damaged).isZero();
            assertThat(host.heard).anyMatch(RigMessage.Identity.class::isInstance);
            assertThat(rig.truth().shifts()).hasSize(1);
            await().atMost(Duration.ofSeconds(5))
                    .until(() -> rig.supplyLog().get(rig.supplyLog().size() - 1).milliVolts() == 0);
        }
        assertThat(Files.exists(port, java.nio.file.LinkOption.NOFOLLOW_LINKS)).isFalse();
    }

    @Test
    void one_flipped_byte_damages_one_frame() throws IOException {
        try (PtyRig rig = new PtyRig(TarnDrive.profile(), SimOptions.parse("flip-byte-at=0.2"), Optional.empty());
                Host host = new Host(rig.path())) {
            host.arm();
            host.listenForBlocks(12);

            List<Long> numbers = host.heard.stream()
                    .filter(RigMessage.Samples.class::isInstance)
                    .map(m -> ((RigMessage.Samples) m).blockNumber())
                    .toList();
            assertThat(host.damaged).isEqualTo(1);
            assertThat(numbers.get(numbers.size() - 1) + 1 - numbers.size()).isEqualTo(1);
        }
    }

    @Test
    void a_host_that_hangs_up_leaves_the_supply_off_within_a_second() throws IOException {
        try (PtyRig rig = new PtyRig(TarnDrive.profile(), SimOptions.seeded(1), Optional.empty())) {
            try (Host host = new Host(rig.path())) {
                host.arm();
                host.listenForBlocks(4);
                assertThat(rig.supplyLog()).hasSize(1);
            }

            await().atMost(Duration.ofSeconds(5)).until(() -> rig.supplyLog().size() == 2);
            assertThat(rig.supplyLog().get(1).cause()).isEqualTo("watchdog");
        }
    }

    @Test
    void closing_the_rig_unplugs_the_host_and_leaves_the_supply_off() throws IOException {
        PtyRig rig = new PtyRig(TarnDrive.profile(), SimOptions.seeded(1), Optional.empty());
        try (Host host = new Host(rig.path())) {
            host.arm();
            host.listenForBlocks(4);

            rig.close();

            await().atMost(Duration.ofSeconds(5))
                    .pollInterval(Duration.ofMillis(1))
                    .until(() -> {
                        host.listen();
                        return host.hungUp;
                    });
            assertThat(rig.running()).isFalse();
            assertThat(rig.supplyLog()).last().extracting(SupplyChange::cause).isEqualTo("port-lost");
        }
    }

    @Test
    void a_line_that_is_to_be_unplugged_ends_by_itself() throws IOException, InterruptedException {
        try (PtyRig rig = new PtyRig(TarnDrive.profile(), SimOptions.parse("unplug-at=0.2"), Optional.empty())) {
            assertThat(rig.awaitEnd(5000)).isTrue();
            assertThat(rig.failure()).isEqualTo("unplugged, as asked");
        }
    }
}
