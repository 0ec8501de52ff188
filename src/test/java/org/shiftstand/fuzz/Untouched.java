package org.shiftstand.fuzz;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/** Compares what was measured of sound samples and of damaged ones, outside of the damage. */
final class Untouched {
    private static final List<Measure> OF_ONE_SHIFT = List.of(
            Measure.LANDING,
            Measure.OVERTRAVEL,
            Measure.RINGING,
            Measure.RETURN_RINGING,
            Measure.HOLD,
            Measure.REST_HOLD,
            Measure.TRAVEL_TIME,
            Measure.SETTLE_TIME,
            Measure.EXTREME,
            Measure.PEAK_CURRENT,
            Measure.CHARGE);

    private Untouched() {}

    /**
     * What is wrong with the shifts that damage did not touch; empty where nothing is.
     *
     * @param fromS last instant before the damage, seconds
     * @param toS first instant after it
     * @param late whether everything after it stands at another time, and is not compared
     */
    static List<String> compare(double fromS, double toS, boolean late, ShiftTable sound, ShiftTable found) {
        List<String> wrong = new ArrayList<>();
        List<Shift> were = new ArrayList<>();
        List<Shift> are = new ArrayList<>();
        for (int i = 0; i < sound.shifts().size(); i++) {
            Shift a = sound.shifts().get(i);
            double opens =
                    i == 0 ? 0 : value(sound.shifts().get(i - 1), Measure.SETTLED, value(a, Measure.REQUEST, 0) - 0.4);
            double closes = i + 1 == sound.shifts().size()
                    ? Double.MAX_VALUE
                    : value(sound.shifts().get(i + 1), Measure.REQUEST, 0);
            if (toS >= opens - 0.05 && fromS <= closes + 0.05 || late && opens > fromS) {
                continue;
            }
            Optional<Shift> b = at(found, value(a, Measure.REQUEST, 0));
            if (b.isEmpty()) {
                wrong.add("shift " + a.number() + " at " + value(a, Measure.REQUEST, 0) + " s was dropped");
            } else {
                were.add(a);
                are.add(b.get());
            }
        }
        double realigned = realigned(sound, found, were, are);
        for (int i = 0; i < were.size(); i++) {
            compare(were.get(i), are.get(i), found, realigned, wrong);
        }
        return wrong;
    }

    private static void compare(Shift a, Shift b, ShiftTable found, double realigned, List<String> wrong) {
        boolean flagged = found.turnLostFrom().isPresent()
                && b.number() >= found.turnLostFrom().getAsInt();
        if (b.outcome() != a.outcome() && b.outcome() != Outcome.UNKNOWN) {
            wrong.add("shift " + a.number() + " " + a.outcome() + " became " + b.outcome() + " " + b.notes());
        }
        boolean told = flagged || b.outcome() == Outcome.UNKNOWN; // then its numbers are not relied on
        if (!told && (a.from() != b.from() || a.to() != b.to())) {
            wrong.add("shift " + a.number() + " " + a.from() + ">" + a.to() + " became " + b.from() + ">" + b.to() + " "
                    + found.notices());
        }
        for (Measure measure : OF_ONE_SHIFT) {
            OptionalDouble was = a.get(measure).number();
            OptionalDouble is = b.get(measure).number();
            boolean absolute = measure == Measure.LANDING || measure == Measure.EXTREME;
            if (is.isPresent() && !(flagged && absolute)) {
                if (was.isEmpty()) {
                    wrong.add("shift " + a.number() + " " + measure.key() + " " + a.get(measure) + " became "
                            + is.getAsDouble());
                } else if (Math.abs(is.getAsDouble() - was.getAsDouble() - (absolute ? realigned : 0))
                        > tolerance(measure)) {
                    wrong.add("shift " + a.number() + " " + measure.key() + " " + was.getAsDouble() + " became "
                            + is.getAsDouble() + " " + found.notices());
                }
            }
        }
    }

    /**
     * Means of fewer shifts align a little differently, which is told: aligned, not measured; never by turns. Without a
     * profile the origin is arbitrary: what most shifts moved by.
     */
    private static double realigned(ShiftTable sound, ShiftTable found, List<Shift> were, List<Shift> are) {
        if (sound.alignmentDeg().isPresent() && found.alignmentDeg().isPresent()) {
            return Math.IEEEremainder(
                    found.alignmentDeg().getAsDouble() - sound.alignmentDeg().getAsDouble(), 360);
        }
        double[] moved = IntStream.range(0, were.size())
                .mapToDouble(i -> value(are.get(i), Measure.LANDING, Double.NaN)
                        - value(were.get(i), Measure.LANDING, Double.NaN))
                .filter(d -> !Double.isNaN(d))
                .sorted()
                .toArray();
        return moved.length == 0 ? 0 : moved[moved.length / 2];
    }

    /** Angles: the correction is fitted to all samples, also the damaged; times and currents: only the shift's own. */
    private static double tolerance(Measure measure) {
        return switch (measure.unit()) {
            case DEG -> 0.3;
            case S -> 0.001;
            default -> 1e-3;
        };
    }

    private static Optional<Shift> at(ShiftTable table, double requestS) {
        return table.shifts().stream()
                .filter(shift -> Math.abs(value(shift, Measure.REQUEST, -9) - requestS) < 0.1)
                .findFirst();
    }

    static double value(Shift shift, Measure measure, double otherwise) {
        return shift.get(measure).number().orElse(otherwise);
    }
}
