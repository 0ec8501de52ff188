package org.shiftstand.sim;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * How a simulated rig and unit behave; the text after {@code sim:} in {@code --rig sim:key=value,…}.
 *
 * <p>{@code fault=} opens a fault; {@code pair, direction, from-cycle, to-cycle, amount, rate} after it speak of it, until the
 * next {@code fault=}. {@code fault=a+b} opens several with one address, each with its usual amount unless {@code amount}
 * follows, which then is that of all. {@link #help()} lists every key.
 *
 * @param seed of everything random; any whole number
 * @param start sprocket the unit stands on at first, 1…N
 * @param gated whether the unit powers its sensors only around motion
 * @param direct whether the rig can also turn the motor itself ({@code drive=direct})
 * @param landingSdDeg usual spread of landings, degrees
 * @param noiseCounts noise of a Hall channel, counts (sd)
 * @param thirdHarmonic of the Hall pair, as a part of the fundamental
 * @param maxWakeUpDeg most reading error of the first sample after power-up; the least is half of it
 * @param faults what is wrong with the unit
 * @param line what is wrong with the rig and the line to it
 */
public record SimOptions(
        long seed,
        int start,
        boolean gated,
        boolean direct,
        double landingSdDeg,
        double noiseCounts,
        double thirdHarmonic,
        double maxWakeUpDeg,
        List<SimFault> faults,
        Line line) {
    public SimOptions {
        faults = List.copyOf(faults);
    }

    /**
     * What goes wrong in the rig and between it and the host; times in seconds since the simulation began.
     *
     * @param atS when each mishap happens; those that never do are left out
     * @param replugAfterS so long after each unplugging the line is whole again; empty for never
     * @param reboot the rig boots when it is plugged in again: its clock and its numbers start anew
     * @param silent the rig never says anything
     * @param protocol major version that the rig speaks; 0 for the right one
     */
    public record Line(
            Map<Mishap, List<Double>> atS, OptionalDouble replugAfterS, boolean reboot, boolean silent, int protocol) {
        /** A sound line to a sound rig. */
        public static final Line SOUND = new Line(Map.of(), OptionalDouble.empty(), false, false, 0);

        public Line {
            Map<Mishap, List<Double>> copy = new EnumMap<>(Mishap.class);
            atS.forEach((mishap, times) -> copy.put(mishap, List.copyOf(times)));
            atS = Collections.unmodifiableMap(copy);
        }

        Due due(Mishap mishap) {
            return new Due(atS.getOrDefault(mishap, List.of()));
        }
    }

    /** A sound unit on a sound line. */
    public static SimOptions seeded(long seed) {
        return parse("seed=" + seed);
    }

    /** The same with other faults. */
    public SimOptions withFaults(List<SimFault> others) {
        return new SimOptions(
                seed, start, gated, direct, landingSdDeg, noiseCounts, thirdHarmonic, maxWakeUpDeg, others, line);
    }

    /** The same with another seed. */
    public SimOptions withSeed(long other) {
        return new SimOptions(
                other, start, gated, direct, landingSdDeg, noiseCounts, thirdHarmonic, maxWakeUpDeg, faults, line);
    }

    /**
     * Reads {@code key=value,key=value,…}; empty text for all defaults.
     *
     * @throws IllegalArgumentException that names every unknown key and value with what was expected and the nearest word
     */
    public static SimOptions parse(String text) {
        return new SimOptionsText(text).read();
    }

    /** Every key, its meaning and default, every fault; lines of at most 100 characters. */
    public static String help() {
        return SimOptionsText.help();
    }
}
