package org.shiftstand.planning;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Unit;

/**
 * Chance to pass over a quality that is swept from good to bad: an operating characteristic.
 *
 * @param worsening how the unit gets worse
 * @param sign which way its values move, 1 or −1
 * @param unit of every quality here
 * @param good quality of a sound unit, where the curve begins: 0, of a spread its standard deviation
 * @param bad quality of a stated bad unit; see {@link Qualities}
 * @param points quality ascending, the first is good
 * @param ofBad verdicts on a stated bad unit
 */
public record OperatingCurve(
        Worsening worsening, int sign, Unit unit, double good, double bad, List<Point> points, Tally ofBad) {
    /** Verdicts on units of one quality. */
    public record Point(double quality, Tally verdicts) {}

    public OperatingCurve {
        points = List.copyOf(points);
    }

    /** Verdicts on a sound unit. */
    public Tally ofGood() {
        return points.get(0).verdicts();
    }

    /** Chance that a sound unit does not pass. */
    public Chance producersRisk() {
        Tally good = ofGood();
        return new Chance(good.fail() + good.noVerdict(), good.repetitions());
    }

    /** Chance that a stated bad unit passes. */
    public Chance consumersRisk() {
        return ofBad.passes();
    }

    /** The quality at which the chance to pass first falls to this, between two points in proportion; empty where it never does. */
    public OptionalDouble qualityAt(double chance) {
        Point before = points.get(0);
        for (Point point : points) {
            double p = point.verdicts().passes().share();
            double above = before.verdicts().passes().share();
            if (p <= chance) {
                return OptionalDouble.of(
                        above <= chance
                                ? before.quality()
                                : before.quality()
                                        + (point.quality() - before.quality()) * (above - chance) / (above - p));
            }
            before = point;
        }
        return OptionalDouble.empty();
    }
}
