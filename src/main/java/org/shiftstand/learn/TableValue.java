package org.shiftstand.learn;

import java.util.Optional;

/** What stands in the overtravel table for a row: degrees as programmed, 0 for none, empty where it is not known. */
public final class TableValue {
    private TableValue() {}

    /** Irregular rows have no value: neither with nor without overtravel is what the firmware always does. */
    public static Optional<Double> of(LearnedStep step) {
        return step.overtravel().match(new OvertravelPattern.Cases<>() {
            @Override
            public Optional<Double> programmed(OvertravelPattern.Programmed row) {
                return Optional.of(row.programmedDeg());
            }

            @Override
            public Optional<Double> none(OvertravelPattern.None row) {
                return Optional.of(0.0);
            }

            @Override
            public Optional<Double> irregular(OvertravelPattern.Irregular row) {
                return Optional.empty();
            }

            @Override
            public Optional<Double> gap(OvertravelPattern.Gap row) {
                return Optional.empty();
            }
        });
    }
}
