package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.shiftstand.link.RigMessage.Event;

class MessageCodecTest {
    @Test
    void any_host_message_comes_back_as_it_was() {
        for (int seed = 0; seed < 500; seed++) {
            Random r = new Random(seed);
            for (HostMessage m : anyHostMessages(r)) {
                Frame frame = MessageCodec.encode(m, r.nextInt(0xFFFF));

                assertThat(MessageCodec.decodeHost(frame)).as("seed %d", seed).isEqualTo(new Decoded.Known<>(m));
            }
        }
    }

    @Test
    void any_rig_message_comes_back_as_it_was() {
        for (int seed = 0; seed < 500; seed++) {
            Random r = new Random(seed);
            for (RigMessage m : anyRigMessages(r)) {
                Frame frame = MessageCodec.encode(m, r.nextInt(0xFFFF));

                assertThat(MessageCodec.decodeRig(frame))
                        .as("seed %d", seed)
                        .usingRecursiveComparison()
                        .isEqualTo(new Decoded.Known<>(m));
            }
        }
    }

    @Test
    void a_payload_cut_anywhere_is_malformed_never_another_message() {
        for (int seed = 0; seed < 50; seed++) {
            for (RigMessage m : anyRigMessages(new Random(seed))) {
                Frame whole = MessageCodec.encode(m, 1);
                for (int n = 0; n < whole.payload().length; n++) {
                    Frame cut = new Frame(1, whole.type(), 1, Arrays.copyOf(whole.payload(), n));

                    assertThat(MessageCodec.decodeRig(cut))
                            .as("seed %d, %d bytes", seed, n)
                            .isInstanceOf(Decoded.Malformed.class);
                }
            }
        }
    }

    @Test
    void random_payloads_never_throw() {
        for (int seed = 0; seed < 20_000; seed++) {
            Random r = new Random(seed);
            byte[] payload = new byte[r.nextInt(64)];
            r.nextBytes(payload);

            assertThat(MessageCodec.decodeRig(new Frame(1, 0x81 + r.nextInt(6), 0, payload)))
                    .as("seed %d", seed)
                    .isNotNull();
            assertThat(MessageCodec.decodeHost(new Frame(1, r.nextInt(12), 0, payload)))
                    .as("seed %d", seed)
                    .isNotNull();
        }
    }

    @Test
    void fields_appended_by_a_later_minor_version_are_ignored() {
        assertThat(MessageCodec.decodeRig(new Frame(1, 0x84, 0, new byte[] {5, 0, 77, 78})))
                .isEqualTo(new Decoded.Known<>(new RigMessage.Ack(5)));
    }

    @Test
    void an_unknown_type_and_an_unknown_event_kind_are_unknown() {
        assertThat(MessageCodec.decodeRig(new Frame(1, 0x90, 0, new byte[4]))).isEqualTo(new Decoded.Unknown<>(0x90));
        assertThat(MessageCodec.decodeHost(new Frame(1, 0x10, 0, new byte[4]))).isEqualTo(new Decoded.Unknown<>(0x10));
        byte[] event = new byte[15];
        event[0] = 16;
        assertThat(MessageCodec.decodeRig(new Frame(1, 0x83, 0, event))).isEqualTo(new Decoded.Unknown<>(0x83));
    }

    @Test
    void a_value_that_does_not_fit_is_refused_not_cut() {
        assertThatThrownBy(() -> MessageCodec.encode(new HostMessage.Arm(70_000), 0))
                .hasMessage("a field must be 0 to 65535: value=70000");
    }

    @Test
    void the_largest_block_is_124_samples() {
        assertThat(MessageCodec.MOST_SAMPLES).isEqualTo(124);
        assertThatThrownBy(() -> MessageCodec.encode(new RigMessage.Samples(0, 0, 1, new short[500]), 0))
                .hasMessage("a block holds 1 to 124 samples of 4 channels: values=500");
    }

    private static List<HostMessage> anyHostMessages(Random r) {
        return List.of(
                new HostMessage.Hello(r.nextInt(256), r.nextInt(256)),
                new HostMessage.Configure(positive(r), r.nextInt(0x10000)),
                new HostMessage.Arm(r.nextInt(0x10000)),
                new HostMessage.ShiftRequest(r.nextInt(256) - 128, r.nextInt(256)),
                new HostMessage.Button(r.nextInt(256), r.nextInt(0x10000)),
                new HostMessage.SupplySet(r.nextInt(0x10000)),
                new HostMessage.Cut(),
                new HostMessage.Limits(
                        positive(r),
                        positive(r),
                        positive(r),
                        positive(r),
                        r.nextInt(0x10000),
                        r.nextInt(0x10000),
                        positive(r),
                        r.nextInt(0x10000) - 0x8000),
                new HostMessage.Heartbeat(),
                new HostMessage.Stop());
    }

    private static List<RigMessage> anyRigMessages(Random r) {
        short[] samples = new short[4 * (1 + r.nextInt(MessageCodec.MOST_SAMPLES))];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = (short) r.nextInt();
        }
        return List.of(
                new RigMessage.Identity(
                        r.nextInt(256),
                        r.nextInt(256),
                        text(r),
                        text(r),
                        text(r),
                        r.nextInt(2),
                        positive(r),
                        positive(r),
                        positive(r),
                        positive(r),
                        r.nextInt(0x10000)),
                new RigMessage.Samples(
                        r.nextInt() & 0xFFFFFFFFL,
                        r.nextLong() & Long.MAX_VALUE,
                        1 + (r.nextInt() & 0x7FFFFFFFL),
                        samples),
                new Event(
                        List.of(Event.Kind.values()).get(r.nextInt(Event.Kind.values().length)),
                        r.nextLong() & Long.MAX_VALUE,
                        r.nextInt(),
                        r.nextInt(0x10000)),
                new RigMessage.Ack(r.nextInt(0x10000)),
                new RigMessage.Fault(r.nextInt(0x10000), r.nextInt(256), r.nextInt(256)));
    }

    private static int positive(Random r) {
        return r.nextInt() & Integer.MAX_VALUE;
    }

    private static String text(Random r) {
        return "rig-Ω ".repeat(r.nextInt(9)) + r.nextInt(100);
    }
}
