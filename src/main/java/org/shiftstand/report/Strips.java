package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Predicate;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;

/** The strip plots of a report: landings by sprocket and direction, overtravel by pair. */
final class Strips {
    /** More pairs than this: those with broken bounds first, then in order. */
    static final int MOST_PAIRS = 40;

    private final Judgement judgement;
    private final Findings findings;

    Strips(Judgement judgement, Findings findings) {
        this.judgement = judgement;
        this.findings = findings;
    }

    /** Empty where no landing was measured. */
    Optional<Plate> landings() {
        Map<Integer, List<Shift>> kinds = new TreeMap<>();
        for (Shift shift : placed(Measure.LANDING_ERROR)) {
            kinds.computeIfAbsent(
                            shift.to() * 2 + (shift.direction() == Direction.INBOARD ? 0 : 1), k -> new ArrayList<>())
                    .add(shift);
        }
        if (kinds.isEmpty()) {
            return Optional.empty();
        }
        Set<Integer> broken = findings.breaking(Set.of(Measure.LANDING, Measure.LANDING_ERROR));
        List<StripPlot.Row> rows = new ArrayList<>();
        int before = -1;
        for (List<Shift> shifts : kinds.values()) {
            Shift first = shifts.get(0);
            String head = first.to() == before ? "" : Integer.toString(first.to());
            before = first.to();
            rows.add(
                    row(head, first.direction().word(), shifts, Measure.LANDING_ERROR, broken, OptionalDouble.empty()));
        }
        boolean nominal = Findings.placed(judgement);
        OptionalDouble lead = judgement.profile().map(Profile::screwLeadMm).orElse(OptionalDouble.empty());
        StripPlot plot = new StripPlot(
                new StripPlot.Frame(
                        "landings",
                        "Landings by sprocket and direction",
                        "One dot for each shift: its landing less the " + (nominal ? "nominal position" : "centre")
                                + " of the sprocket.",
                        "landing less " + (nominal ? "nominal" : "centre"),
                        "sprocket, arriving",
                        Unit.DEG,
                        lead.isPresent() ? OptionalDouble.of(lead.getAsDouble() / 360) : lead,
                        false,
                        nominal),
                rows);
        String svg = plot.draw();
        List<String> notes = new ArrayList<>();
        notes.add(
                nominal
                        ? "Zero is the nominal position of each sprocket, after the alignment stated in the title block."
                        : "Zero is the centre of each sprocket: the mean of its two directions\u2019 means. Without a fit to a profile"
                                + " only the spread is measured; a common error is not.");
        notes.add("Positive is inboard. Within a row, time runs downwards.");
        notes.add(
                lead.isPresent()
                        ? "Millimetres follow from the screw lead, " + Figures.asWritten(lead.getAsDouble(), Unit.MM)
                                + " a turn."
                        : "No axis in millimetres: no screw lead is known.");
        common(plot, kinds.values(), notes, Measure.LANDING_ERROR);
        return Optional.of(new Plate(svg, notes));
    }

    /** Empty where no overtravel was measured. */
    Optional<Plate> overtravels() {
        Map<Long, List<Shift>> pairs = new TreeMap<>();
        for (Shift shift : placed(Measure.OVERTRAVEL)) {
            pairs.computeIfAbsent(key(shift), k -> new ArrayList<>()).add(shift);
        }
        if (pairs.isEmpty()) {
            return Optional.empty();
        }
        Set<Integer> broken = findings.breaking(Set.of(Measure.OVERTRAVEL));
        List<List<Shift>> shown = new ArrayList<>(pairs.values());
        if (shown.size() > MOST_PAIRS) {
            shown.sort(Comparator.comparing(
                            (List<Shift> shifts) -> shifts.stream().noneMatch(s -> broken.contains(s.number())))
                    .thenComparing(shifts -> key(shifts.get(0))));
            shown = new ArrayList<>(shown.subList(0, MOST_PAIRS));
            shown.sort(Comparator.comparing(shifts -> key(shifts.get(0))));
        }
        List<StripPlot.Row> rows = new ArrayList<>();
        Direction before = null;
        for (List<Shift> shifts : shown) {
            Shift first = shifts.get(0);
            String head = first.direction() == before ? "" : first.direction().word();
            before = first.direction();
            rows.add(row(
                    head,
                    first.from() + Words.ARROW + first.to(),
                    shifts,
                    Measure.OVERTRAVEL,
                    broken,
                    nominalOvertravel(judgement, first)));
        }
        StripPlot plot = new StripPlot(
                new StripPlot.Frame(
                        "overtravels",
                        "Overtravel by pair of sprockets",
                        "One dot for each shift: how far it went past its landing, against the bounds of the spec.",
                        "overtravel",
                        "shift",
                        Unit.DEG,
                        OptionalDouble.empty(),
                        true,
                        true),
                rows);
        String svg = plot.draw();
        List<String> notes = new ArrayList<>();
        notes.add("Overtravel is the signed distance from landing to plateau, positive in the direction of motion; 0"
                + " where the unit made none.");
        if (rows.stream().anyMatch(r -> r.nominal().isPresent())) {
            notes.add("The small triangle under a row is the profile\u2019s nominal value.");
        }
        if (pairs.size() > MOST_PAIRS) {
            notes.add(shown.size() + " of " + pairs.size() + " pairs are drawn: those with a broken bound first.");
        }
        common(plot, shown, notes, Measure.OVERTRAVEL);
        return Optional.of(new Plate(svg, notes));
    }

    /** The profile's overtravel for a shift; empty without a profile or for a shift outside it. */
    static OptionalDouble nominalOvertravel(Judgement judgement, Shift shift) {
        return judgement
                .profile()
                .filter(p -> shift.from() != shift.to()
                        && Math.min(shift.from(), shift.to()) >= 1
                        && Math.max(shift.from(), shift.to()) <= p.sprockets()
                        && (shift.to() > shift.from()) == (shift.direction() == Direction.INBOARD)
                        && p.overtravelInboardDeg().size() == p.sprockets() - 1
                        && p.overtravelOutboardDeg().size() == p.sprockets() - 1)
                .map(p -> p.overtravel(shift.from(), shift.to()))
                .orElse(OptionalDouble.empty());
    }

    private void common(StripPlot plot, Iterable<List<Shift>> rows, List<String> notes, Measure measure) {
        notes.add(
                "The strokes at the upper and lower edge of a row mark its mean; sd is the sample standard deviation of what is drawn.");
        for (List<Shift> row : rows) {
            if (row.size() > StripPlot.MANY) {
                notes.add("In rows of more than " + StripPlot.MANY
                        + " shifts, dots that would cover each other are drawn as one.");
                break;
            }
        }
        plot.beyond().ifPresent(notes::add);
        long displaced = leftOut(measure, Shift::displaced);
        if (displaced > 0) {
            notes.add(Figures.count(displaced, "displaced shift")
                    + " left out: not started on the sprocket it should leave.");
        }
        long unsure = leftOut(measure, Shift::sprocketsUnsure);
        if (unsure > 0) {
            notes.add(Figures.count(unsure, "shift")
                    + " left out: sprockets not known, since samples before or after are damaged.");
        }
    }

    private long leftOut(Measure measure, Predicate<Shift> which) {
        return judgement.table().shifts().stream()
                .filter(which)
                .filter(s -> Findings.scripted(s) && s.get(measure).number().isPresent())
                .count();
    }

    private List<Shift> placed(Measure measure) {
        return judgement.table().shifts().stream()
                .filter(s -> Findings.scripted(s)
                        && s.inPlace()
                        && s.get(measure).number().isPresent())
                .toList();
    }

    private StripPlot.Row row(
            String head,
            String label,
            List<Shift> shifts,
            Measure measure,
            Set<Integer> broken,
            OptionalDouble nominal) {
        double[] values = new double[shifts.size()];
        boolean[] marks = new boolean[values.length];
        for (int i = 0; i < values.length; i++) {
            values[i] = shifts.get(i).get(measure).number().orElseThrow();
            marks[i] = broken.contains(shifts.get(i).number());
        }
        return new StripPlot.Row(head, label, values, marks, findings.boundsOn(measure, shifts.get(0)), nominal);
    }

    /** Inboard pairs from the smallest sprocket on, then outboard ones from the largest down. */
    private static long key(Shift shift) {
        boolean inboard = shift.direction() == Direction.INBOARD;
        int from = inboard ? shift.from() : 1000 - shift.from();
        int to = inboard ? shift.to() : 1000 - shift.to();
        return (inboard ? 0 : 10_000_000L) + from * 2000L + to;
    }
}
