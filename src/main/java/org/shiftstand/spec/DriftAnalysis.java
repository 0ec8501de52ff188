package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.stats.Holm;
import org.shiftstand.stats.Persistence;

/**
 * Looks for drift over the cycles of a run: pure.
 *
 * <p>Groups are measure × pair × supply, so that nothing a procedure changes on purpose looks like drift; one value a cycle, of
 * shifts that landed. Each group is tested for a trend (Mann–Kendall) and for a step (Pettitt); p of all tests together by Holm, so
 * that a unit without drift shows some, anywhere, with probability {@value #ALPHA} at most. Values that follow their
 * predecessors would show some too often: both tests' variances are inflated by a first-order process, whose coefficient
 * is taken from all groups of a measure together ({@link Persistence}). How often a good unit is blamed all the same is
 * measured in {@code src/bench/DRIFT.md}.
 */
public final class DriftAnalysis {
    /** Fewer cycles with a value say nothing about a drift. */
    public static final int LEAST_CYCLES = 12;

    static final double ALPHA = 0.05;
    static final double CONFIDENCE = 0.95;

    /** Always followed, landing by its error; and what else a clause judges. */
    private static final List<Measure> FOLLOWED = List.of(
            Measure.LANDING_ERROR,
            Measure.OVERTRAVEL,
            Measure.HOLD,
            Measure.SETTLE_TIME,
            Measure.PEAK_CURRENT,
            Measure.CREEP);

    private static final Comparator<DriftGroup.Kind> ORDER = Comparator.comparing(DriftGroup.Kind::measure)
            .thenComparing((DriftGroup.Kind kind) -> kind.from() > kind.to()) // inboard first
            .thenComparing(DriftGroup.Kind::from)
            .thenComparing(DriftGroup.Kind::to)
            .thenComparing(kind -> kind.supplyV().orElse(0));

    private final ShiftTable table;
    private final List<ClauseResult> clauses;

    private DriftAnalysis(ShiftTable table, List<ClauseResult> clauses) {
        this.table = table;
        this.clauses = clauses;
    }

    /**
     * Looks at every group with enough cycles.
     *
     * @param clauses the judged clauses of the same table
     */
    public static RunDrift of(ShiftTable table, List<ClauseResult> clauses) {
        int cycles = (int) table.shifts().stream()
                .mapToInt(Shift::cycle)
                .filter(cycle -> cycle > 0)
                .distinct()
                .count();
        return cycles < LEAST_CYCLES ? RunDrift.none(cycles) : new DriftAnalysis(table, clauses).look(cycles);
    }

    private RunDrift look(int cycles) {
        Map<DriftGroup.Kind, CycleSeries> all = series();
        Map<DriftGroup.Kind, CycleSeries> enough = new TreeMap<>(ORDER);
        all.forEach((kind, series) -> {
            if (series.size() >= LEAST_CYCLES) {
                enough.put(kind, series);
            }
        });
        List<DriftGroup> groups = groups(enough);
        return new RunDrift(
                cycles,
                ALPHA,
                CONFIDENCE,
                groups,
                all.size() - enough.size(),
                ClauseCourses.of(table, clauses, groups));
    }

    /** On all cores: lines through thousands of cycles are most of what a long run costs once its shifts are measured. */
    private static List<DriftGroup> groups(Map<DriftGroup.Kind, CycleSeries> all) {
        return tested(all).parallelStream().map(TestedGroup::described).toList();
    }

    /** Tests groups together: p with regard to all of them. */
    static List<TestedGroup> tested(Map<DriftGroup.Kind, CycleSeries> all) {
        Map<Measure, Persistence> pooled = pooled(all);
        List<TestedGroup> alone = new ArrayList<>();
        all.forEach((kind, series) -> alone.add(TestedGroup.alone(
                kind,
                series,
                pooled.getOrDefault(kind.measure(), new Persistence(0)).orOwn(series.values()))));
        double[] p = new double[2 * alone.size()];
        for (int i = 0; i < alone.size(); i++) {
            p[2 * i] = alone.get(i).trend().p();
            p[2 * i + 1] = alone.get(i).step().p();
        }
        double[] adjusted = Holm.adjusted(p);
        List<TestedGroup> together = new ArrayList<>();
        for (int i = 0; i < alone.size(); i++) {
            together.add(alone.get(i).among(adjusted[2 * i], adjusted[2 * i + 1], ALPHA / alone.size()));
        }
        return together;
    }

    private static Map<Measure, Persistence> pooled(Map<DriftGroup.Kind, CycleSeries> all) {
        Map<Measure, List<double[]>> values = new EnumMap<>(Measure.class);
        all.forEach((kind, series) ->
                values.computeIfAbsent(kind.measure(), k -> new ArrayList<>()).add(series.values()));
        Map<Measure, Persistence> pooled = new EnumMap<>(Measure.class);
        values.forEach((measure, list) -> pooled.put(measure, Persistence.of(list)));
        return pooled;
    }

    private Map<DriftGroup.Kind, CycleSeries> series() {
        Map<DriftGroup.Kind, List<Shift>> byKind = new TreeMap<>(ORDER);
        Set<Measure> measures = measures();
        for (Shift shift : table.shifts()) {
            if (shift.cycle() > 0 && shift.outcome() == Outcome.LANDED) {
                measures.stream()
                        .filter(measure -> counts(shift, measure))
                        .forEach(measure -> byKind.computeIfAbsent(kind(measure, shift), k -> new ArrayList<>())
                                .add(shift));
            }
        }
        Map<DriftGroup.Kind, CycleSeries> series = new TreeMap<>(ORDER);
        byKind.forEach((kind, shifts) -> series.put(
                kind,
                CycleSeries.of(
                        shifts,
                        shifts.stream()
                                .mapToDouble(shift ->
                                        shift.get(kind.measure()).number().orElseThrow())
                                .toArray())));
        return series;
    }

    private static boolean counts(Shift shift, Measure measure) {
        return shift.get(measure).number().isPresent()
                && !shift.sprocketsUnsure()
                && !(shift.displaced() && GroupValues.LANDING_AND_OVERTRAVEL.contains(measure));
    }

    static DriftGroup.Kind kind(Measure measure, Shift shift) {
        return new DriftGroup.Kind(measure, shift.from(), shift.to(), shift.supplyV());
    }

    private Set<Measure> measures() {
        Set<Measure> measures = new LinkedHashSet<>(FOLLOWED);
        clauses.forEach(result -> result.clause()
                .measure()
                .filter(measure -> measure != Measure.LANDING)
                .ifPresent(measures::add));
        return measures;
    }
}
