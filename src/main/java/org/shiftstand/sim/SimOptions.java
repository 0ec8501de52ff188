package org.shiftstand.sim;

import java.util.List;
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
     * What goes wrong between host and rig; times in seconds on the rig's clock.
     *
     * @param loseFrameAtS the next frame from the rig after each of these is lost
     * @param flipByteAtS in the next sample block after each of these one byte is flipped
     * @param estopAtS the emergency stop is pressed
     * @param unplugAtS the line breaks for good
     * @param silent the rig never says anything
     * @param protocol major version that the rig speaks; 0 for the right one
     */
    public record Line(
            List<Double> loseFrameAtS,
            List<Double> flipByteAtS,
            OptionalDouble estopAtS,
            OptionalDouble unplugAtS,
            boolean silent,
            int protocol) {
        public Line {
            loseFrameAtS = List.copyOf(loseFrameAtS);
            flipByteAtS = List.copyOf(flipByteAtS);
        }
    }

    /** A sound unit on a sound line. */
    public static SimOptions seeded(long seed) {
        return parse("seed=" + seed);
    }

    /** The same with other faults. */
    public SimOptions withFaults(List<SimFault> others) {
        return new SimOptions(seed, start, gated, landingSdDeg, noiseCounts, thirdHarmonic, maxWakeUpDeg, others, line);
    }

    /** The same with another seed. */
    public SimOptions withSeed(long other) {
        return new SimOptions(
                other, start, gated, landingSdDeg, noiseCounts, thirdHarmonic, maxWakeUpDeg, faults, line);
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
