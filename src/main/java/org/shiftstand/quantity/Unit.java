package org.shiftstand.quantity;

import java.util.Arrays;
import java.util.Optional;

/** A unit as people write it in files: its symbol, its dimension and its size in the dimension's base unit. */
public enum Unit {
    DEG("deg", Dimension.ANGLE, 1),
    TURN("turn", Dimension.ANGLE, 360),
    MM("mm", Dimension.LENGTH, 1),
    UM("um", Dimension.LENGTH, 1e-3),
    S("s", Dimension.TIME, 1),
    MS("ms", Dimension.TIME, 1e-3),
    US("us", Dimension.TIME, 1e-6),
    MIN("min", Dimension.TIME, 60),
    H("h", Dimension.TIME, 3600),
    A("A", Dimension.CURRENT, 1),
    MA("mA", Dimension.CURRENT, 1e-3),
    V("V", Dimension.VOLTAGE, 1),
    MV("mV", Dimension.VOLTAGE, 1e-3),
    AS("As", Dimension.CHARGE, 1),
    MAH("mAh", Dimension.CHARGE, 3.6),
    J("J", Dimension.ENERGY, 1),
    HZ("Hz", Dimension.FREQUENCY, 1),
    KHZ("kHz", Dimension.FREQUENCY, 1e3),
    DEG_C("degC", Dimension.TEMPERATURE, 1),
    PERCENT("%", Dimension.RATIO, 0.01),
    ONE("", Dimension.RATIO, 1),
    SHIFTS("shifts", Dimension.COUNT, 1),
    CYCLES("cycles", Dimension.COUNT, 1);

    private final String symbol;
    private final Dimension dimension;
    private final double inBase;

    Unit(String symbol, Dimension dimension, double inBase) {
        this.symbol = symbol;
        this.dimension = dimension;
        this.inBase = inBase;
    }

    /** As written in files, such as {@code deg}. */
    public String symbol() {
        return symbol;
    }

    public Dimension dimension() {
        return dimension;
    }

    /** One of this unit in the base unit of its dimension (deg, mm, s, A, V, As, J, Hz, degC, 1). */
    public double inBase() {
        return inBase;
    }

    /** A value of this unit in the base unit. For parts of one it divides, so that 57 % is the double nearest to 0.57. */
    public double toBase(double value) {
        return inBase < 1 ? value / Math.rint(1 / inBase) : value * inBase;
    }

    /** A value of the base unit in this one. */
    public double fromBase(double base) {
        return inBase < 1 ? base * Math.rint(1 / inBase) : base / inBase;
    }

    /** The unit of exactly this symbol; {@link #ONE} for none. */
    public static Optional<Unit> of(String symbol) {
        return Arrays.stream(values())
                .filter(unit -> unit.symbol.equals(symbol))
                .findFirst();
    }
}
