package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.learn.Estimated;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.OvertravelPattern;

/** Overtravel by shift, both directions, achieved and programmed. */
final class OvertravelPlate {
    /** Shifts over more than one sprocket beyond these stand in the table alone. */
    private static final int MOST_JUMPS = 24;

    private final Learned learned;

    OvertravelPlate(Learned learned) {
        this.learned = learned;
    }

    Plate draw() {
        List<IntervalPlot.Row> rows = new ArrayList<>();
        String before = "";
        for (LearnedStep step : learned.steps()) {
            rows.add(row(before, step.direction().word(), step));
            before = step.direction().word();
        }
        List<LearnedStep> jumps =
                learned.jumps().subList(0, Math.min(MOST_JUMPS, learned.jumps().size()));
        for (LearnedStep jump : jumps) {
            rows.add(row(before, "jumps", jump));
            before = "jumps";
        }
        IntervalPlot plot = new IntervalPlot(
                new IntervalPlot.Frame(
                        "overtravel-drawn",
                        "Overtravel by shift",
                        "Each shift's overtravel as achieved and as programmed, with intervals; none, irregular and not"
                                + " seen in words.",
                        "overtravel, deg",
                        "shift",
                        List.of("achieved", "programmed"),
                        Optional.empty(),
                        true),
                rows);
        return new Plate(plot.draw(), notes(jumps.size()));
    }

    private List<String> notes(int jumps) {
        List<String> notes = new ArrayList<>();
        notes.add(
                "Filled dot, upper line: what the shaft did (achieved). Hollow diamond, lower line: what the firmware was"
                        + " told (programmed), as estimated"
                        + (learned.stopping().known() ? "." : "; not known here."));
        notes.add("Capped strokes: interval of the mean, " + LearnedWords.confidence(learned)
                + "; narrower than its mark it hides behind it. Thick bar: from least to greatest seen.");
        notes.add("None means no plateau in any shift; the rate is the largest that could have gone unseen ("
                + LearnedWords.percent(learned.options().confidence())
                + "). Overtravel below the settle band cannot be told"
                + " from none.");
        notes.add("A dashed box is a gap: nothing was seen, and nothing stands for it.");
        if (learned.jumps().size() > jumps) {
            notes.add("The first " + jumps + " of " + learned.jumps().size()
                    + " shifts over more than one sprocket are drawn; the table has all.");
        }
        return notes;
    }

    private IntervalPlot.Row row(String before, String head, LearnedStep step) {
        String shown = before.equals(head) ? "" : head;
        OvertravelWords words =
                OvertravelWords.of(step.overtravel(), learned.stopping().known());
        List<String> columns = List.of(words.achieved(), words.programmed());
        return step.overtravel().match(new OvertravelPattern.Cases<>() {
            @Override
            public IntervalPlot.Row programmed(OvertravelPattern.Programmed row) {
                return new IntervalPlot.Row(
                        shown,
                        step.name(),
                        dots(row.achieved(), row.programmedDeg(), row.programmedHalfWidthDeg()),
                        "",
                        false,
                        Palette.TRACE,
                        columns);
            }

            @Override
            public IntervalPlot.Row none(OvertravelPattern.None row) {
                String word = "none in " + Figures.count(row.n(), "shift") + "; up to "
                        + LearnedWords.percent(row.largestUnseenRate()) + " unseen";
                return new IntervalPlot.Row(shown, step.name(), List.of(), word, false, Palette.QUIET, columns);
            }

            @Override
            public IntervalPlot.Row irregular(OvertravelPattern.Irregular row) {
                return new IntervalPlot.Row(
                        shown,
                        step.name(),
                        dots(row.achieved(), row.programmedDeg(), row.programmedHalfWidthDeg()),
                        "irregular, in " + row.with() + " of " + (row.with() + row.without()),
                        false,
                        Palette.OPEN,
                        columns);
            }

            @Override
            public IntervalPlot.Row gap(OvertravelPattern.Gap row) {
                return new IntervalPlot.Row(
                        shown, step.name(), List.of(), "gap: " + row.reason(), true, Palette.OPEN, columns);
            }
        });
    }

    private List<IntervalPlot.Dot> dots(Estimated.Estimate achieved, double programmed, double half) {
        List<IntervalPlot.Dot> dots = new ArrayList<>();
        dots.add(new IntervalPlot.Dot(
                achieved.mean(), achieved.halfWidth(), achieved.least(), achieved.greatest(), true));
        if (learned.stopping().known() && Double.isFinite(programmed)) {
            dots.add(new IntervalPlot.Dot(programmed, half, programmed, programmed, false));
        }
        return dots;
    }
}
