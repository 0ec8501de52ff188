package org.shiftstand.planning.cassette;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.stats.Sample;

/**
 * Spread of landings and ringing from measured shifts. Only shifts that landed and started on their sprocket count; each
 * group of a source, sprocket and direction scatters about its own mean. Not thread-safe.
 */
public final class SpreadOfShifts {
    private final Map<String, List<Double>> landingErrors = new LinkedHashMap<>();
    private OptionalDouble ringing = OptionalDouble.empty();
    private int landed;
    private int leftOut;

    /** @param source tells apart sources whose mean landings may differ */
    public void add(String source, List<Shift> shifts) {
        for (Shift shift : shifts) {
            if (shift.outcome() != Outcome.LANDED || shift.displaced()) {
                leftOut++;
                continue;
            }
            landed++;
            String group = source + "\n" + shift.to() + shift.direction().word();
            shift.get(Measure.LANDING_ERROR)
                    .number()
                    .ifPresent(deg -> landingErrors
                            .computeIfAbsent(group, unused -> new ArrayList<>())
                            .add(deg));
            larger(shift.get(Measure.RINGING).number());
            larger(shift.get(Measure.RETURN_RINGING).number());
        }
    }

    private void larger(OptionalDouble deg) {
        if (deg.isPresent() && deg.getAsDouble() > ringing.orElse(-1)) {
            ringing = deg;
        }
    }

    /** Shifts that counted. */
    public int landed() {
        return landed;
    }

    /** Shifts that did not land, or did not start on their sprocket. */
    public int leftOut() {
        return leftOut;
    }

    /**
     * What was seen; the spread is empty where no group has two landings.
     *
     * @param uncertaintyDeg expanded, of an angle
     * @param from for readers
     */
    public ObservedSpread observed(double uncertaintyDeg, String from) {
        List<Sample> groups = landingErrors.values().stream()
                .map(values -> Sample.of(values.stream().mapToDouble(d -> d).toArray()))
                .filter(sample -> sample.count() > 1)
                .toList();
        int freedom = groups.stream().mapToInt(sample -> sample.count() - 1).sum();
        double offset = groups.stream()
                .mapToDouble(sample -> Math.abs(sample.mean().orElseThrow()))
                .max()
                .orElse(0);
        return new ObservedSpread(
                Sample.pooledStandardDeviation(groups),
                freedom == 0 ? OptionalInt.empty() : OptionalInt.of(freedom + 1),
                offset,
                ringing,
                uncertaintyDeg,
                from);
    }
}
