package org.shiftstand.angle;

/** A block of an angle track in primitive arrays, reused from call to call; the first {@link #size()} are valid. */
public final class AngleBlock {
    /** {@link #state}: the angle is good. */
    public static final byte GOOD = 0;
    /**
     * {@link #state}: sensor fault, the radius is far from 1 or the pair stays the same to the last digit as it never does
     * otherwise; the angle repeats the last good one and means nothing.
     */
    public static final byte FAULT = 1;
    /** {@link #state}: the sensors were off and give no angle; it repeats the last good one and means nothing. */
    public static final byte OFF = 2;

    /** {@link #edge}: the sample before is a neighbour at the sampling interval. */
    public static final byte NONE = 0;
    /** {@link #edge}: first sample of the capture. */
    public static final byte START = 1;
    /** {@link #edge}: samples are missing where there should be some. */
    public static final byte GAP = 2;
    /** {@link #edge}: a new sensing window; nothing was sampled in between while the clock ran. */
    public static final byte WINDOW = 3;
    /** {@link #edge}: a new sensing window, and the clock stood still in between. */
    public static final byte CLOCK_STOPPED = 4;
    /** {@link #edge}: neighbours more than half an electrical turn apart, or not decidable: the turn is not known. */
    public static final byte AMBIGUOUS = 5;
    /**
     * {@link #edge}: the run was broken off and went on later. Nothing is known of what lies between; the angle is given on
     * the turn that makes the smallest motion, and may be any whole number of electrical turns off.
     */
    public static final byte BREAK = 6;

    /** Seconds. */
    public final double[] timeS;
    /** Degrees of output shaft, unwrapped. */
    public final double[] angleDeg;
    /** One of {@link #GOOD}, {@link #FAULT}, {@link #OFF}. */
    public final byte[] state;
    /** What lies between this sample and the one before it. */
    public final byte[] edge;
    /** Whether the sensors were powered (true where the source does not say). */
    public final boolean[] powered;
    /** Ampere, NaN where not captured. */
    public final double[] currentA;
    /** Volt, NaN where not captured. */
    public final double[] supplyV;
    /** Corrected radius over its mean; near 1 for a healthy pair. */
    public final double[] radius;

    private int size;

    public AngleBlock(int capacity) {
        timeS = new double[capacity];
        angleDeg = new double[capacity];
        state = new byte[capacity];
        edge = new byte[capacity];
        powered = new boolean[capacity];
        currentA = new double[capacity];
        supplyV = new double[capacity];
        radius = new double[capacity];
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
