package org.shiftstand.learn.compare;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.Selection;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Statistic;
import org.shiftstand.stats.Holm;

/** Holds a candidate against a base; see the package for what is claimed with which error. */
public final class Comparing {
    private static final Selection EVERYTHING =
            new Selection(Optional.empty(), List.of(), List.of(), List.of(), List.of(), List.of());

    private final Sides sides;
    private final double alpha;

    private Comparing(Sides sides, double confidence) {
        this.sides = sides;
        this.alpha = 1 - confidence;
    }

    /**
     * Compares; the set-ups are known to be alike, or allowed not to be.
     *
     * @param spec named by the user; only its clauses of the statistic {@code equivalent-to} count
     * @param further clauses with margins of the user's own; they go before those of the spec on the same measure and likeness
     * @param unlike what was unlike and allowed
     */
    public static Comparison compare(Sides sides, Optional<Spec> spec, List<Clause> further, List<Unlike> unlike) {
        double confidence = spec.map(s -> s.decision().confidence()).orElse(0.95);
        return new Comparing(sides, confidence).comparison(spec, clauses(spec, further), unlike);
    }

    /** A margin of the user's own takes the place of the spec's: which shifts, and how they are grouped, stays. */
    private static List<Clause> clauses(Optional<Spec> spec, List<Clause> further) {
        Map<String, Clause> given = new LinkedHashMap<>();
        further.forEach(clause -> given.put(subject(clause), clause));
        List<Clause> clauses = new ArrayList<>();
        Set<String> taken = new HashSet<>();
        for (Clause clause : spec.map(Spec::clauses).orElse(List.of())) {
            if (clause.statistic().kind() == Statistic.Kind.EQUIVALENT_TO) {
                String subject = subject(clause);
                taken.add(subject);
                clauses.add(
                        given.containsKey(subject)
                                ? bounded(
                                        clause,
                                        given.getOrDefault(subject, clause).bound())
                                : clause);
            }
        }
        given.forEach((subject, clause) -> {
            if (!taken.contains(subject)) {
                clauses.add(clause);
            }
        });
        return clauses;
    }

    private static Clause bounded(Clause clause, Bound bound) {
        return new Clause(
                clause.id(),
                clause.measure(),
                clause.outcome(),
                clause.where(),
                clause.statistic(),
                clause.per(),
                bound,
                clause.needs(),
                clause.mayMiss(),
                clause.decision(),
                clause.because(),
                clause.line());
    }

    private static String subject(Clause clause) {
        return clause.measureKey() + " " + clause.statistic().settings();
    }

    private Comparison comparison(Optional<Spec> spec, List<Clause> clauses, List<Unlike> unlike) {
        List<Draft> due = new ArrayList<>();
        List<Draft> told = new ArrayList<>();
        boolean ownShares = clauses.stream()
                .anyMatch(clause -> clause.measure().equals(Optional.of(Measure.OVERTRAVEL))
                        && clause.statistic()
                                .settings()
                                .equals(new Statistic.Settings.Alike(Statistic.Likeness.PROPORTION)));
        for (Clause clause : clauses) {
            for (Draft draft : new ClauseRows(clause, true, !ownShares, sides).drafts()) {
                (draft.judged() ? due : told).add(draft);
            }
        }
        for (Clause clause : unjudged(clauses)) {
            told.addAll(new ClauseRows(clause, false, false, sides).drafts());
        }
        List<Compared> judged = decided(due);
        Change change = over(judged);
        double power = judged.stream()
                .mapToDouble(row -> row.power().orElse(row.margin().isPresent() ? 0 : 1))
                .reduce(1, (a, b) -> a * b);
        return new Comparison(
                change,
                reason(judged, change, spec),
                sides,
                spec.map(s -> new Comparison.SpecName(s.name(), s.version(), s.title(), s.sha256())),
                1 - alpha,
                judged,
                decided(told),
                unlike,
                judged.isEmpty() ? 0 : power,
                notices());
    }

    /** Of measures that no clause is about: means by sprocket and direction, to be told. */
    private static List<Clause> unjudged(List<Clause> clauses) {
        Set<String> judged = new HashSet<>();
        clauses.stream()
                .filter(clause ->
                        clause.statistic().settings().equals(new Statistic.Settings.Alike(Statistic.Likeness.MEAN)))
                .forEach(clause -> judged.add(clause.measureKey()));
        return Arrays.stream(Measure.values())
                .filter(Measure::judged)
                .filter(measure -> !judged.contains(measure.key()))
                .map(Comparing::told)
                .toList();
    }

    private static Clause told(Measure measure) {
        Unit unit = measure.unit().dimension() == Dimension.TIME ? Unit.MS : measure.unit();
        return new Clause(
                measure.key(),
                Optional.of(measure),
                Optional.empty(),
                EVERYTHING,
                new Statistic(Statistic.Kind.EQUIVALENT_TO, new Statistic.Settings.Alike(Statistic.Likeness.MEAN)),
                List.of(Per.SPROCKET, Per.DIRECTION),
                new Bound(OptionalDouble.empty(), OptionalDouble.empty(), unit),
                OptionalInt.empty(),
                1,
                "",
                0);
    }

    /** Tests of no difference hold together over all of these. */
    private List<Compared> decided(List<Draft> drafts) {
        double[] holm =
                Holm.adjusted(drafts.stream().mapToDouble(Draft::pDifference).toArray());
        List<Compared> rows = new ArrayList<>();
        for (int i = 0; i < holm.length; i++) {
            rows.add(row(drafts.get(i), holm[i]));
        }
        return rows;
    }

    private Compared row(Draft draft, double pHolm) {
        Change change = change(draft, pHolm);
        Unit unit = unit(draft);
        OptionalInt more = change == Change.NOT_DECIDED ? more(draft) : OptionalInt.empty();
        String reason = new Telling(draft, unit, change, pHolm <= alpha, more).sentence();
        Unit ofDifference = draft.of() == Statistic.Likeness.SPREAD ? Unit.ONE : unit;
        Optional<Tested> t = draft.tested();
        return new Compared(
                draft.judged() ? Optional.of(draft.clause().id()) : Optional.empty(),
                draft.clause().because(),
                draft.clause().measureKey(),
                draft.clause().measure(),
                draft.of(),
                draft.key(),
                draft.words(),
                unit,
                shown(draft.base(), unit),
                shown(draft.candidate(), unit),
                of(t, Tested::difference, ofDifference),
                of(t, Tested::low, ofDifference),
                of(t, Tested::high, ofDifference),
                Telling.in(ofDifference, draft.margin()),
                t.map(Tested::pEquivalent).orElse(OptionalDouble.empty()),
                of(t, Tested::pDifference, Unit.ONE),
                t.isPresent() ? OptionalDouble.of(pHolm) : OptionalDouble.empty(),
                of(t, Tested::effective, Unit.ONE),
                t.map(Tested::power).orElse(OptionalDouble.empty()),
                more,
                change,
                reason);
    }

    private Change change(Draft draft, double pHolm) {
        if (!draft.judged()) {
            return Change.NO_MARGIN;
        }
        boolean equivalent = draft.hindered().isEmpty()
                && draft.tested()
                        .map(Tested::pEquivalent)
                        .filter(p -> p.isPresent()
                                && p.getAsDouble()
                                        <= 1 - draft.clause().decision().confidence())
                        .isPresent();
        if (equivalent) {
            return Change.EQUIVALENT;
        }
        return draft.tested().isPresent() && pHolm <= alpha ? Change.DIFFERENT : Change.NOT_DECIDED;
    }

    private static OptionalInt more(Draft draft) {
        OptionalDouble times = draft.tested().map(Tested::timesNeeded).orElse(OptionalDouble.empty());
        if (times.isEmpty() || draft.hindered().isPresent()) {
            return OptionalInt.empty();
        }
        int n = Math.max(draft.base().n(), draft.candidate().n());
        return OptionalInt.of(times.getAsDouble() <= 1.02 ? 0 : (int) Math.ceil((times.getAsDouble() - 1) * n));
    }

    /** Of spreads the unit of the sds; a bare bound of a share is shown in per cent. */
    private static Unit unit(Draft draft) {
        return switch (draft.of()) {
            case MEAN -> draft.clause().bound().unit();
            case SPREAD -> draft.clause().measure().orElseThrow().unit();
            case PROPORTION -> Unit.PERCENT;
        };
    }

    private static Compared.Side shown(Compared.Side side, Unit unit) {
        return new Compared.Side(
                side.n(),
                Telling.in(unit, side.value()),
                side.runs().stream()
                        .map(run -> new Compared.Values(
                                Arrays.stream(run.values()).map(unit::fromBase).toArray()))
                        .toList());
    }

    private static OptionalDouble of(
            Optional<Tested> tested, java.util.function.ToDoubleFunction<Tested> of, Unit unit) {
        return tested.isPresent()
                ? OptionalDouble.of(unit.fromBase(of.applyAsDouble(tested.get())))
                : OptionalDouble.empty();
    }

    /** Different anywhere is different; else equivalent only where everything is. */
    private static Change over(List<Compared> judged) {
        if (judged.stream().anyMatch(row -> row.change() == Change.DIFFERENT)) {
            return Change.DIFFERENT;
        }
        return !judged.isEmpty() && judged.stream().allMatch(row -> row.change() == Change.EQUIVALENT)
                ? Change.EQUIVALENT
                : Change.NOT_DECIDED;
    }

    private String reason(List<Compared> judged, Change change, Optional<Spec> spec) {
        if (judged.isEmpty()) {
            return "nothing has a margin: "
                    + (spec.isPresent()
                            ? "spec " + spec.get().name() + " has no clause of the statistic equivalent-to"
                            : "no spec was named")
                    + "; say how much may change, such as --margin landing=6deg";
        }
        if (change == Change.EQUIVALENT) {
            long moved = judged.stream().filter(row -> row.notTheSame(alpha)).count();
            return "all " + judged.size() + (judged.size() == 1 ? " group" : " groups") + " inside their margins"
                    + (moved == 0 ? "" : "; " + moved + " of them equivalent, though not the same");
        }
        List<Compared> deciding =
                judged.stream().filter(row -> row.change() == change).toList();
        Compared first = deciding.stream()
                .min(Comparator.comparingDouble(row -> row.pHolm().orElse(1)))
                .orElseThrow();
        String told = named(first) + ": " + first.reason();
        return deciding.size() + " of " + judged.size() + (judged.size() == 1 ? " group " : " groups ") + change.word()
                + "; " + told;
    }

    /** {@code overtravel, sprocket 4 inboard}. */
    public static String named(Compared row) {
        String of = switch (row.of()) {
            case MEAN -> "";
            case SPREAD -> "spread of ";
            case PROPORTION -> "share of ";
        };
        return of + row.measure().replace('-', ' ') + ", " + row.words();
    }

    private List<String> notices() {
        List<String> notices = new ArrayList<>(sides.notices());
        for (ComparedRun run : sides.all()) {
            run.measurement().notices().forEach(notice -> notices.add(run.name() + ": " + notice));
        }
        return notices.stream().distinct().toList();
    }
}
