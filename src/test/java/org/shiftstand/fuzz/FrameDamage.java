package org.shiftstand.fuzz;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;

/**
 * A piece of a damaged stream of frames.
 *
 * @param bytes as they go over the line
 * @param whole whether they are one frame as it was sent
 */
@SuppressWarnings("ArrayRecordComponent") // a carrier; never compared
record FrameDamage(byte[] bytes, boolean whole) {
    private static final int WAYS = 8;

    boolean ends() {
        return bytes.length > 0 && bytes[bytes.length - 1] == 0;
    }

    /** Frames with up to so many things gone wrong among them, in the order in which they come out of the line. */
    static List<FrameDamage> inflict(List<byte[]> frames, int most, Random random) {
        List<FrameDamage> pieces = new ArrayList<>();
        frames.forEach(frame -> pieces.add(new FrameDamage(frame, true)));
        for (int i = random.nextInt(most + 1); i > 0 && !pieces.isEmpty(); i--) {
            inflictOne(pieces, random.nextInt(pieces.size()), random);
        }
        return pieces;
    }

    private static void inflictOne(List<FrameDamage> pieces, int at, Random random) {
        FrameDamage piece = pieces.get(at);
        byte[] bytes = piece.bytes.clone();
        int n = bytes.length;
        switch (random.nextInt(WAYS)) {
            case 0 -> { // bits flipped
                for (int i = 1 + random.nextInt(3); i > 0 && n > 0; i--) {
                    bytes[random.nextInt(n)] ^= (byte) (1 << random.nextInt(8));
                }
                pieces.set(at, new FrameDamage(bytes, Arrays.equals(bytes, piece.bytes) && piece.whole));
            }
            case 1 -> pieces.remove(at); // lost
            case 2 -> pieces.add(at + random.nextInt(2), piece); // doubled
            case 3 -> { // comes later
                pieces.remove(at);
                pieces.add(at + random.nextInt(pieces.size() - at + 1), piece);
            }
            case 4 -> { // cut short
                int kept = random.nextInt(n + 1);
                pieces.set(at, new FrameDamage(Arrays.copyOf(bytes, kept), kept == n && piece.whole));
            }
            case 5 -> { // begins late
                int lost = random.nextInt(n + 1);
                pieces.set(at, new FrameDamage(Arrays.copyOfRange(bytes, lost, n), lost == 0 && piece.whole));
            }
            case 6 -> { // something between
                byte[] more = new byte[random.nextInt(20)];
                random.nextBytes(more);
                int in = random.nextInt(n + 1);
                byte[] longer = new byte[n + more.length];
                System.arraycopy(bytes, 0, longer, 0, in);
                System.arraycopy(more, 0, longer, in, more.length);
                System.arraycopy(bytes, in, longer, in + more.length, n - in);
                pieces.set(at, new FrameDamage(longer, more.length == 0 && piece.whole));
            }
            default -> { // longer than any frame
                byte[] noise = new byte[1030 + random.nextInt(5000)];
                random.nextBytes(noise);
                if (random.nextBoolean()) {
                    for (int i = 0; i < noise.length; i++) {
                        noise[i] |= 1; // without an end
                    }
                }
                pieces.add(at, new FrameDamage(noise, false));
            }
        }
    }
}
