package org.shiftstand.judge;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.UnitLimits;
import org.shiftstand.bench.UnitLimits.Side;

/**
 * What is known of the bench that a run was made on; makes uncertainty budgets possible.
 *
 * @param rig its description; without one there is no budget, since its calibrations and backlash are unknown
 * @param limitSpreadDeg the larger spread of the touches at this unit's own mechanical limits, degrees, 0 or more
 */
public record BenchFacts(Optional<RigDescription> rig, OptionalDouble limitSpreadDeg) {
    /** Nothing known. */
    public static final BenchFacts NONE = new BenchFacts(Optional.empty(), OptionalDouble.empty());

    BenchFacts with(RigDescription described) {
        return new BenchFacts(Optional.of(described), limitSpreadDeg);
    }

    BenchFacts with(UnitLimits limits) {
        return new BenchFacts(
                rig,
                Stream.of(limits.outboard(), limits.inboard())
                        .map(Side::spreadDeg)
                        .flatMapToDouble(s -> s.isPresent() ? DoubleStream.of(s.getAsDouble()) : DoubleStream.empty())
                        .max());
    }
}
