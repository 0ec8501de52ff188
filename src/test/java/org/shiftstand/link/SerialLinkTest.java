package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.link.Arrival.Damaged.Kind;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.PtyRig;
import org.shiftstand.sim.RawPty;
import org.shiftstand.sim.SimOptions;

/** Over real pseudo-terminals, in real time. */
@EnabledOnOs(OS.LINUX)
@Timeout(30)
class SerialLinkTest {
    private static final long SECOND = 1_000_000;

    @Nested
    class On_a_raw_line {
        @Test
        void clears_the_line_first() {
            try (var pty = new RawPty();
                    var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED)) {
                link.send(new Frame(1, 9, 0, new byte[0]));

                byte[] sent = read(pty, 9);

                assertThat(sent[0]).isZero();
                assertThat(sent[sent.length - 1]).isZero();
            }
        }

        @Test
        void passes_every_byte_unchanged_both_ways() {
            try (var pty = new RawPty();
                    var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED)) {
                Random random = new Random(11);
                for (int i = 0; i < 100; i++) {
                    byte[] payload = new byte[random.nextInt(500)];
                    random.nextBytes(payload);
                    Frame frame = new Frame(1, 0x82, i, payload);
                    byte[] wire = FrameCodec.encode(frame);

                    link.send(frame);
                    byte[] came = read(pty, wire.length + (i == 0 ? 1 : 0)); // the clearing byte
                    pty.write(wire);
                    Arrival back = link.receive(link.now() + SECOND);

                    assertThat(came).endsWith(wire);
                    assertThat(back).isInstanceOf(Arrival.Received.class);
                    assertThat(((Arrival.Received) back).frame().payload()).isEqualTo(payload);
                }
            }
        }

        @Test
        void waits_on_a_silent_line_as_long_as_asked() {
            try (var pty = new RawPty();
                    var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED)) {
                long until = link.now() + 300_000;

                Arrival arrival = link.receive(until);

                assertThat(arrival).isEqualTo(new Arrival.Nothing());
                assertThat(link.now()).isBetween(until, until + 500_000); // a busy machine is late, never early
            }
        }

        @Test
        void keeps_the_time_asked_for_when_its_thread_is_interrupted_and_tells_it_after_closing() {
            try (var pty = new RawPty()) {
                var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED);
                long until = link.now() + 200_000;
                Thread.currentThread().interrupt();

                Arrival arrival = link.receive(until);

                assertThat(arrival).isEqualTo(new Arrival.Nothing());
                assertThat(link.now()).isGreaterThanOrEqualTo(until);
                link.close();
                assertThat(Thread.interrupted()).isTrue();
            }
        }

        @Test
        void says_damaged_for_noise() {
            try (var pty = new RawPty();
                    var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED)) {
                pty.write(new byte[] {9, 9, 9, 0});

                assertThat(link.receive(link.now() + SECOND)).isEqualTo(new Arrival.Damaged(Kind.STUFFING, 3));
            }
        }

        @Test
        void is_lost_within_a_second_when_it_is_unplugged() {
            try (var pty = new RawPty();
                    var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED)) {
                long before = link.now();
                pty.close();

                Arrival arrival = link.receive(before + 5 * SECOND);

                assertThat(arrival).isInstanceOf(Arrival.Lost.class);
                assertThat(link.now() - before).isLessThan(SECOND);
            }
        }

        /** Some drivers go on giving nothing for an adapter that was pulled out. */
        @Test
        void is_lost_within_a_second_when_the_ports_file_goes_away_and_reading_tells_nothing(@TempDir Path folder)
                throws Exception {
            Path file = Files.createFile(folder.resolve("port"));
            try (var pty = new RawPty();
                    var link =
                            SerialLink.open(pty.path(), SerialLink.USUAL_SPEED, Clock.systemUTC(), Optional.of(file))) {
                assertThat(link.receive(link.now() + 700_000)).isEqualTo(new Arrival.Nothing());
                long before = link.now();
                Files.delete(file);

                assertThat(link.receive(before + 5 * SECOND)).isInstanceOf(Arrival.Lost.class);
                assertThat(link.now() - before).isLessThan(SECOND);
            }
        }

        @Test
        void never_holds_its_user_up_when_the_rig_does_not_read() {
            try (var pty = new RawPty()) {
                var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED);
                long before = link.now();
                for (int i = 0; i < 400; i++) {
                    link.send(new Frame(1, 0x82, i, new byte[1000])); // the terminal holds some 20 of them
                }
                Arrival arrival = link.receive(link.now() + SECOND);
                link.close();

                assertThat(arrival)
                        .isEqualTo(new Arrival.Lost("the rig no longer takes what is sent: 256 frames wait"));
                assertThat(link.now() - before).isLessThan(3 * SECOND);
            }
        }

        @Test
        void reads_on_while_nobody_takes_what_comes_and_tells_how_much_it_dropped_and_where() {
            int sent = ArrivalQueue.MOST_BLOCKS + 3000;
            try (var pty = new RawPty();
                    var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED)) {
                for (int i = 0; i < sent; i++) {
                    byte[] wire = FrameCodec.encode(MessageCodec.encode(block(i), i));
                    for (int at = 0; at < wire.length; ) { // a reader that waited would let this hang
                        at += pty.writeSome(wire, at);
                    }
                }
                byte[] ack = FrameCodec.encode(MessageCodec.encode(new RigMessage.Ack(7), sent));
                pty.write(ack);

                long blocks = 0;
                long dropped = 0;
                Arrival arrival = link.receive(link.now() + SECOND);
                while (!(arrival instanceof Arrival.Nothing)) {
                    if (arrival instanceof Arrival.Dropped d) {
                        assertThat(blocks).isEqualTo(ArrivalQueue.MOST_BLOCKS); // in its place
                        dropped += d.arrivals();
                    } else if (decoded(arrival) instanceof RigMessage.Samples m) {
                        assertThat(m.blockNumber()).isEqualTo(blocks++ + dropped);
                    } else {
                        assertThat(decoded(arrival)).isEqualTo(new RigMessage.Ack(7)); // never dropped for samples
                    }
                    arrival = link.receive(link.now() + SECOND);
                }

                // not all 3000: those that were still on the line when the taking began found room
                assertThat(dropped).isBetween(1000L, 3000L);
                assertThat(blocks + dropped).isEqualTo(sent);
            }
        }

        private static RigMessage.Samples block(int number) {
            return new RigMessage.Samples(number, number * 1000L, 1_000_000, new short[4]);
        }

        private static RigMessage decoded(Arrival arrival) {
            return ((Decoded.Known<RigMessage>) MessageCodec.decodeRig(((Arrival.Received) arrival).frame())).message();
        }

        @Test
        void tells_the_wall_clock_of_the_moment_while_its_own_clock_never_steps() {
            Instant[] wall = {Instant.parse("2026-03-01T12:00:00Z")};
            Clock clock = new Clock() {
                @Override
                public ZoneId getZone() {
                    return ZoneOffset.UTC;
                }

                @Override
                public Clock withZone(ZoneId zone) {
                    return this;
                }

                @Override
                public Instant instant() {
                    return wall[0];
                }
            };
            try (var pty = new RawPty();
                    var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED, clock, Optional.empty())) {
                long utc = link.utcMicros();
                long now = link.now();
                wall[0] = Instant.parse("2026-03-01T11:00:00Z"); // set back by an hour

                assertThat(link.utcMicros() - utc).isEqualTo(-3600 * SECOND);
                assertThat(link.now()).isBetween(now, now + 10 * SECOND);
            }
        }

        @Test
        void gives_the_port_free_when_closed() {
            try (var pty = new RawPty()) {
                SerialLink.open(pty.path(), SerialLink.USUAL_SPEED).close();
                SerialLink.open(pty.path(), SerialLink.USUAL_SPEED).close();
            }
        }

        @Test
        void sends_what_waits_before_it_closes() throws Exception {
            try (var pty = new RawPty()) {
                var rig = CompletableFuture.supplyAsync(() -> read(pty, 10)); // as a rig does, all the time
                var link = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED);
                Frame cut = MessageCodec.encode(new HostMessage.Cut(), 5);
                link.send(cut);
                link.close();

                assertThat(rig.get(10, TimeUnit.SECONDS)).endsWith(FrameCodec.encode(cut));
            }
        }
    }

    @Nested
    class Opening {
        @Test
        void a_busy_port_is_refused() {
            try (var pty = new RawPty();
                    var first = SerialLink.open(pty.path(), SerialLink.USUAL_SPEED)) {
                assertThat(first.address()).isEqualTo("serial:" + pty.path());
                assertThatThrownBy(() -> SerialLink.open(pty.path(), SerialLink.USUAL_SPEED))
                        .isInstanceOf(LinkException.class)
                        .hasMessage("serial:" + pty.path()
                                + ": the port is busy; another program holds it. End that program, then try again.");
            }
        }

        @Test
        void a_port_that_is_not_there_is_refused() {
            assertThatThrownBy(() -> SerialLink.open("/dev/ttyNOWHERE7", SerialLink.USUAL_SPEED))
                    .isInstanceOf(LinkException.class)
                    .hasMessage("serial:/dev/ttyNOWHERE7: no such port; expected a serial port's path, such as"
                            + " /dev/ttyACM0. Check the cable; 'rig list' shows the ports that are there.");
            assertThatThrownBy(() -> SerialLink.open("nonsense", SerialLink.USUAL_SPEED))
                    .hasMessageStartingWith("serial:nonsense: no such port;");
        }

        @Test
        void what_is_no_serial_port_is_refused(@TempDir Path folder) throws IOException {
            Path file = Files.writeString(folder.resolve("a-file"), "text");

            for (String path : List.of("/dev/null", file.toString(), folder.toString())) {
                assertThatThrownBy(() -> SerialLink.open(path, SerialLink.USUAL_SPEED))
                        .isInstanceOf(LinkException.class)
                        .hasMessageStartingWith("serial:" + path + ": not a serial port");
            }
            assertThat(file).hasContent("text");
        }

        @Test
        void a_link_to_a_port_is_followed(@TempDir Path folder) throws IOException {
            try (var pty = new RawPty()) {
                Path name = Files.createSymbolicLink(folder.resolve("rig"), Path.of(pty.path()));

                SerialLink.open(name.toString(), SerialLink.USUAL_SPEED).close();
            }
        }
    }

    @Nested
    class With_a_rig {
        @Test
        void loses_no_block_at_4_kHz_while_the_host_talks() throws IOException {
            var profile = ProfileReader.find("specs/tarn-drive.profile.yaml");
            try (var rig = new PtyRig(profile, SimOptions.seeded(1), Optional.empty());
                    var link = SerialLink.open(rig.path(), SerialLink.USUAL_SPEED)) {
                int s = 0;
                send(link, new HostMessage.Hello(1, 0), s++);
                send(link, new HostMessage.Configure(4000, 100), s++);
                send(link, new HostMessage.Limits(9000, 20, 0, 0, 0, 9000, 0, 0), s++);
                send(link, new HostMessage.Arm(8200), s++);
                List<Long> blocks = new ArrayList<>();
                List<Integer> acks = new ArrayList<>();
                long end = link.now() + 2 * SECOND;
                while (link.now() < end) {
                    send(link, new HostMessage.Heartbeat(), s++);
                    Arrival arrival = link.receive(link.now() + 100_000);
                    if (arrival instanceof Arrival.Nothing) {
                        continue; // a busy machine; what is lost shows below
                    }
                    assertThat(arrival).isInstanceOf(Arrival.Received.class);
                    var message = MessageCodec.decodeRig(((Arrival.Received) arrival).frame());
                    if (message instanceof Decoded.Known<RigMessage> known) {
                        if (known.message() instanceof RigMessage.Samples m) {
                            blocks.add(m.blockNumber());
                        } else if (known.message() instanceof RigMessage.Ack m) {
                            acks.add(m.sequence());
                        }
                    }
                }

                assertThat(acks).containsExactly(1, 2, 3);
                assertThat(blocks).hasSizeGreaterThan(20); // 80 in 2 s on a machine that is not too busy
                for (int i = 0; i < blocks.size(); i++) {
                    assertThat(blocks.get(i)).isEqualTo(i);
                }
                assertThat(rig.dropped()).isZero();
            }
        }

        private static void send(Link link, HostMessage message, int sequence) {
            link.send(MessageCodec.encode(message, sequence));
        }
    }

    private static byte[] read(RawPty pty, int atLeast) {
        var all = new ByteArrayOutputStream();
        for (int i = 0; i < 100 && all.size() < atLeast; i++) {
            all.writeBytes(pty.read());
        }
        return all.toByteArray();
    }
}
