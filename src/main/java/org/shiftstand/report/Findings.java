package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import org.shiftstand.judge.Judgement;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Selection;
import org.shiftstand.spec.Statistic;
import org.shiftstand.spec.Verdict;

/**
 * Looks up which shifts stand behind a clause's result, so that they can be shown. Decides nothing: what failed was
 * decided before, and is only found again by its number.
 */
final class Findings {
    private final Judgement judgement;
    private final Map<Integer, Shift> byNumber = new HashMap<>();

    Findings(Judgement judgement) {
        this.judgement = judgement;
        judgement.table().shifts().forEach(shift -> byNumber.put(shift.number(), shift));
    }

    /** Whether single shifts break this clause, rather than a statistic of many. */
    static boolean individual(Clause clause) {
        return clause.statistic().kind().nature() != Statistic.Nature.ESTIMATOR;
    }

    /** Whether the bound of this clause is a bound for the value of each shift. */
    static boolean boundsEachShift(Clause clause) {
        return clause.statistic().kind().nature() == Statistic.Nature.EXTREME
                && clause.statistic().kind() != Statistic.Kind.FIRST_FAILURE
                && clause.measure().isPresent();
    }

    private static boolean spread(Clause clause) {
        return clause.statistic().kind().spread();
    }

    List<ClauseResult> with(Verdict verdict) {
        return judgement.clauses().stream().filter(c -> c.verdict() == verdict).toList();
    }

    /** Groups of this verdict, the least margin first; those without a margin before all others. */
    static List<GroupResult> groups(ClauseResult result, Verdict verdict) {
        return result.groups().stream()
                .filter(group -> group.verdict() == verdict)
                .sorted(Comparator.comparingDouble(group -> group.margin().orElse(Double.NEGATIVE_INFINITY)))
                .toList();
    }

    /** The shifts behind the failed groups of a clause, in time order, each once. */
    List<Shift> broken(ClauseResult result) {
        Set<Integer> numbers = new TreeSet<>();
        groups(result, Verdict.FAIL).forEach(group -> numbers.addAll(group.shifts()));
        return shifts(numbers);
    }

    /** Numbers of the shifts that alone broke a clause on one of these measures. */
    Set<Integer> breaking(Set<Measure> measures) {
        Set<Integer> numbers = new HashSet<>();
        for (ClauseResult result : with(Verdict.FAIL)) {
            Clause clause = result.clause();
            if (clause.measure().filter(measures::contains).isPresent() && individual(clause)) {
                groups(result, Verdict.FAIL).forEach(group -> numbers.addAll(group.shifts()));
            }
        }
        return numbers;
    }

    /** Which shift shows best why this clause failed. */
    Optional<Shift> telling(ClauseResult result) {
        List<GroupResult> failed = groups(result, Verdict.FAIL);
        if (failed.isEmpty()) {
            return Optional.empty();
        }
        Clause clause = result.clause();
        Comparator<Shift> earliest = Comparator.comparingInt(Shift::number);
        if (clause.measure().isEmpty()) {
            return broken(result).stream().min(earliest);
        }
        if (spread(clause)) {
            List<Shift> worst = shifts(new TreeSet<>(failed.get(0).shifts()));
            Measure measure = clause.measure().get() == Measure.LANDING
                    ? Measure.LANDING_ERROR
                    : clause.measure().get();
            double mean = worst.stream()
                    .flatMap(shift -> shift.get(measure).number().stream().boxed())
                    .mapToDouble(Double::doubleValue)
                    .average()
                    .orElse(0);
            return worst.stream()
                    .filter(shift -> shift.get(measure).number().isPresent())
                    .max(Comparator.<Shift>comparingDouble(shift ->
                                    Math.abs(shift.get(measure).number().getAsDouble() - mean))
                            .thenComparing(earliest.reversed()));
        }
        return broken(result).stream()
                .min(Comparator.<Shift>comparingDouble(
                                shift -> margin(clause, shift).orElse(Double.POSITIVE_INFINITY))
                        .thenComparing(earliest));
    }

    /** A shift with the least margin to any clause that bounds each shift, and that clause. */
    Optional<Close> closest() {
        Close best = null;
        double least = Double.POSITIVE_INFINITY;
        for (ClauseResult result : judgement.clauses()) {
            Clause clause = result.clause();
            if (!boundsEachShift(clause)) {
                continue;
            }
            for (Shift shift : judgement.table().shifts()) {
                OptionalDouble margin =
                        whole(shift) && selects(clause.where(), shift) ? margin(clause, shift) : OptionalDouble.empty();
                double relative = margin.orElse(Double.POSITIVE_INFINITY) / size(clause.bound());
                if (relative < least) {
                    least = relative;
                    best = new Close(shift, Optional.of(clause));
                }
            }
        }
        return Optional.ofNullable(best).or(this::farthestLanding);
    }

    private Optional<Close> farthestLanding() {
        return judgement.table().shifts().stream()
                .filter(Findings::whole)
                .max(Comparator.<Shift>comparingDouble(shift -> Math.abs(
                                shift.get(Measure.LANDING_ERROR).number().orElse(0)))
                        .thenComparing(Comparator.comparingInt(Shift::number).reversed()))
                .map(shift -> new Close(shift, Optional.empty()));
    }

    /** The tightest bounds that clauses put on this measure of a shift with this direction, from and to. */
    Optional<Bound> boundsOn(Measure measure, Shift shift) {
        OptionalDouble low = OptionalDouble.empty();
        OptionalDouble high = OptionalDouble.empty();
        for (ClauseResult result : judgement.clauses()) {
            Clause clause = result.clause();
            if (!clause.measure().equals(Optional.of(measure))
                    || !boundsEachShift(clause)
                    || !selectsWay(clause.where(), shift)) {
                continue;
            }
            Bound bound = clause.bound();
            if (bound.atLeast().isPresent() && bound.atLeast().getAsDouble() > low.orElse(Double.NEGATIVE_INFINITY)) {
                low = bound.atLeast();
            }
            if (bound.atMost().isPresent() && bound.atMost().getAsDouble() < high.orElse(Double.POSITIVE_INFINITY)) {
                high = bound.atMost();
            }
        }
        return low.isEmpty() && high.isEmpty() ? Optional.empty() : Optional.of(new Bound(low, high, measure.unit()));
    }

    /** Distance inside the bound, base unit, negative outside; empty where the shift has no such number. */
    static OptionalDouble margin(Clause clause, Shift shift) {
        if (clause.measure().isEmpty()) {
            return OptionalDouble.empty();
        }
        OptionalDouble value = shift.get(clause.measure().get()).number();
        if (value.isEmpty()) {
            return value;
        }
        double x = value.getAsDouble();
        Bound bound = clause.bound();
        double below = bound.atLeast().isPresent() ? x - bound.atLeast().getAsDouble() : Double.POSITIVE_INFINITY;
        double above = bound.atMost().isPresent() ? bound.atMost().getAsDouble() - x : Double.POSITIVE_INFINITY;
        return OptionalDouble.of(Math.min(below, above));
    }

    static boolean selects(Selection where, Shift shift) {
        return selectsWay(where, shift)
                && holds(where.cycle(), shift.cycle())
                && (where.step().isEmpty()
                        || shift.step().filter(where.step()::contains).isPresent())
                && (where.supplyV().isEmpty()
                        || (shift.supplyV().isPresent()
                                && holds(where.supplyV(), shift.supplyV().getAsDouble())));
    }

    private static boolean selectsWay(Selection where, Shift shift) {
        return where.direction().map(shift.direction()::equals).orElse(true)
                && holds(where.from(), shift.from())
                && holds(where.to(), shift.to());
    }

    private static boolean holds(List<Selection.Range> ranges, double x) {
        return ranges.isEmpty() || ranges.stream().anyMatch(range -> range.holds(x));
    }

    private static boolean whole(Shift shift) {
        return scripted(shift) && shift.outcome() == Outcome.LANDED && shift.evidence() == Evidence.COMPLETE;
    }

    /** Whether angles count from the profile's zero: only then do its positions and limits have a place among them. */
    static boolean placed(Judgement judgement) {
        return judgement.profile().isPresent()
                && (judgement.table().alignmentDeg().isPresent()
                        || judgement.table().originMeasured());
    }

    /** Cycle 0 holds homing and what was broken off with the run, which no clause judges. */
    static boolean scripted(Shift shift) {
        return shift.cycle() > 0;
    }

    private static double size(Bound bound) {
        double low = bound.atLeast().orElse(0);
        double high = bound.atMost().orElse(0);
        double size = bound.atLeast().isPresent() && bound.atMost().isPresent()
                ? high - low
                : Math.max(Math.abs(low), Math.abs(high));
        return size > 0 ? size : 1;
    }

    private List<Shift> shifts(Set<Integer> numbers) {
        List<Shift> found = new ArrayList<>();
        for (int number : numbers) {
            Shift shift = byNumber.get(number);
            if (shift != null) {
                found.add(shift);
            }
        }
        return found;
    }

    /** The shift after this one in time, where there is one. */
    Optional<Shift> after(Shift shift) {
        return Optional.ofNullable(byNumber.get(shift.number() + 1));
    }

    /** @param clause the one it comes closest to; empty where no clause bounds each shift */
    record Close(Shift shift, Optional<Clause> clause) {}
}
