package org.shiftstand.angle;

/** At most as many pairs as it was made for, of any number added: every one at first, then at a stride that doubles whenever it is full. */
final class ThinnedPairs {
    private static final int USUAL = 8192;

    final double[] cos;
    final double[] sin;
    private final int most;
    private int size;
    private long untilNext;
    private long stride = 1;

    ThinnedPairs() {
        this(USUAL);
    }

    ThinnedPairs(int most) {
        this.most = most;
        cos = new double[most];
        sin = new double[most];
    }

    void add(double x, double y) {
        if (untilNext > 0) {
            untilNext--;
            return;
        }
        if (size == most) {
            for (int i = 0; i < most / 2; i++) {
                cos[i] = cos[2 * i];
                sin[i] = sin[2 * i];
            }
            size = most / 2;
            stride *= 2;
        }
        cos[size] = x;
        sin[size++] = y;
        untilNext = stride - 1;
    }

    int size() {
        return size;
    }
}
