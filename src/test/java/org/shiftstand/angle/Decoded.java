package org.shiftstand.angle;

import java.util.Arrays;

/** A whole track in arrays, for tests. */
final class Decoded {
    final Correction correction;
    final double[] timeS;
    final double[] angleDeg;
    final byte[] state;
    final byte[] edge;
    final double[] radius;
    final int size;

    private Decoded(Correction correction, double[] t, double[] a, byte[] s, byte[] e, double[] r) {
        this.correction = correction;
        timeS = t;
        angleDeg = a;
        state = s;
        edge = e;
        radius = r;
        size = t.length;
    }

    static Decoded of(AngleTrack track) {
        return read(track, track.open(), 4096);
    }

    static Decoded read(AngleTrack track, AngleReader opened, int blockSize) {
        double[] t = new double[1024];
        double[] a = new double[1024];
        double[] r = new double[1024];
        byte[] s = new byte[1024];
        byte[] e = new byte[1024];
        int n = 0;
        var block = new AngleBlock(blockSize);
        try (AngleReader reader = opened) {
            while (reader.next(block)) {
                while (n + block.size() > t.length) {
                    t = Arrays.copyOf(t, 2 * t.length);
                    a = Arrays.copyOf(a, t.length);
                    r = Arrays.copyOf(r, t.length);
                    s = Arrays.copyOf(s, t.length);
                    e = Arrays.copyOf(e, t.length);
                }
                System.arraycopy(block.timeS, 0, t, n, block.size());
                System.arraycopy(block.angleDeg, 0, a, n, block.size());
                System.arraycopy(block.radius, 0, r, n, block.size());
                System.arraycopy(block.state, 0, s, n, block.size());
                System.arraycopy(block.edge, 0, e, n, block.size());
                n += block.size();
            }
        }
        return new Decoded(
                track.correction(),
                Arrays.copyOf(t, n),
                Arrays.copyOf(a, n),
                Arrays.copyOf(s, n),
                Arrays.copyOf(e, n),
                Arrays.copyOf(r, n));
    }

    /** Median angle of the samples within an interval of time; NaN where there are none. */
    double medianBetween(double fromS, double toS) {
        int from = index(fromS);
        int to = index(toS);
        if (to <= from) {
            return Double.NaN;
        }
        double[] sorted = Arrays.copyOfRange(angleDeg, from, to);
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }

    /** First sample at or after an instant. */
    int index(double atS) {
        int i = Arrays.binarySearch(timeS, atS);
        return i < 0 ? -i - 1 : i;
    }

    long count(byte kindOfEdge) {
        long n = 0;
        for (byte b : edge) {
            n += b == kindOfEdge ? 1 : 0;
        }
        return n;
    }
}
