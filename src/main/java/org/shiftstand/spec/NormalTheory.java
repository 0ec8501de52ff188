package org.shiftstand.spec;

import java.util.OptionalDouble;
import org.shiftstand.stats.Sample;

/** Statistics that take values to be normally distributed: tolerance intervals and capability. */
final class NormalTheory {
    NormalTheory(Clause clause) {}

    OptionalDouble toleranceEnd(Sample sample) {
        return OptionalDouble.empty();
    }

    LongRun.Limits toleranceLimits(Sample sample, double n, double confidence) {
        return LongRun.Limits.NONE;
    }

    OptionalDouble capability(GroupValues values) {
        return OptionalDouble.empty();
    }

    LongRun.Limits capabilityLimits(GroupValues values, double n, double confidence) {
        return LongRun.Limits.NONE;
    }

    Sensitivity sensitivityOfCapability(GroupValues values, double value, double each) {
        return Sensitivity.NONE;
    }
}
