package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedStep;
import org.shiftstand.learn.Overlay;
import org.shiftstand.learn.OvertravelPattern;

/** All shifts of a row drawn over each other, aligned at their requests; one small drawing a row. */
final class OverlayPanels {
    static final int MOST_PANELS = 40;
    /** Characters of all strands together: keeps the page below 2 MB whatever was captured. */
    private static final int MOST_TEXT = 1_000_000;

    private final Learned learned;
    private final List<Overlay> overlays;

    /** @param notes before the drawings */
    record Panels(List<String> notes, List<String> drawings) {
        Panels {
            notes = List.copyOf(notes);
            drawings = List.copyOf(drawings);
        }
    }

    OverlayPanels(Learned learned, List<Overlay> overlays) {
        this.learned = learned;
        this.overlays = overlays.stream()
                .filter(o -> o.strands().stream().anyMatch(s -> s.angleDeg().length > 1))
                .sorted(Comparator.<Overlay>comparingInt(o -> rank(learned, o)).thenComparing(order(learned)))
                .toList();
    }

    Panels draw() {
        List<Overlay> shown = overlays.subList(0, Math.min(MOST_PANELS, overlays.size()));
        double longest = 0.1;
        for (Overlay overlay : shown) {
            for (Overlay.Strand strand : overlay.strands()) {
                longest = Math.max(longest, (strand.angleDeg().length - 1) * overlay.stepS());
            }
        }
        List<String> drawings = new ArrayList<>();
        for (Overlay overlay : shown) {
            drawings.add(new OverlayPanel(learned, overlay, longest, MOST_TEXT / shown.size()).draw());
        }
        return new Panels(notes(shown.size()), drawings);
    }

    private List<String> notes(int shown) {
        List<String> notes = new ArrayList<>();
        notes.add("Angle from the start of the shift, in the direction of motion, over time since its request;"
                + " below, enlarged about where it should land. Solid: shifts"
                + " learned from. Dashed, brown: shifts held back. Shaded: the settle band about where it should land. A"
                + " strand ends where the sensors were off or the clock stood still.");
        notes.add("Irregular rows first, then rows that rang beyond half the settle band, then the table's order.");
        if (overlays.size() > shown) {
            notes.add("The first " + shown + " of " + overlays.size() + " rows are drawn.");
        }
        return notes;
    }

    static int rank(Learned learned, Overlay overlay) {
        return row(learned, overlay.from(), overlay.to())
                .map(step -> step.overtravel() instanceof OvertravelPattern.Irregular
                        ? 0
                        : step.rang().isEmpty() ? 2 : 1)
                .orElse(3);
    }

    private static Comparator<Overlay> order(Learned learned) {
        return Comparator.<Overlay>comparingInt(o -> Math.abs(o.to() - o.from()) == 1 ? 0 : 1)
                .thenComparingInt(o -> o.to() > o.from() ? o.from() : 1000 - o.from())
                .thenComparingInt(o -> o.to() > o.from() ? o.to() : 1000 - o.to());
    }

    static java.util.Optional<LearnedStep> row(Learned learned, int from, int to) {
        return java.util.stream.Stream.concat(learned.steps().stream(), learned.jumps().stream())
                .filter(step -> step.from() == from && step.to() == to)
                .findFirst();
    }
}
