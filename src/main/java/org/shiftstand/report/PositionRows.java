package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.judge.AxisAccuracy;
import org.shiftstand.judge.Judgement;
import org.shiftstand.quantity.Unit;
import org.shiftstand.stats.Positioning.Approach;
import org.shiftstand.stats.Positioning.Position;

/** The section on positions by ISO 230-2: each sprocket, and the whole travel in degrees and millimetres. */
final class PositionRows {
    private static final int DEG_DECIMALS = 1;
    private static final int MM_DECIMALS = 3;

    private final AxisAccuracy axis;

    private PositionRows(AxisAccuracy axis) {
        this.axis = axis;
    }

    /** Empty where nothing landed. */
    static Optional<Sheet.Positions> of(Judgement judgement) {
        return AxisAccuracy.of(judgement.table(), judgement.profile()).map(axis -> new PositionRows(axis).section());
    }

    private Sheet.Positions section() {
        String from = axis.placed()
                ? "Deviations of landings from their nominal positions"
                : "Deviations of landings from each sprocket's own centre, since no nominal positions are known: A, E and M"
                        + " are not measured";
        String mm = axis.leadMm().isPresent()
                ? "; millimetres of cage travel by a screw lead of "
                        + Figures.asWritten(axis.leadMm().getAsDouble(), Unit.MM)
                : "; the profile does not say the screw's lead, so there are no millimetres";
        List<Sheet.PositionRow> rows = new ArrayList<>();
        for (int i = 0; i < axis.sprockets().size(); i++) {
            rows.add(row(axis.sprockets().get(i), axis.positioning().positions().get(i)));
        }
        return new Sheet.Positions(
                from + mm
                        + ". \u2191 is inboard, \u2193 outboard; s has the divisor n \u2212 1, R is 4 s of one direction, of"
                        + " both the larger of 2 s\u2191 + 2 s\u2193 + |B| and either 4 s.",
                rows,
                axis.figures().stream().map(this::figure).toList());
    }

    private Sheet.PositionRow row(int sprocket, Position position) {
        return new Sheet.PositionRow(
                String.valueOf(sprocket),
                String.valueOf(position.forward().count()),
                deg(position.forward().mean()),
                deg(position.forward().standardDeviation()),
                String.valueOf(position.backward().count()),
                deg(position.backward().mean()),
                deg(position.backward().standardDeviation()),
                deg(position.reversal()),
                deg(position.repeatability(Approach.BOTH)));
    }

    private Sheet.AxisFigure figure(AxisAccuracy.Figure figure) {
        OptionalDouble mm = axis.mm(figure.deg());
        return new Sheet.AxisFigure(
                figure.symbol(),
                figure.words(),
                figure.deg().isPresent()
                        ? Figures.of(figure.deg().getAsDouble(), Unit.DEG, DEG_DECIMALS)
                        : "not measured",
                mm.isPresent() ? Figures.of(mm.getAsDouble(), Unit.MM, MM_DECIMALS) : "not measured");
    }

    private static String deg(OptionalDouble value) {
        return value.isPresent() ? Figures.bare(value.getAsDouble(), DEG_DECIMALS) : Figures.NONE;
    }
}
