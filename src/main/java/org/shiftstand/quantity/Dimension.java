package org.shiftstand.quantity;

/** What kind of quantity a unit measures; two quantities compare only within one dimension. */
public enum Dimension {
    ANGLE,
    LENGTH,
    TIME,
    CURRENT,
    VOLTAGE,
    CHARGE,
    ENERGY,
    FREQUENCY,
    TEMPERATURE,
    RATIO,
    COUNT
}
