package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.link.Arrival.Damaged.Kind;

class FrameDecoderTest {
    private static final HexFormat HEX = HexFormat.ofDelimiter(" ");
    /** Worked frames of rig/WIRE.md: hello 1.0, and cut. */
    private static final byte[] HELLO = HEX.parseHex("03 01 01 01 02 01 05 48 e0 a9 93 00");

    private final FrameDecoder decoder = new FrameDecoder();
    private final List<Arrival> arrived = new ArrayList<>();

    @Test
    void finds_a_frame() {
        decoder.feed(HELLO, arrived::add);

        assertThat(arrived).singleElement().isInstanceOf(Arrival.Received.class);
        Frame frame = frame(arrived.get(0));
        assertThat(frame.version()).isEqualTo(1);
        assertThat(frame.type()).isEqualTo(1);
        assertThat(frame.sequence()).isZero();
        assertThat(frame.payload()).containsExactly(1, 0);
    }

    @Test
    void skips_empty_frames() {
        decoder.feed(new byte[] {0, 0, 0}, arrived::add);

        assertThat(arrived).isEmpty();
    }

    @Nested
    class A_damaged_stream {
        @Test
        void with_a_flipped_bit_has_a_wrong_check_sum_and_goes_on_with_the_next_frame() {
            byte[] flipped = HELLO.clone();
            flipped[8] ^= 0x10;

            decoder.feed(flipped, arrived::add);
            decoder.feed(HELLO, arrived::add);

            assertThat(arrived.get(0)).isEqualTo(new Arrival.Damaged(Kind.CHECK_SUM, 11));
            assertThat(arrived.get(1)).isInstanceOf(Arrival.Received.class);
            assertThat(arrived).hasSize(2);
        }

        @Test
        void with_a_frame_cut_short_loses_that_frame_only() {
            decoder.feed(Arrays.copyOf(HELLO, 7), arrived::add);
            decoder.feed(new byte[1], arrived::add);
            decoder.feed(HELLO, arrived::add);

            assertThat(arrived.get(0)).isEqualTo(new Arrival.Damaged(Kind.STUFFING, 7));
            assertThat(arrived.get(1)).isInstanceOf(Arrival.Received.class);
        }

        @Test
        void with_a_lone_byte_says_too_short() {
            decoder.feed(new byte[] {1, 0}, arrived::add);

            assertThat(arrived).containsExactly(new Arrival.Damaged(Kind.TOO_SHORT, 1));
        }

        @Test
        void with_a_lost_zero_loses_the_two_frames_it_parted() {
            decoder.feed(Arrays.copyOf(HELLO, HELLO.length - 1), arrived::add);
            decoder.feed(HELLO, arrived::add);
            decoder.feed(HELLO, arrived::add);

            assertThat(arrived).hasSize(2);
            assertThat(arrived.get(0)).isInstanceOf(Arrival.Damaged.class);
            assertThat(arrived.get(1)).isInstanceOf(Arrival.Received.class);
        }

        @Test
        void without_any_zero_is_dropped_without_being_kept() {
            byte[] noise = new byte[1 << 20];
            Arrays.fill(noise, (byte) 0x55);

            decoder.feed(noise, arrived::add);
            assertThat(arrived).isEmpty();
            decoder.feed(HELLO, arrived::add); // its end also ends the noise
            decoder.feed(HELLO, arrived::add);

            assertThat(arrived.get(0)).isEqualTo(new Arrival.Damaged(Kind.TOO_LONG, (1 << 20) + 11));
            assertThat(arrived.get(1)).isInstanceOf(Arrival.Received.class);
        }
    }

    @Test
    void a_doubled_frame_arrives_twice() {
        decoder.feed(HELLO, arrived::add);
        decoder.feed(HELLO, arrived::add);

        assertThat(arrived).hasSize(2).allMatch(a -> a instanceof Arrival.Received);
    }

    @Test
    void any_split_of_the_stream_gives_the_same_frames() {
        for (int seed = 0; seed < 300; seed++) {
            Random random = new Random(seed);
            ByteArrayOutputStream stream = new ByteArrayOutputStream();
            List<Frame> sent = new ArrayList<>();
            for (int i = 0; i < 20; i++) {
                Frame frame = anyFrame(random);
                sent.add(frame);
                stream.writeBytes(FrameCodec.encode(frame));
            }
            byte[] bytes = stream.toByteArray();

            List<Arrival> got = new ArrayList<>();
            FrameDecoder splitter = new FrameDecoder();
            for (int at = 0; at < bytes.length; ) {
                int n = Math.min(bytes.length - at, random.nextInt(700));
                splitter.feed(bytes, at, n, got::add);
                at += n;
            }

            assertThat(got.stream().map(a -> text(frame(a))))
                    .as("seed %d", seed)
                    .containsExactlyElementsOf(
                            sent.stream().map(FrameDecoderTest::text).toList());
        }
    }

    @Test
    void one_byte_changed_costs_no_more_than_two_frames_and_invents_none() {
        for (int seed = 0; seed < 3000; seed++) {
            Random random = new Random(seed);
            ByteArrayOutputStream stream = new ByteArrayOutputStream();
            List<String> sent = new ArrayList<>();
            for (int i = 0; i < 6; i++) {
                Frame frame = anyFrame(random);
                sent.add(text(frame));
                stream.writeBytes(FrameCodec.encode(frame));
            }
            byte[] bytes = stream.toByteArray();
            bytes[random.nextInt(bytes.length)] ^= (byte) (1 + random.nextInt(255));

            List<Arrival> got = new ArrayList<>();
            new FrameDecoder().feed(bytes, got::add);
            List<String> whole = got.stream()
                    .filter(a -> a instanceof Arrival.Received)
                    .map(a -> text(frame(a)))
                    .toList();

            assertThat(sent).as("seed %d", seed).containsSubsequence(whole);
            assertThat(whole).as("seed %d", seed).hasSizeBetween(4, 5);
        }
    }

    @Test
    void the_largest_frame_fits_and_a_larger_one_is_refused() {
        Frame largest = new Frame(1, 0x82, 0, new byte[FrameCodec.MOST_PAYLOAD]);

        decoder.feed(FrameCodec.encode(largest), arrived::add);

        assertThat(text(frame(arrived.get(0)))).isEqualTo(text(largest));
        assertThatThrownBy(() -> FrameCodec.encode(new Frame(1, 0x82, 0, new byte[FrameCodec.MOST_PAYLOAD + 1])))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("a frame's payload length must be 0 to 1016: payload-length=1017");
    }

    private static Frame anyFrame(Random random) {
        byte[] payload = new byte[random.nextBoolean() ? random.nextInt(20) : random.nextInt(FrameCodec.MOST_PAYLOAD)];
        random.nextBytes(payload);
        return new Frame(random.nextInt(256), random.nextInt(256), random.nextInt(0x10000), payload);
    }

    private static Frame frame(Arrival arrival) {
        return ((Arrival.Received) arrival).frame();
    }

    private static String text(Frame f) {
        return f.version() + " " + f.type() + " " + f.sequence() + " " + HEX.formatHex(f.payload());
    }
}
