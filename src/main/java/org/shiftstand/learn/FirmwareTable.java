package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;

/**
 * What a firmware compiles in: the profile's numbers in fixed point.
 *
 * @param name of the kind of unit
 * @param fixed what angles are counted in
 * @param positions sprockets 1…N; empty where not known
 * @param inboard overtravel 1→2 … N−1→N, 0 for none; empty where not known
 * @param outboard overtravel N→N−1 … 2→1, likewise
 * @param dwellMs time after arrival within {@code dwellWithinDeg}, 0…65534 ms; empty where not learned
 * @param restDwellMs the same within {@code restDwellWithinDeg}
 * @param rows each row's own dwell where rows differ: inboard, then outboard; empty where one value does for all
 */
public record FirmwareTable(
        String name,
        FixedPoint fixed,
        List<OptionalInt> positions,
        List<OptionalInt> inboard,
        List<OptionalInt> outboard,
        OptionalInt dwellMs,
        double dwellWithinDeg,
        OptionalInt restDwellMs,
        double restDwellWithinDeg,
        List<OptionalInt> rows) {
    /** The greatest dwell that a uint16_t holds beside its mark for unknown. */
    static final int MOST_MS = 65_534;

    public FirmwareTable {
        positions = List.copyOf(positions);
        inboard = List.copyOf(inboard);
        outboard = List.copyOf(outboard);
        rows = List.copyOf(rows);
    }

    /** How many places of the table are not known. */
    public int unknown() {
        return (int) (positions.stream().filter(OptionalInt::isEmpty).count()
                + inboard.stream().filter(OptionalInt::isEmpty).count()
                + outboard.stream().filter(OptionalInt::isEmpty).count());
    }

    /** The table, or the numbers that do not fit. */
    public static Made of(Learned learned, FixedPoint fixed) {
        return new Rounding(fixed).table(learned);
    }

    /**
     * A table, or why there is none.
     *
     * @param tooLarge what does not fit its type, each a clause; with any the table must not be used
     */
    public record Made(FirmwareTable table, List<String> tooLarge) {
        public Made {
            tooLarge = List.copyOf(tooLarge);
        }
    }

    /** Rounds to whole numbers and notes what would overflow. */
    private static final class Rounding {
        private final FixedPoint fixed;
        private final List<String> tooLarge = new ArrayList<>();

        private Rounding(FixedPoint fixed) {
            this.fixed = fixed;
        }

        private Made table(Learned learned) {
            List<LearnedStep> in = RowKind.ofDirection(learned, org.shiftstand.quantity.Direction.INBOARD);
            List<LearnedStep> out = RowKind.ofDirection(learned, org.shiftstand.quantity.Direction.OUTBOARD);
            List<OptionalInt> rows = new ArrayList<>();
            if (learned.hold().common() == Dwell.Common.DIFFERENT) {
                in.forEach(step -> rows.add(dwell(step)));
                out.forEach(step -> rows.add(dwell(step)));
            }
            FirmwareTable table = new FirmwareTable(
                    learned.options().name(),
                    fixed,
                    learned.positions().stream()
                            .map(p -> angle("position of sprocket " + p.sprocket(), p.programmedDeg()))
                            .toList(),
                    in.stream().map(this::overtravel).toList(),
                    out.stream().map(this::overtravel).toList(),
                    dwell(learned.hold()),
                    learned.hold().withinDeg(),
                    dwell(learned.restHold()),
                    learned.restHold().withinDeg(),
                    rows);
            return new Made(table, tooLarge);
        }

        private OptionalInt overtravel(LearnedStep step) {
            return TableValue.of(step)
                    .map(deg -> angle("overtravel " + step.name(), deg))
                    .orElse(OptionalInt.empty());
        }

        private OptionalInt dwell(Dwell dwell) {
            return dwell.overall()
                    .estimate()
                    .map(e -> milliseconds("dwell within " + Figure.deg(dwell.withinDeg()), e.mean()))
                    .orElse(OptionalInt.empty());
        }

        private OptionalInt dwell(LearnedStep step) {
            return step.get(org.shiftstand.shift.Measure.HOLD)
                    .estimate()
                    .map(e -> milliseconds("dwell " + step.name(), e.mean()))
                    .orElseGet(() -> RowKind.of(step) == RowKind.DIRECT ? OptionalInt.of(0) : OptionalInt.empty());
        }

        /** As the profile has it, so that both are one table. */
        private OptionalInt angle(String what, double deg) {
            if (!Double.isFinite(deg)) {
                return OptionalInt.empty();
            }
            double units = fixed.of(Figure.profileDeg(deg));
            if (Math.abs(units) > Integer.MAX_VALUE) {
                tooLarge.add(what + ", " + Figure.deg(deg) + ", does not fit 32 bits in " + fixed.words());
                return OptionalInt.empty();
            }
            return OptionalInt.of((int) units);
        }

        private OptionalInt milliseconds(String what, double seconds) {
            double ms = Math.rint(Figure.profileMs(seconds));
            if (!(ms >= 0 && ms <= MOST_MS)) {
                tooLarge.add(what + ", " + Figure.of(seconds, org.shiftstand.quantity.Unit.S)
                        + ", does not fit 16 bits in milliseconds");
                return OptionalInt.empty();
            }
            return OptionalInt.of((int) ms);
        }
    }
}
