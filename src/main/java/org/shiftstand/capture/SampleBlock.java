package org.shiftstand.capture;

/**
 * A block of samples in primitive arrays, reused from call to call; the first {@link #size()} elements are valid.
 *
 * <p>A final class, not a record: the arrays are shared and filled in place.
 */
public final class SampleBlock {
    /** Seconds. */
    public final double[] timeS;
    /** Hall outputs, counts or volts as captured. */
    public final double[] hallSin;

    public final double[] hallCos;
    /** Whether the sensors were powered; true where the source does not say. */
    public final boolean[] powered;
    /** Number of the sensor power-up this sample belongs to; 0 where the source does not say. */
    public final int[] window;
    /** Supply current, ampere; NaN where the source does not say. */
    public final double[] currentA;
    /** Supply voltage, volt; NaN where the source does not say. */
    public final double[] supplyV;

    private int size;

    public SampleBlock(int capacity) {
        timeS = new double[capacity];
        hallSin = new double[capacity];
        hallCos = new double[capacity];
        powered = new boolean[capacity];
        window = new int[capacity];
        currentA = new double[capacity];
        supplyV = new double[capacity];
    }

    public int capacity() {
        return timeS.length;
    }

    public int size() {
        return size;
    }

    /** States how many elements are valid. */
    public void size(int size) {
        this.size = size;
    }
}
