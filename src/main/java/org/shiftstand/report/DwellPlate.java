package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.learn.Dwell;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;

/** Dwell at the plateau by shift, in both bands that it is counted in. */
final class DwellPlate {
    private static final int MOST_ROWS = 50;

    private final Learned learned;

    DwellPlate(Learned learned) {
        this.learned = learned;
    }

    /** Empty where no shift dwelt. */
    Optional<Plate> draw() {
        List<LearnedStep> steps = new ArrayList<>(learned.steps());
        steps.addAll(learned.jumps());
        List<IntervalPlot.Row> rows = new ArrayList<>();
        String before = "";
        for (LearnedStep step : steps) {
            List<IntervalPlot.Dot> dots = new ArrayList<>();
            dot(step, Measure.HOLD, true).ifPresent(dots::add);
            dot(step, Measure.REST_HOLD, false).ifPresent(dots::add);
            if (!dots.isEmpty() && rows.size() < MOST_ROWS) {
                String head = step.direction().word();
                rows.add(new IntervalPlot.Row(
                        head.equals(before) ? "" : head,
                        step.name(),
                        dots,
                        learned.hold().apart().contains(step.name()) ? "apart" : "",
                        false,
                        learned.hold().apart().contains(step.name()) ? Palette.OPEN : Palette.TRACE,
                        List.of(
                                LearnedWords.plusMinus(step.get(Measure.HOLD), Measure.HOLD),
                                LearnedWords.plusMinus(step.get(Measure.REST_HOLD), Measure.REST_HOLD))));
                before = head;
            }
        }
        if (rows.isEmpty()) {
            return Optional.empty();
        }
        IntervalPlot plot = new IntervalPlot(
                new IntervalPlot.Frame(
                        "dwell-drawn",
                        "Dwell by shift",
                        "Each shift's time at the plateau, counted in two bands, with intervals.",
                        "ms after arrival within " + band(learned.hold()) + " (dot) or " + band(learned.restHold())
                                + " (diamond)",
                        "shift",
                        List.of("within " + band(learned.hold()), "within " + band(learned.restHold())),
                        common(learned.hold()),
                        false),
                rows);
        return Optional.of(new Plate(plot.draw(), notes()));
    }

    private static String band(Dwell dwell) {
        return Figures.asWritten(dwell.withinDeg(), Unit.DEG);
    }

    private static Optional<IntervalPlot.Dot> dot(LearnedStep step, Measure measure, boolean upper) {
        return step.get(measure)
                .estimate()
                .map(e -> new IntervalPlot.Dot(
                        e.mean() * 1000, e.halfWidth() * 1000, e.least() * 1000, e.greatest() * 1000, upper));
    }

    private static Optional<IntervalPlot.Band> common(Dwell dwell) {
        return dwell.overall()
                .estimate()
                .map(Estimated.Estimate::mean)
                .map(mean ->
                        new IntervalPlot.Band((mean - dwell.toleranceS()) * 1000, (mean + dwell.toleranceS()) * 1000));
    }

    private List<String> notes() {
        return List.of(
                "Filled dot, upper line: dwell " + LearnedWords.after(learned.hold())
                        + ". Hollow diamond, lower line: dwell " + LearnedWords.after(learned.restHold()) + ".",
                "Dwell is the time from the shaft's arrival inside the band until it leaves it; another band gives another"
                        + " number. It is not the time that a firmware waits.",
                "Shaded: within "
                        + Figures.of(learned.hold().toleranceS() * 1000, Unit.MS)
                        + " of the mean over all rows, counted within " + band(learned.hold()) + ".",
                "Capped strokes: interval of the mean, " + LearnedWords.confidence(learned)
                        + ". Thick bar: from least to greatest seen.");
    }
}
