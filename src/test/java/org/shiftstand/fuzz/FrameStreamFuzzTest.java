package org.shiftstand.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.Frame;
import org.shiftstand.link.FrameCodec;
import org.shiftstand.link.FrameDecoder;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedRig;
import org.shiftstand.sim.SupplyChange;

/**
 * Streams of frames, damaged on the way: flipped, lost, doubled, out of order, cut, with something between, with noise longer
 * than any frame. To a host: no frame that was not sent, each whole one arrives, every byte is accounted for. To a rig: it
 * says nothing malformed and holds every rule of the supply.
 */
@Timeout(3600)
class FrameStreamFuzzTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");
    private static final int MOST_DAMAGES = 8;
    private static final long SECOND = 1_000_000;
    private static final long BEAT = 200_000;

    @Test
    void to_a_host() {
        List<byte[]> sound = talk(SimOptions.seeded(5));
        Set<String> sent = sound.stream().map(FrameStreamFuzzTest::hex).collect(Collectors.toSet());

        Fuzz.rounds("frame streams to the host", 300, random -> {
            int first = random.nextInt(sound.size() - 40);
            List<FrameDamage> pieces = FrameDamage.inflict(sound.subList(first, first + 40), MOST_DAMAGES, random);
            byte[] stream = joined(pieces);
            List<Arrival> arrived = new ArrayList<>();
            FrameDecoder decoder = new FrameDecoder();
            for (int at = 0; at < stream.length; ) {
                int n = Math.min(stream.length - at, 1 + random.nextInt(2000));
                decoder.feed(stream, at, n, arrived::add);
                at += n;
            }

            List<String> whole = new ArrayList<>();
            long accounted = 0;
            int damaged = 0;
            for (Arrival arrival : arrived) {
                if (arrival instanceof Arrival.Received r) {
                    String frame = hex(FrameCodec.encode(r.frame()));
                    assertThat(sent).contains(frame);
                    assertThat(MessageCodec.decodeRig(r.frame())).isInstanceOf(Decoded.Known.class);
                    whole.add(frame);
                    accounted += FrameCodec.encode(r.frame()).length - 1;
                } else {
                    damaged++;
                    accounted += ((Arrival.Damaged) arrival).bytes();
                }
            }
            assertThat(whole).containsSubsequence(undamaged(pieces));
            assertThat(accounted).isEqualTo(bytesInEndedPieces(stream));
            return damaged == 0 ? "nothing damaged" : "damage counted";
        });
    }

    /** What a sound rig says in some seconds with shifts in them. */
    private static List<byte[]> talk(SimOptions options) {
        var rig = new SimulatedRig(TARN, options);
        List<byte[]> said = new ArrayList<>();
        long now = 0;
        for (Timed timed : script(new Random(1), false)) {
            rig.advanceTo(timed.atMicros, said::add);
            rig.onBytes(timed.frame, 0, timed.frame.length, said::add);
            now = timed.atMicros;
        }
        rig.advanceTo(now + SECOND, said::add);
        return said;
    }

    private static byte[] joined(List<FrameDamage> pieces) {
        var stream = new ByteArrayOutputStream();
        pieces.forEach(piece -> stream.writeBytes(piece.bytes()));
        return stream.toByteArray();
    }

    /** Whole frames behind a sound end, or at the beginning. */
    private static List<String> undamaged(List<FrameDamage> pieces) {
        List<String> found = new ArrayList<>();
        boolean clear = true;
        for (FrameDamage piece : pieces) {
            if (piece.whole() && clear) {
                found.add(hex(piece.bytes()));
            }
            clear = piece.bytes().length == 0 ? clear : piece.ends();
        }
        return found;
    }

    private static long bytesInEndedPieces(byte[] stream) {
        long bytes = 0;
        int end = stream.length;
        while (end > 0 && stream[end - 1] != 0) {
            end--;
        }
        for (int i = 0; i < end; i++) {
            bytes += stream[i] == 0 ? 0 : 1;
        }
        return bytes;
    }

    private static String hex(byte[] bytes) {
        return HexFormat.of().formatHex(bytes);
    }

    @SuppressWarnings("ArrayRecordComponent") // a carrier; never compared
    private record Timed(long atMicros, byte[] frame) {}

    /** What a host says that greets, arms, asks for shifts, drives, changes the supply, cuts and arms again. */
    private static List<Timed> script(Random random, boolean drives) {
        TreeMap<Long, List<HostMessage>> said = new TreeMap<>();
        said.put(0L, List.of(new HostMessage.Hello(1, 1), new HostMessage.Configure(512, 32), LIMITS));
        said.put(1000L, List.of(new HostMessage.Arm(8200)));
        long at = 300_000;
        for (int i = 0; i < 6; i++) {
            said.put(at, List.of(command(random, drives)));
            at += 100_000 + random.nextInt(900_000);
        }
        said.put(at, List.of(new HostMessage.Cut()));
        said.put(at + 100_000, List.of(new HostMessage.Arm(7400)));
        said.put(at + 1_200_000, List.of(new HostMessage.Stop()));
        List<Timed> script = new ArrayList<>();
        int sequence = 0;
        long beat = 1000;
        for (var entry : said.entrySet()) {
            for (; beat < entry.getKey(); beat += BEAT) {
                script.add(timed(beat, new HostMessage.Heartbeat(), sequence++));
            }
            for (HostMessage message : entry.getValue()) {
                script.add(timed(entry.getKey(), message, sequence++));
            }
        }
        return script;
    }

    private static final HostMessage LIMITS = new HostMessage.Limits(9000, 20, 0, 0, 4000, 9000, 0, 600);

    private static HostMessage command(Random random, boolean drives) {
        int way = random.nextInt(drives ? 4 : 3);
        return switch (way) {
            case 0 -> new HostMessage.ShiftRequest(random.nextBoolean() ? 1 : -1, 0);
            case 1 -> new HostMessage.ShiftRequest(0, 1 + random.nextInt(10));
            case 2 -> new HostMessage.SupplySet(6000 + random.nextInt(3000));
            default -> new HostMessage.Drive(random.nextInt(3) - 1, 100 + random.nextInt(1500), 300, 2000);
        };
    }

    private static Timed timed(long micros, HostMessage message, int sequence) {
        return new Timed(micros, FrameCodec.encode(MessageCodec.encode(message, sequence % 0xFFFF)));
    }

    @Test
    void to_a_rig() {
        Fuzz.rounds("frame streams to the rig", 150, random -> {
            boolean drives = random.nextBoolean();
            var rig = new SimulatedRig(
                    TARN,
                    SimOptions.parse("seed=" + random.nextInt(1000) + ",start=" + (1 + random.nextInt(10)) + ",gated="
                            + random.nextBoolean() + (drives ? ",drive=direct" : "")));
            List<Timed> script = script(random, drives);
            List<FrameDamage> pieces =
                    FrameDamage.inflict(script.stream().map(Timed::frame).toList(), MOST_DAMAGES, random);
            FrameDecoder fromRig = new FrameDecoder();
            List<Arrival> said = new ArrayList<>();
            SimulatedRig.Sink sink = frame -> fromRig.feed(frame, said::add);
            var watch = new SupplyWatch(rig);

            for (int i = 0; i < pieces.size(); i++) {
                long at = script.get(Math.min(i, script.size() - 1)).atMicros;
                rig.advanceTo(Math.max(rig.nowMicros(), at), sink);
                byte[] bytes = pieces.get(i).bytes();
                watch.hears(bytes);
                rig.onBytes(bytes, 0, bytes.length, sink);
                watch.checkNow();
            }
            rig.advanceTo(rig.nowMicros() + SECOND + 1, sink); // nobody's heart beats

            assertThat(rig.supplyMv()).isZero();
            watch.checkLog();
            double there = rig.unit().angleDeg();
            rig.advanceTo(rig.nowMicros() + SECOND, sink);
            assertThat(rig.unit().angleDeg() - there).isBetween(-2000.0, 2000.0); // may run out, at most
            double rest = rig.unit().angleDeg();
            rig.advanceTo(rig.nowMicros() + SECOND, sink);
            assertThat(rig.unit().angleDeg()).isEqualTo(rest);
            for (Arrival arrival : said) {
                assertThat(arrival).isInstanceOf(Arrival.Received.class);
                assertThat(MessageCodec.decodeRig(((Arrival.Received) arrival).frame()))
                        .isInstanceOf(Decoded.Known.class);
            }
            return watch.armed ? "armed, then off" : "never armed";
        });
    }

    /** What a rig may do with its supply, from what it was told. */
    private static final class SupplyWatch {
        private final SimulatedRig rig;
        private final FrameDecoder decoder = new FrameDecoder();
        private final List<Long> arms = new ArrayList<>();
        private final List<Long> beats = new ArrayList<>();
        private boolean mustBeOff;
        boolean armed;

        SupplyWatch(SimulatedRig rig) {
            this.rig = rig;
        }

        void hears(byte[] bytes) {
            mustBeOff = false;
            decoder.feed(bytes, this::take);
        }

        private void take(Arrival arrival) {
            if (arrival instanceof Arrival.Received r
                    && MessageCodec.decodeHost(r.frame()) instanceof Decoded.Known<HostMessage> known) {
                take(known.message(), r.frame());
            }
        }

        private void take(HostMessage message, Frame frame) {
            assertThat(frame.version()).isEqualTo(1);
            if (message instanceof HostMessage.Arm) {
                arms.add(rig.nowMicros());
                mustBeOff = false;
            } else if (message instanceof HostMessage.Heartbeat) {
                beats.add(rig.nowMicros());
            } else if (message instanceof HostMessage.Hello
                    || message instanceof HostMessage.Cut
                    || message instanceof HostMessage.Stop) {
                mustBeOff = true; // unless armed again in the same piece
            }
        }

        void checkNow() {
            if (mustBeOff) {
                assertThat(rig.supplyMv()).isZero();
            }
        }

        void checkLog() {
            long onSince = -1;
            for (SupplyChange change : rig.supplyLog()) {
                long at = change.atMicros();
                if (change.milliVolts() > 0 && onSince < 0) {
                    armed = true;
                    assertThat(arms).contains(at);
                    onSince = at;
                } else if (change.milliVolts() == 0) {
                    checkBeats(onSince, at);
                    onSince = -1;
                }
            }
            assertThat(onSince).isEqualTo(-1);
        }

        /** Never on for more than 1 s after a heartbeat, or after it was armed. */
        private void checkBeats(long from, long to) {
            long last = from;
            for (long beat : beats) {
                if (beat >= from && beat <= to) {
                    assertThat(beat - last).isLessThanOrEqualTo(SECOND);
                    last = beat;
                }
            }
            assertThat(to - last).isLessThanOrEqualTo(SECOND);
        }
    }

    /** The oracle itself can fail: a rig that took a damaged arm, or went on without heartbeats, would be found. */
    @Test
    void a_damaged_arm_does_not_count_as_one() {
        byte[] arm = FrameCodec.encode(MessageCodec.encode(new HostMessage.Arm(8200), 3));
        arm[6] ^= 1;
        List<Arrival> arrived = new ArrayList<>();
        new FrameDecoder().feed(arm, arrived::add);

        assertThat(arrived).singleElement().isInstanceOf(Arrival.Damaged.class);
    }

    @Test
    void a_script_without_damage_arms_twice_and_ends_off() {
        var rig = new SimulatedRig(TARN, SimOptions.seeded(1));
        for (Timed timed : script(new Random(3), false)) {
            rig.advanceTo(timed.atMicros, frame -> {});
            rig.onBytes(timed.frame, 0, timed.frame.length, frame -> {});
        }

        assertThat(rig.supplyLog().stream().map(SupplyChange::cause).filter(c -> !c.equals("supply-set")))
                .containsExactly("arm", "cut", "arm", "stop");
    }

    @Test
    void what_a_sound_rig_says_is_all_kinds_of_messages() {
        Set<Class<?>> kinds = talk(SimOptions.seeded(5)).stream()
                .map(frame -> {
                    List<Arrival> one = new ArrayList<>();
                    new FrameDecoder().feed(frame, one::add);
                    return ((Decoded.Known<RigMessage>) MessageCodec.decodeRig(((Arrival.Received) one.get(0)).frame()))
                            .message()
                            .getClass();
                })
                .collect(Collectors.toSet());

        assertThat(kinds).contains(RigMessage.Identity.class, RigMessage.Ack.class, RigMessage.Samples.class);
        assertThat(kinds).contains(RigMessage.Event.class);
    }
}
