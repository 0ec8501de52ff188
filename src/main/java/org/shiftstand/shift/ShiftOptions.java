package org.shiftstand.shift;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * How shifts are found and measured, where the defaults or the profile do not say.
 *
 * @param bandDeg settle band b, degrees, above 0
 * @param dwellS how long a stay must last to be a rest, seconds, above 0
 * @param sense {@code forward} or {@code reversed}; empty leaves it to requests and profile
 * @param firstSprocket number of the outermost sprocket seen, 1…; empty leaves it to requests and profile
 * @param stallCurrentA current above which a shift that stops short has stalled, ampere; empty never calls it stalled
 * @param outboardLimitDeg this unit's mechanical limit beyond sprocket 1, degrees in the profile's frame; goes before
 *     the profile's
 * @param inboardLimitDeg this unit's mechanical limit beyond sprocket N, likewise
 */
public record ShiftOptions(
        double bandDeg,
        double dwellS,
        Optional<String> sense,
        OptionalInt firstSprocket,
        OptionalDouble stallCurrentA,
        OptionalDouble outboardLimitDeg,
        OptionalDouble inboardLimitDeg) {
    public ShiftOptions {
        if (!(bandDeg > 0) || Double.isInfinite(bandDeg)) {
            throw new IllegalArgumentException("the settle band must be above 0 deg: bandDeg=" + bandDeg);
        }
        if (!(dwellS > 0) || Double.isInfinite(dwellS)) {
            throw new IllegalArgumentException("the dwell must be above 0 s: dwellS=" + dwellS);
        }
        if (sense.isPresent()
                && !sense.get().equals(Sense.FORWARD.word())
                && !sense.get().equals(Sense.REVERSED.word())) {
            throw new IllegalArgumentException("the sense is forward or reversed: sense=" + sense.get());
        }
        if (firstSprocket.isPresent() && firstSprocket.getAsInt() < 1) {
            throw new IllegalArgumentException(
                    "sprockets are numbered from 1: firstSprocket=" + firstSprocket.getAsInt());
        }
    }

    /** Band 20 degrees, dwell 150 ms, nothing else said. */
    public static ShiftOptions defaults() {
        return new ShiftOptions(
                20,
                0.15,
                Optional.empty(),
                OptionalInt.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }

    public ShiftOptions withBandDeg(double band) {
        return new ShiftOptions(band, dwellS, sense, firstSprocket, stallCurrentA, outboardLimitDeg, inboardLimitDeg);
    }

    public ShiftOptions withDwellS(double dwell) {
        return new ShiftOptions(bandDeg, dwell, sense, firstSprocket, stallCurrentA, outboardLimitDeg, inboardLimitDeg);
    }

    /** {@code forward} or {@code reversed}. */
    public ShiftOptions withSense(String word) {
        return new ShiftOptions(
                bandDeg, dwellS, Optional.of(word), firstSprocket, stallCurrentA, outboardLimitDeg, inboardLimitDeg);
    }

    public ShiftOptions withFirstSprocket(int number) {
        return new ShiftOptions(
                bandDeg, dwellS, sense, OptionalInt.of(number), stallCurrentA, outboardLimitDeg, inboardLimitDeg);
    }

    public ShiftOptions withStallCurrentA(double ampere) {
        return new ShiftOptions(
                bandDeg, dwellS, sense, firstSprocket, OptionalDouble.of(ampere), outboardLimitDeg, inboardLimitDeg);
    }

    public ShiftOptions withLimits(OptionalDouble outboardDeg, OptionalDouble inboardDeg) {
        return new ShiftOptions(bandDeg, dwellS, sense, firstSprocket, stallCurrentA, outboardDeg, inboardDeg);
    }
}
