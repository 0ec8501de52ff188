package org.shiftstand.angle;

/** At most 8192 pairs of any number added: every one at first, then at a stride that doubles whenever it is full. */
final class ThinnedPairs {
    private static final int MOST = 8192;

    final double[] cos = new double[MOST];
    final double[] sin = new double[MOST];
    private int size;
    private long untilNext;
    private long stride = 1;

    void add(double x, double y) {
        if (untilNext > 0) {
            untilNext--;
            return;
        }
        if (size == MOST) {
            for (int i = 0; i < MOST / 2; i++) {
                cos[i] = cos[2 * i];
                sin[i] = sin[2 * i];
            }
            size = MOST / 2;
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
