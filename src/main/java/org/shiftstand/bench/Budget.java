package org.shiftstand.bench;

import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.shiftstand.stats.Gum;

/**
 * Everything that makes one measure of one shift uncertain, taken to be independent of each other.
 *
 * @param measure key of the measure, such as {@code landing}
 * @param contributions in the order they were put together; may be empty
 */
public record Budget(String measure, List<Contribution> contributions) {
    public Budget {
        contributions = List.copyOf(contributions);
    }

    /**
     * Contributions put together at one value.
     *
     * @param standard combined standard uncertainty, in the measure's base unit
     * @param freedom effective degrees of freedom by Welch and Satterthwaite, not truncated; may be infinite
     * @param ranked the largest first
     */
    public record Combined(double standard, double freedom, List<Ranked> ranked) {
        public Combined {
            ranked = List.copyOf(ranked);
        }

        /** At this level of confidence: k for the truncated degrees of freedom, and U = k · u. */
        public Expanded expanded(double confidence) {
            double k = Gum.coverageFactor(freedom, confidence);
            return new Expanded(k, k * standard, confidence);
        }
    }

    /**
     * One contribution in its place.
     *
     * @param standard in the measure's base unit
     * @param share of the combined variance, 0…1
     */
    public record Ranked(Contribution contribution, double standard, double share) {}

    /**
     * An interval's half.
     *
     * @param factor k
     * @param expanded U, in the measure's base unit
     */
    public record Expanded(double factor, double expanded, double confidence) {}

    /**
     * Puts together (JCGM 100, eq. 10 and G.2b).
     *
     * @param value of the measure, base unit: what is a share of it depends on it
     */
    public Combined combined(double value) {
        double[] components =
                contributions.stream().mapToDouble(c -> c.at(value)).toArray();
        double[] freedoms = contributions.stream()
                .mapToDouble(Contribution::degreesOfFreedom)
                .toArray();
        Gum.Combined together = Gum.combine(components, freedoms);
        double[] shares = together.shares();
        List<Ranked> ranked = IntStream.range(0, components.length)
                .mapToObj(i -> new Ranked(contributions.get(i), components[i], shares[i]))
                .sorted(Comparator.comparingDouble(Ranked::standard).reversed())
                .toList();
        return new Combined(together.standard(), together.freedom(), ranked);
    }
}
