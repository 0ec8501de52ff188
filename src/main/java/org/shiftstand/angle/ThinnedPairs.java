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
        keep(x, y);
        untilNext = stride - 1;
    }

    /** Adds those that another has kept, as thin as these are: neither counts for more than its share. */
    void append(ThinnedPairs later) {
        while (stride < later.stride) {
            halve();
        }
        long skipped = 0;
        for (int i = 0; i < later.size; i++) {
            long every = stride / later.stride; // grows whenever these are halved
            if (skipped++ % every == 0) {
                keep(later.cos[i], later.sin[i]);
            }
        }
    }

    private void keep(double x, double y) {
        if (size == most) {
            halve();
        }
        cos[size] = x;
        sin[size++] = y;
    }

    private void halve() {
        size = (size + 1) / 2;
        for (int i = 0; i < size; i++) {
            cos[i] = cos[2 * i];
            sin[i] = sin[2 * i];
        }
        stride *= 2;
    }

    int size() {
        return size;
    }
}
