package org.shiftstand.spec;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.stream.IntStream;
import org.shiftstand.shift.Measure;

/**
 * A made-up run of forty groups: landing error and overtravel of 18 pairs, hold of 4. Spread 1; what a unit does over the
 * cycles comes on top. Seeded.
 */
final class NoisyRun {
    static final int GROUPS = 40;
    private static final List<Measure> MEASURES = List.of(Measure.LANDING_ERROR, Measure.OVERTRAVEL, Measure.HOLD);
    private static final int PAIRS = 18;
    /** Freedom of the heavy-tailed noise. */
    private static final int FREEDOM = 3;

    private final Random random;
    private final int cycles;
    private final Map<DriftGroup.Kind, CycleSeries> series = new LinkedHashMap<>();

    NoisyRun(long seed, int cycles) {
        this.random = new Random(seed);
        this.cycles = cycles;
    }

    /** How values are scattered. */
    enum Noise {
        WHITE("independent"),
        FOLLOWING("following, 0.3"),
        FOLLOWING_MORE("following, 0.6"),
        ONE_FOLLOWS("one group of 40 following, 0.6"),
        HEAVY("independent, heavy tails (t, 3)");

        private final String words;

        Noise(String words) {
            this.words = words;
        }

        String words() {
            return words;
        }
    }

    /** What the unit does, in standard deviations of one value: as fractions 0…1 of the run go by. */
    interface Course {
        double at(double fraction);
    }

    static final Course LEVEL = fraction -> 0;

    static Course line(double change) {
        return fraction -> change * fraction;
    }

    static Course step(double change) {
        return fraction -> fraction < 0.5 ? 0 : change;
    }

    /** @param drifting how many of the groups, from the first, take the course; the others are level */
    List<TestedGroup> looked(Noise noise, Course course, int drifting) {
        for (int i = 0; i < GROUPS; i++) {
            double phi = switch (noise) {
                case WHITE, HEAVY -> 0;
                case FOLLOWING -> 0.3;
                case FOLLOWING_MORE -> 0.6;
                case ONE_FOLLOWS -> i == 0 ? 0.6 : 0;
            };
            double[] values = scattered(phi, noise == Noise.HEAVY);
            for (int c = 0; c < cycles && i < drifting; c++) {
                values[c] += course.at(c / (cycles - 1.0));
            }
            int pair = i % PAIRS;
            series.put(
                    new DriftGroup.Kind(MEASURES.get(i / PAIRS), pair + 1, pair + 2, OptionalDouble.empty()),
                    CycleSeries.of(IntStream.rangeClosed(1, cycles).toArray(), values));
        }
        return DriftAnalysis.tested(series);
    }

    private double[] scattered(double phi, boolean heavy) {
        double[] values = new double[cycles];
        double last = random.nextGaussian();
        for (int c = 0; c < cycles; c++) {
            values[c] = heavy ? student() : last;
            last = phi * last + Math.sqrt(1 - phi * phi) * random.nextGaussian();
        }
        return values;
    }

    private double student() {
        double squares = 0;
        for (int i = 0; i < FREEDOM; i++) {
            double z = random.nextGaussian();
            squares += z * z;
        }
        return random.nextGaussian() / Math.sqrt(squares / FREEDOM);
    }
}
