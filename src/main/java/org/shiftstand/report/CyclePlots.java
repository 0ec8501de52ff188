package org.shiftstand.report;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.shiftstand.judge.Judgement;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Resumption;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;

/** The measures over the cycles of a run, small and beside each other. */
final class CyclePlots {
    private static final int MOST_PLOTS = 12;
    /** Between the first or last shift and a break before or behind all of them, in cycles. */
    private static final double EDGE = 0.2;

    private static final List<Measure> ALWAYS =
            List.of(Measure.LANDING_ERROR, Measure.OVERTRAVEL, Measure.HOLD, Measure.SETTLE_TIME, Measure.RINGING);

    private final Judgement judgement;
    private final Findings findings;
    private final List<Shift> shifts;
    private final double[] place;
    private final String axis;

    CyclePlots(Judgement judgement, Findings findings) {
        this.judgement = judgement;
        this.findings = findings;
        this.shifts =
                judgement.table().shifts().stream().filter(Findings::scripted).toList();
        boolean cycles = shifts.stream().mapToInt(Shift::cycle).distinct().count() > 1;
        this.place = cycles
                ? places(shifts)
                : shifts.stream().mapToDouble(Shift::number).toArray();
        this.axis = cycles ? "cycle" : "shift number";
    }

    /** Draws every measure that has numbers; the notes say how to read them and which have none. */
    Many draw() {
        List<String> drawings = new ArrayList<>();
        List<String> notes = new ArrayList<>();
        List<String> without = new ArrayList<>();
        boolean bars = false;
        for (Measure measure : measures()) {
            int[] with = java.util.stream.IntStream.range(0, shifts.size())
                    .filter(i -> shifts.get(i).get(measure).number().isPresent())
                    .toArray();
            if (with.length == 0) {
                without.add(Words.spaced(measure.key()));
            } else {
                bars |= with.length > CyclePlot.MOST_DOTS;
                drawings.add(draw(measure, with));
            }
        }
        notes.add(
                bars
                        ? "Long run: a bar reaches from the least to the most of all shifts at its place, the dot is their median."
                        : "One dot for each shift.");
        notes.add(
                "Diamonds: shifts that broke a clause on this measure. Broken lines: a bound that holds for all shifts.");
        if (breaks().length > 0) {
            notes.add("Upright lines: the run was broken off there and went on later.");
        }
        if (!without.isEmpty()) {
            notes.add("No number in any shift: " + Words.list(without, "and") + ".");
        }
        return new Many(drawings, notes);
    }

    private String draw(Measure measure, int[] with) {
        Set<Integer> numbers = findings.breaking(Set.of(measure));
        double[] x = new double[with.length];
        double[] y = new double[with.length];
        boolean[] broken = new boolean[with.length];
        Map<String, Double> references = measure == Measure.OVERTRAVEL ? references() : Map.of();
        for (int k = 0; k < with.length; k++) {
            Shift shift = shifts.get(with[k]);
            x[k] = place[with[k]];
            y[k] = shift.get(measure).number().orElseThrow() - references.getOrDefault(Words.way(shift), 0.0);
            broken[k] = numbers.contains(shift.number());
        }
        String title = Words.capital(Words.spaced(measure.key()));
        if (measure == Measure.OVERTRAVEL) {
            title += judgement.profile().isPresent() ? " less nominal" : " less the pair\u2019s median";
        }
        return CyclePlot.draw(
                "over-" + measure.key(),
                title,
                title + " of " + Figures.count(with.length, "shift") + " over the " + axis + "s." + brokenOff(),
                measure.unit().symbol(),
                axis,
                x,
                y,
                broken,
                breaks(),
                measure == Measure.OVERTRAVEL ? Optional.empty() : common(measure));
    }

    /** Where breaks fall: between the places of the shifts before and behind. */
    private double[] breaks() {
        List<Resumption> resumptions = judgement.table().resumptions();
        double[] at = new double[shifts.isEmpty() ? 0 : resumptions.size()];
        for (int k = 0; k < at.length; k++) {
            int next = 0;
            while (next < shifts.size()
                    && shifts.get(next).number() <= resumptions.get(k).shiftsBefore()) {
                next++;
            }
            double before = place[Math.max(0, next - 1)];
            double behind = place[Math.min(shifts.size() - 1, next)];
            at[k] = next == 0 ? behind - EDGE : next == shifts.size() ? before + EDGE : (before + behind) / 2;
        }
        return at;
    }

    private String brokenOff() {
        int n = judgement.table().resumptions().size();
        return n == 0 ? "" : " The run was broken off " + (n == 1 ? "once." : n + " times.");
    }

    /** What overtravel is drawn against: the profile's value of the pair, else the pair's median. */
    private Map<String, Double> references() {
        Map<String, List<Double>> pairs = new HashMap<>();
        Map<String, Double> references = new HashMap<>();
        for (Shift shift : shifts) {
            OptionalDouble value = shift.get(Measure.OVERTRAVEL).number();
            OptionalDouble nominal = Strips.nominalOvertravel(judgement, shift);
            if (nominal.isPresent()) {
                references.put(Words.way(shift), nominal.getAsDouble());
            } else if (value.isPresent()) {
                pairs.computeIfAbsent(Words.way(shift), k -> new ArrayList<>()).add(value.getAsDouble());
            }
        }
        pairs.forEach((pair, values) -> {
            values.sort(null);
            references.put(pair, values.get(values.size() / 2));
        });
        return references;
    }

    /** Bounds that hold for all shifts: of clauses on each shift that select all of them. */
    private Optional<Bound> common(Measure measure) {
        OptionalDouble low = OptionalDouble.empty();
        OptionalDouble high = OptionalDouble.empty();
        for (ClauseResult result : judgement.clauses()) {
            Clause clause = result.clause();
            if (clause.measure().equals(Optional.of(measure))
                    && Findings.boundsEachShift(clause)
                    && clause.where().direction().isEmpty()
                    && clause.where().from().isEmpty()
                    && clause.where().to().isEmpty()
                    && clause.where().cycle().isEmpty()
                    && clause.where().step().isEmpty()
                    && clause.where().supplyV().isEmpty()) {
                low = clause.bound().atLeast().isPresent() ? clause.bound().atLeast() : low;
                high = clause.bound().atMost().isPresent() ? clause.bound().atMost() : high;
            }
        }
        return low.isEmpty() && high.isEmpty() ? Optional.empty() : Optional.of(new Bound(low, high, measure.unit()));
    }

    /** Those always shown, then what else a clause judges. */
    private List<Measure> measures() {
        Set<Measure> measures = new LinkedHashSet<>(ALWAYS);
        for (ClauseResult result : judgement.clauses()) {
            result.clause().measure().filter(m -> m != Measure.LANDING).ifPresent(measures::add);
        }
        return measures.stream().limit(MOST_PLOTS).toList();
    }

    /** Within its cycle each shift has its own place, in time order. */
    private static double[] places(List<Shift> shifts) {
        Map<Integer, Integer> sizes = new HashMap<>();
        shifts.forEach(shift -> sizes.merge(shift.cycle(), 1, Integer::sum));
        Map<Integer, Integer> seen = new HashMap<>();
        double[] places = new double[shifts.size()];
        for (int i = 0; i < places.length; i++) {
            int cycle = shifts.get(i).cycle();
            int order = seen.merge(cycle, 1, Integer::sum);
            places[i] = cycle - 0.5 + (order - 0.5) / sizes.getOrDefault(cycle, 1);
        }
        return places;
    }

    /**
     * @param drawings one for each measure
     * @param notes how to read them
     */
    record Many(List<String> drawings, List<String> notes) {
        Many {
            drawings = List.copyOf(drawings);
            notes = List.copyOf(notes);
        }
    }
}
