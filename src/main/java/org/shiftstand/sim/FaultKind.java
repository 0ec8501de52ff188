package org.shiftstand.sim;

/** What can be wrong with a simulated unit, one thing at a time; {@code amount} is in the unit given here. */
public enum FaultKind {
    SPREAD("spread", "deg", 25, "landings spread with this standard deviation"),
    BIAS("bias", "deg", 40, "lands this much further inboard; overtravel stays"),
    OVERTRAVEL_SHORT("overtravel-short", "deg", 80, "overtravel this much shorter, at least 40 deg left"),
    OVERTRAVEL_LONG("overtravel-long", "deg", 80, "overtravel this much longer"),
    OVERTRAVEL_MISSING("overtravel-missing", "%", 100, "overtravel this much smaller; 100 for none at all"),
    SHORT_HOLD("short-hold", "ms", 300, "hold this much shorter, at least 200 ms left"),
    SLOW("slow", "%", 60, "top speed divided by 1 + this"),
    RINGING("ringing", "deg", 40, "control loop overshoots each stop by about this much, then rings"),
    LIMIT_CLOSE("limit-close", "deg", 30, "goes this close to the stop beyond the first and last sprocket"),
    MISSED("missed", "", 0, "the request is not acted upon; sensors wake, nothing moves"),
    DOUBLE("double", "sprocket", 1, "goes this much too far"),
    DRIFT("drift", "deg per 100 cycles", 100, "landings wander inboard from from-cycle on"),
    SENSOR_DROPOUT("sensor-dropout", "samples", 12, "one Hall output reads 0 in the middle of the motion"),
    LOST_FRAMES("lost-frames", "block", 1, "so many sample blocks in the middle of the shift never arrive"),
    JAM("jam", "%", 40, "the shaft is blocked after this much of the pitch"),
    CREEP("creep", "deg", 30, "moves this much outboard once the unit is at rest and asleep");

    private final String word;
    private final String unit;
    private final double usual;
    private final String meaning;

    FaultKind(String word, String unit, double usual, String meaning) {
        this.word = word;
        this.unit = unit;
        this.usual = usual;
        this.meaning = meaning;
    }

    /** As options write it, such as {@code overtravel-missing}. */
    public String word() {
        return word;
    }

    /** Unit of {@code amount}; empty where the fault has none. */
    public String unit() {
        return unit;
    }

    /** The amount where none is given. */
    public double usual() {
        return usual;
    }

    /** What it does, for help texts. */
    public String meaning() {
        return meaning;
    }
}
