package org.shiftstand.judge;

import java.util.OptionalDouble;
import org.shiftstand.bench.Contribution.Nature;
import org.shiftstand.bench.Declared.Input;
import org.shiftstand.shift.Measure;

/** How much of an uncertain reading gets into a measure: the factor for its standard uncertainty. */
final class Sensitivity {
    private static final double TWO_INDEPENDENT = Math.sqrt(2);

    private final TypicalShift typical;

    Sensitivity(TypicalShift typical) {
        this.typical = typical;
    }

    /**
     * The factor; empty where the reading has no part in the measure, or a common error cancels in it.
     *
     * <p>Of a share (nature {@code SCALE}) the factor is the share's: a reading that is 1 % too large makes a difference of two
     * readings 1 % too large.
     */
    OptionalDouble of(Input input, Nature nature, Measure measure) {
        double factor = switch (input) {
            case ANGLE -> angle(nature, measure);
            case TIME -> time(nature, measure);
            case CURRENT -> current(nature, measure);
            case SUPPLY -> supply(nature, measure);
        };
        return factor > 0 ? OptionalDouble.of(factor) : OptionalDouble.empty();
    }

    /** Second per degree at a crossing of the band's edge; 0 where nothing tells the speed. */
    double slowness(Measure measure) {
        if (typical.crossingDegPerS().isEmpty()) {
            return 0;
        }
        // within half the band the shaft is slower: at an exponential approach, half as fast
        return (measure == Measure.REST_HOLD ? 2 : 1)
                / typical.crossingDegPerS().getAsDouble();
    }

    private double angle(Nature nature, Measure measure) {
        return switch (measure) {
            case LANDING, LANDING_ERROR, EXTREME, CLEARANCE -> 1;
            case OVERTRAVEL, RINGING, RETURN_RINGING, CREEP, WAKE_UP_ERROR -> ofDifference(nature);
            // each instant is where the angle is off by the band from a rest: a difference of angles
            case HOLD, REST_HOLD -> nature == Nature.EACH ? 2 * slowness(measure) : 0;
            case TRAVEL_TIME, SETTLE_TIME -> nature == Nature.EACH ? TWO_INDEPENDENT * slowness(measure) : 0;
            default -> 0;
        };
    }

    private static double time(Nature nature, Measure measure) {
        return switch (measure) {
            case HOLD, REST_HOLD, TRAVEL_TIME, SETTLE_TIME -> ofDifference(nature);
            case CHARGE, ENERGY -> nature == Nature.SCALE ? 1 : 0;
            default -> 0;
        };
    }

    private double current(Nature nature, Measure measure) {
        boolean share = nature == Nature.SCALE;
        return switch (measure) {
            case PEAK_CURRENT -> 1;
            case CHARGE -> share ? 1 : typical.chargedS();
            case ENERGY -> share ? 1 : typical.chargedS() * typical.supplyV().orElse(0);
            default -> 0;
        };
    }

    private double supply(Nature nature, Measure measure) {
        return measure != Measure.ENERGY
                ? 0
                : nature == Nature.SCALE ? 1 : Math.abs(typical.chargeAs().orElse(0));
    }

    private static double ofDifference(Nature nature) {
        return switch (nature) {
            case EACH -> TWO_INDEPENDENT;
            case COMMON -> 0;
            case SCALE -> 1;
        };
    }
}
