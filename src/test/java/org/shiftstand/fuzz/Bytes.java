package org.shiftstand.fuzz;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Random;

/** Changes bytes as damage and clumsy hands do: flips, losses, repeats, cuts, and words that mean something. */
final class Bytes {
    private Bytes() {}

    /** One to six changes; never the same array. */
    static byte[] mutated(byte[] bytes, Random random, List<String> words) {
        byte[] changed = bytes.clone();
        int n = 1 + random.nextInt(6);
        for (int i = 0; i < n; i++) {
            changed = once(changed, random, words);
        }
        return changed;
    }

    private static byte[] once(byte[] b, Random random, List<String> words) {
        if (b.length == 0) {
            return new byte[] {(byte) random.nextInt(256)};
        }
        int at = random.nextInt(b.length);
        int n = Math.min(b.length - at, 1 + random.nextInt(random.nextBoolean() ? 8 : 200));
        return switch (random.nextInt(9)) {
            case 0 -> flipped(b, at, random);
            case 1 -> joined(b, 0, at, new byte[0], at + n);
            case 2 -> joined(b, 0, at + n, Arrays.copyOfRange(b, at, at + n), at + n);
            case 3 -> random.nextInt(4) == 0 ? Arrays.copyOf(b, at) : flipped(b, at, random);
            case 4 -> joined(b, 0, at, noise(n, random), at + n);
            case 5 -> digit(b, at, random);
            default -> {
                byte[] word = words.get(random.nextInt(words.size())).getBytes(StandardCharsets.UTF_8);
                yield joined(b, 0, at, word, random.nextBoolean() ? at : Math.min(b.length, at + word.length));
            }
        };
    }

    private static byte[] flipped(byte[] b, int at, Random random) {
        b[at] ^= (byte) (1 << random.nextInt(8));
        return b;
    }

    /** Another digit in the place of the next one. */
    private static byte[] digit(byte[] b, int from, Random random) {
        for (int i = from; i < b.length; i++) {
            if (b[i] >= '0' && b[i] <= '9') {
                b[i] = (byte) ('0' + random.nextInt(10));
                return b;
            }
        }
        return b;
    }

    private static byte[] noise(int n, Random random) {
        byte[] noise = new byte[n];
        random.nextBytes(noise);
        return noise;
    }

    private static byte[] joined(byte[] b, int from, int to, byte[] middle, int rest) {
        var out = new ByteArrayOutputStream();
        out.write(b, from, to - from);
        out.writeBytes(middle);
        out.write(b, rest, b.length - rest);
        return out.toByteArray();
    }
}
