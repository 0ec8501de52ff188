package org.shiftstand.planning;

import java.util.List;

/**
 * What the verdict of a whole spec is worth.
 *
 * @param points over how many times wider than a sound unit's everything scatters; the first is 1
 */
public record WholeSpec(List<OperatingCurve.Point> points) {
    public WholeSpec {
        points = List.copyOf(points);
    }

    /** Verdicts on a sound unit. */
    public Tally ofGood() {
        return points.get(0).verdicts();
    }
}
