package org.shiftstand.bench;

/**
 * One value of a gauge study.
 *
 * @param unit name of the unit
 * @param mount name of the mount; the same name in several units is the same mount, where it can be
 * @param repeat name of the repeat within unit and mount
 * @param value finite; in the unit of the measure
 * @param shifts how many shifts it is the mean of, 1 or more
 */
public record GaugeValue(String unit, String mount, String repeat, double value, int shifts) {
    public GaugeValue {
        if (!Double.isFinite(value) || shifts < 1) {
            throw new IllegalArgumentException(
                    "a value is finite, and of 1 shift or more: value=" + value + ", shifts=" + shifts);
        }
    }
}
