package org.shiftstand.spec;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.stats.LineBand;
import org.shiftstand.stats.Persistence;
import org.shiftstand.stats.Projection;
import org.shiftstand.stats.Sample;
import org.shiftstand.stats.TheilSen;

/**
 * The cycle at which a drift that goes on as it did will make a clause fail.
 *
 * <p>For every, minimum and maximum: where the line plus the largest distance from it seen so far, on that side, reaches
 * the bound. For mean and median over the run: they lag, the line's value half way is theirs, so that they reach the
 * bound after twice the way. For standard deviation and range over the run: s² + (slope · cycles)²/12, and range + slope · cycles.
 * The others are not projected, nor is anything farther off than {@value #FARTHEST} times the run.
 */
final class ClauseProjection {
    static final int FARTHEST = 10;

    private final Clause clause;
    private final TheilSen line;
    private final Persistence persistence;
    private final Optional<LineBand> band;
    private final int first;
    private final int last;

    private ClauseProjection(Clause clause, DriftGroup drift) {
        this.clause = clause;
        CycleSeries series = drift.series();
        this.line = TheilSen.of(series.abscissas(), series.values()).orElseThrow();
        this.persistence = new Persistence(drift.phi());
        this.band = drift.band();
        this.first = series.cycle(0);
        this.last = series.cycle(series.size() - 1);
    }

    /**
     * Of one group of a clause.
     *
     * @param shifts the group's
     * @return empty where the drift does not lead the clause to its bound, or is of other shifts
     */
    static Optional<Projection> of(Clause clause, List<Shift> shifts, DriftGroup drift) {
        Measure measure = clause.measure().orElse(Measure.REQUEST);
        boolean landing = measure == Measure.LANDING;
        if (measure != drift.kind().measure() && !(landing && drift.kind().measure() == Measure.LANDING_ERROR)) {
            return Optional.empty();
        }
        List<Shift> own = shifts.stream()
                .filter(shift ->
                        DriftAnalysis.kind(drift.kind().measure(), shift).equals(drift.kind()))
                .toList();
        if (own.isEmpty()) {
            return Optional.empty();
        }
        double offset = landing ? offset(own) : 0;
        ClauseProjection drifting = new ClauseProjection(clause, drift);
        return drifting.project(offset, own.size() == shifts.size()).flatMap(drifting::ahead);
    }

    /** Landing − landing error: the same in all shifts to one sprocket. */
    private static double offset(List<Shift> shifts) {
        return shifts.stream()
                .filter(s -> s.get(Measure.LANDING_ERROR).number().isPresent()
                        && s.get(Measure.LANDING).number().isPresent())
                .mapToDouble(s -> s.get(Measure.LANDING).number().getAsDouble()
                        - s.get(Measure.LANDING_ERROR).number().getAsDouble())
                .findFirst()
                .orElse(0);
    }

    /** @param alone whether the clause's group has no other shifts than those that drift */
    private Optional<Projection> project(double offset, boolean alone) {
        boolean rises = line.slope() > 0;
        OptionalDouble high = clause.bound().atMost();
        OptionalDouble low = clause.bound().atLeast();
        OptionalDouble limit = rises ? high : low;
        return switch (clause.statistic().kind()) {
            case EVERY -> reaches(limit, offset, true);
            case MINIMUM -> rises ? Optional.empty() : reaches(low, offset, true);
            case MAXIMUM -> rises ? reaches(high, offset, true) : Optional.empty();
            case MEAN, MEDIAN ->
                alone
                        ? reaches(limit, offset, false)
                                .map(p -> new Projection(
                                        2 * p.at() - first, 2 * p.from() - first, 2 * p.to() - first, p.confidence()))
                        : Optional.empty();
            case STANDARD_DEVIATION ->
                alone && high.isPresent() ? widens(sdAllows(high.getAsDouble())) : Optional.empty();
            case RANGE -> alone && high.isPresent() ? widens(rangeAllows(high.getAsDouble())) : Optional.empty();
            default -> Optional.empty();
        };
    }

    private Optional<Projection> reaches(OptionalDouble bound, double offset, boolean withSpread) {
        if (bound.isEmpty()) {
            return Optional.empty();
        }
        Sample left = Sample.of(line.residuals());
        double beside =
                line.slope() > 0 ? left.maximum().orElse(0) : left.minimum().orElse(0);
        double limit = bound.getAsDouble() - offset - (withSpread ? beside : 0);
        return band.flatMap(known -> Projection.of(line, known, limit, Double.NEGATIVE_INFINITY));
    }

    /** How far the line may go before the standard deviation over the run is at the bound. */
    private double sdAllows(double bound) {
        double own = Sample.of(line.residuals()).standardDeviation().orElse(0);
        return Math.sqrt(12 * Math.max(0, bound * bound - own * own));
    }

    private double rangeAllows(double bound) {
        return Math.max(0, bound - Sample.of(line.residuals()).range().orElse(0));
    }

    /** The line has gone so far: the interval from that of the slope alone. */
    private Optional<Projection> widens(double allowed) {
        return line.limits(DriftAnalysis.CONFIDENCE, persistence.ofTrend(line.n()))
                .filter(limits -> !limits.hold(0))
                .map(limits -> {
                    double[] ends = {first + allowed / Math.abs(limits.low()), first + allowed / Math.abs(limits.high())
                    };
                    Arrays.sort(ends);
                    return new Projection(
                            first + allowed / Math.abs(line.slope()), ends[0], ends[1], DriftAnalysis.CONFIDENCE);
                });
    }

    /** What has not failed yet fails after the last cycle at the earliest. */
    private Optional<Projection> ahead(Projection projection) {
        double next = last + 1.0;
        double horizon = last + (double) FARTHEST * (last - first);
        return projection.at() > horizon
                ? Optional.empty()
                : Optional.of(new Projection(
                        Math.max(next, projection.at()),
                        Math.max(next, projection.from()),
                        Math.max(next, projection.to()),
                        projection.confidence()));
    }
}
