package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

class CobsTest {
    private static final HexFormat HEX = HexFormat.of();

    /** REF-COBS-01: Cheshire and Baker 1999 and the public table; cobs.csv. The closing 00 belongs to the frame. */
    @TestFactory
    List<DynamicTest> stuffs_as_published() {
        return ReferenceRows.of("cobs.csv").stream()
                .map(r -> DynamicTest.dynamicTest(
                        "case " + r[0],
                        () -> assertThat(HEX.formatHex(stuffed(HEX.parseHex(r[1]))) + "00")
                                .isEqualTo(r[2])))
                .toList();
    }

    @TestFactory
    List<DynamicTest> takes_the_published_stuffing_off() {
        return ReferenceRows.of("cobs.csv").stream()
                .map(r -> DynamicTest.dynamicTest("case " + r[0], () -> {
                    byte[] wire = HEX.parseHex(r[2]);
                    byte[] out = new byte[wire.length];
                    int n = Cobs.unstuff(wire, wire.length - 1, out).orElseThrow();
                    assertThat(HEX.formatHex(out, 0, n)).isEqualTo(r[1]);
                }))
                .toList();
    }

    @Test
    void accepts_an_empty_run_behind_a_last_run_of_254() {
        byte[] raw = new byte[254];
        Arrays.fill(raw, (byte) 7);
        byte[] with = Arrays.copyOf(stuffed(raw), 256);
        with[255] = 1; // as some public notes write it

        byte[] out = new byte[256];
        int n = Cobs.unstuff(with, 256, out).orElseThrow();

        assertThat(Arrays.copyOf(out, n)).isEqualTo(raw);
    }

    @Test
    void refuses_a_run_that_points_behind_the_end() {
        assertThat(Cobs.unstuff(HEX.parseHex("0511223344"), 4, new byte[5])).isEmpty();
    }

    @Test
    void gives_back_what_it_stuffed_and_never_a_zero() {
        for (int seed = 0; seed < 2000; seed++) {
            Random random = new Random(seed);
            byte[] raw = new byte[random.nextInt(FrameCodec.MOST_BYTES + 1)];
            random.nextBytes(raw);
            int zeros = random.nextInt(4); // none, few, many: long runs matter
            for (int i = 0; i < raw.length; i++) {
                if (zeros == 0 || (zeros == 1 && raw[i] < 100)) {
                    raw[i] = raw[i] == 0 ? 1 : raw[i];
                } else if (zeros == 2 && raw[i] < 0) {
                    raw[i] = 0;
                }
            }

            byte[] stuffed = stuffed(raw);

            byte[] out = new byte[stuffed.length];
            int n = Cobs.unstuff(stuffed, stuffed.length, out).orElseThrow();
            assertThat(Arrays.copyOf(out, n)).as("seed %d", seed).isEqualTo(raw);
            for (byte b : stuffed) {
                assertThat(b).as("seed %d", seed).isNotZero();
            }
        }
    }

    private static byte[] stuffed(byte[] raw) {
        byte[] out = new byte[Cobs.mostStuffed(raw.length)];
        return Arrays.copyOf(out, Cobs.stuff(raw, raw.length, out, 0));
    }
}
