package org.shiftstand.planning.cassette;

import java.util.List;
import java.util.OptionalDouble;

/**
 * What is to be planned.
 *
 * @param cassettes in the order wanted
 * @param presentPitchMm from sprocket to sprocket of the present cassette, where it is known
 */
public record CassetteWish(
        List<Wanted> cassettes,
        OptionalDouble presentPitchMm,
        Spacing spacing,
        OvertravelRule overtravel,
        ObservedSpread spread,
        RoomRule rule) {
    public CassetteWish {
        cassettes = List.copyOf(cassettes);
    }

    /**
     * One cassette.
     *
     * @param sprockets 2 or more
     * @param pitchMm from sprocket to sprocket, above 0: the first sprocket stays where it is; empty keeps both ends
     */
    public record Wanted(int sprockets, OptionalDouble pitchMm) {
        public Wanted {
            if (sprockets < 2 || pitchMm.stream().anyMatch(p -> !(p > 0))) {
                throw new IllegalArgumentException(
                        "two sprockets or more, a pitch above 0: sprockets=" + sprockets + ", pitchMm=" + pitchMm);
            }
        }

        public static Wanted keepingEnds(int sprockets) {
            return new Wanted(sprockets, OptionalDouble.empty());
        }
    }
}
