package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
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
    void an_unplugged_rig_comes_back_on_another_terminal_behind_the_same_link(@TempDir Path folder) throws IOException {
        Path port = folder.resolve("rig");
        SimOptions options = SimOptions.parse("unplug-at=0.7,replug-after=0.5");
        try (PtyRig rig = new PtyRig(TarnDrive.profile(), options, Optional.of(port))) {
            try (Host host = new Host(port.toString())) {
                host.arm();
                await().atMost(Duration.ofSeconds(5))
                        .pollInterval(Duration.ofMillis(1))
                        .until(() -> {
                            host.listen();
                            return host.hungUp;
                        });
            }
            assertThat(rig.supplyLog()).last().extracting(SupplyChange::cause).isEqualTo("port-lost");
            await().atMost(Duration.ofSeconds(5)).until(() -> Files.exists(port));
            try (Host host = new Host(port.toString())) {
                host.arm();
                host.listenForBlocks(2);
            }

            assertThat(rig.supplyLog().get(2).cause()).isEqualTo("arm");
        }
        assertThat(Files.exists(port, java.nio.file.LinkOption.NOFOLLOW_LINKS)).isFalse();
    }

    @Test
    void a_rig_that_comes_back_needs_a_link_that_follows_it() {
        assertThatThrownBy(() -> new PtyRig(
                        TarnDrive.profile(), SimOptions.parse("unplug-at=1,replug-after=1"), Optional.empty()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("sim: replug-after gives another pseudo-terminal, whose path the host cannot know; make a"
                        + " symbolic link that follows it with --link PATH, and give the host that path");
    }

    @Test
    void the_supply_log_tells_at_once_when_and_why_and_how_long_after_the_last_heartbeat(@TempDir Path folder)
            throws IOException {
        Path file = folder.resolve("supply.csv");
        try (PtyRig rig = new PtyRig(
                TarnDrive.profile(), SimOptions.seeded(1), Optional.empty(), Optional.of(new SupplyLog(file)))) {
            long before = System.nanoTime();
            try (Host host = new Host(rig.path())) {
                host.arm();
                host.listenForBlocks(4); // and falls silent
                await().atMost(Duration.ofSeconds(5))
                        .until(() -> rig.supplyLog().size() == 2);

                List<String> lines = Files.readAllLines(file); // while the rig runs
                assertThat(lines).hasSize(3);
                assertThat(lines.get(0)).isEqualTo("rig_us,monotonic_ns,utc,millivolts,cause,since_heartbeat_us");
                assertThat(lines.get(1)).matches("\\d+,\\d+,\\d{4}-\\d\\d-\\d\\dT[0-9:.]+Z,8200,arm,0");
                String[] off = lines.get(2).split(",", -1);
                assertThat(off[3]).isEqualTo("0");
                assertThat(off[4]).isEqualTo("watchdog");
                assertThat(off[5]).isEqualTo("1000000");
                assertThat(Long.parseLong(off[1])).isBetween(before + 1_000_000_000L, System.nanoTime());
            }
        }
    }

    @Test
    void the_supply_log_is_added_to(@TempDir Path folder) throws IOException {
        Path file = folder.resolve("supply.csv");
        for (int i = 0; i < 2; i++) {
            try (var log = new SupplyLog(file)) {
                log.write(new SupplyChange(5, 8200, "arm", 0));
            }
        }

        assertThat(Files.readAllLines(file)).hasSize(3).first().isEqualTo(SupplyLog.HEADER);
    }

    @Test
    void a_line_that_is_to_be_unplugged_ends_by_itself() throws IOException, InterruptedException {
        try (PtyRig rig = new PtyRig(TarnDrive.profile(), SimOptions.parse("unplug-at=0.2"), Optional.empty())) {
            assertThat(rig.awaitEnd(5000)).isTrue();
            assertThat(rig.failure()).isEqualTo("unplugged, as asked");
        }
    }
}
