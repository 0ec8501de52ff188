package org.shiftstand.learn.compare;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ComparedGroup;
import org.shiftstand.spec.Statistic;
import org.shiftstand.stats.EffectiveSize;
import org.shiftstand.stats.ExactShares;

/** The groups of one clause, tested. */
final class ClauseRows {
    private final Clause clause;
    private final Statistic.Likeness of;
    private final boolean judged;
    private final boolean withShares;
    private final List<Map<Map<String, String>, ComparedGroup>> base;
    private final List<Map<Map<String, String>, ComparedGroup>> candidate;
    private final Map<Map<String, String>, String> keys = new LinkedHashMap<>();

    /**
     * @param judged whether the clause's bound is a margin; without, the groups are told only
     * @param withShares whether how often an overtravel came is to be looked at beside its mean
     */
    ClauseRows(Clause clause, boolean judged, boolean withShares, Sides sides) {
        this.clause = clause;
        this.of = clause.statistic().settings() instanceof Statistic.Settings.Alike alike
                ? alike.of()
                : Statistic.Likeness.MEAN;
        this.judged = judged;
        this.withShares = withShares;
        this.base = sides.base().stream().map(this::groups).toList();
        this.candidate = sides.candidate().stream().map(this::groups).toList();
    }

    private Map<Map<String, String>, ComparedGroup> groups(ComparedRun run) {
        Map<Map<String, String>, ComparedGroup> groups = new LinkedHashMap<>();
        for (ComparedGroup group : ComparedGroup.of(clause, run.table())) {
            groups.put(group.key(), group);
            keys.putIfAbsent(group.key(), group.words());
        }
        return groups;
    }

    List<Draft> drafts() {
        double baseShare = share(base);
        double candidateShare = share(candidate);
        List<Draft> drafts = new ArrayList<>();
        keys.forEach((key, words) -> {
            if (of == Statistic.Likeness.PROPORTION) {
                shares(key, words).ifPresent(drafts::add);
                return;
            }
            values(key, words, baseShare, candidateShare).ifPresent(drafts::add);
            if (withShares && clause.measure().equals(Optional.of(Measure.OVERTRAVEL))) {
                shares(key, words).ifPresent(drafts::add);
            }
        });
        return drafts;
    }

    /** Of all groups of a side together: few values each would not tell. */
    private static double share(List<Map<Map<String, String>, ComparedGroup>> runs) {
        return EffectiveSize.of(runs.stream()
                        .flatMap(run -> run.values().stream())
                        .flatMap(group -> group.cells().stream())
                        .map(ComparedGroup.Cell::values)
                        .filter(values -> values.length >= 3)
                        .toList())
                .share();
    }

    private static List<ComparedGroup> of(List<Map<Map<String, String>, ComparedGroup>> runs, Map<String, String> key) {
        return runs.stream()
                .map(run -> run.getOrDefault(key, new ComparedGroup(key, "", List.of(), 0, 0, 0, 0, 0)))
                .toList();
    }

    /** Empty where the measure applies to no shift on either side. */
    private Optional<Draft> values(Map<String, String> key, String words, double baseShare, double candidateShare) {
        List<ComparedGroup> before = of(base, key);
        List<ComparedGroup> after = of(candidate, key);
        int n = sum(before, ComparedGroup::n) + sum(after, ComparedGroup::n);
        int missing = sum(before, ComparedGroup::notMeasured) + sum(after, ComparedGroup::notMeasured);
        if (n + missing == 0 || (n == 0 && !judged)) {
            return Optional.empty();
        }
        List<ComparedGroup> all = new ArrayList<>(before);
        all.addAll(after);
        List<Series> series = Series.common(all);
        List<Series> b = series.subList(0, before.size());
        List<Series> c = series.subList(before.size(), series.size());
        boolean testable = series.stream().allMatch(run -> run.n() > run.cells().size() && run.n() > 1);
        Optional<Tested> tested = testable ? test(b, c, baseShare, candidateShare) : Optional.empty();
        if (tested.isEmpty() && !judged) {
            return Optional.empty();
        }
        return Optional.of(new Draft(
                clause,
                of,
                key,
                words,
                margin(),
                judged,
                Draft.side(b, value(tested, Tested::base)),
                Draft.side(c, value(tested, Tested::candidate)),
                tested,
                hindered(before, after, b, c, tested.isPresent()),
                Optional.empty()));
    }

    private Optional<Tested> test(List<Series> b, List<Series> c, double baseShare, double candidateShare) {
        double confidence = clause.decision().confidence();
        return switch (of) {
            case MEAN -> Optional.of(new MeansTest(b, c, baseShare, candidateShare).test(margin(), confidence));
            case SPREAD -> new SpreadsTest(b, c).test(margin(), confidence);
            case PROPORTION -> Optional.empty();
        };
    }

    private OptionalDouble margin() {
        return judged ? clause.bound().atMost() : OptionalDouble.empty();
    }

    private static OptionalDouble value(Optional<Tested> tested, java.util.function.ToDoubleFunction<Tested> of) {
        return tested.isPresent() ? OptionalDouble.of(of.applyAsDouble(tested.get())) : OptionalDouble.empty();
    }

    /** What speaks against a verdict of equivalence though the test may not. */
    private Optional<String> hindered(
            List<ComparedGroup> before, List<ComparedGroup> after, List<Series> b, List<Series> c, boolean tested) {
        return few("base", before)
                .or(() -> few("candidate", after))
                .or(() -> fewCommon("base", b))
                .or(() -> fewCommon("candidate", c))
                .or(() -> missing("base", before))
                .or(() -> missing("candidate", after))
                .or(() -> tested
                        ? Optional.empty()
                        : Optional.of("too few values, or values without any scatter: nothing can be tested"));
    }

    private Optional<String> few(String side, List<ComparedGroup> groups) {
        int trials = sum(groups, ComparedGroup::trials);
        int n = sum(groups, ComparedGroup::n);
        String why = n == 0 && trials > 0 ? " (no overtravel came in " + RowNumbers.shifts(trials) + ")" : "";
        return few(side, n, why);
    }

    /** Where runs have not the same sprockets in a group. */
    private Optional<String> fewCommon(String side, List<Series> runs) {
        return few(side, runs.stream().mapToInt(Series::n).sum(), " on the sprockets that all runs have");
    }

    private Optional<String> few(String side, int n, String why) {
        return n >= clause.needed()
                ? Optional.empty()
                : Optional.of(side + " has " + (n == 0 ? "no shift" : "only " + RowNumbers.shifts(n)) + " with a value"
                        + why + ", " + clause.needed() + " are needed");
    }

    private Optional<String> missing(String side, List<ComparedGroup> groups) {
        int missing = sum(groups, ComparedGroup::notMeasured);
        int all = sum(groups, ComparedGroup::trials) + missing;
        return missing <= clause.mayMiss() * all
                ? Optional.empty()
                : Optional.of(side + " has " + missing + " of " + RowNumbers.shifts(all)
                        + " not measured, more than the " + RowNumbers.percent(clause.mayMiss()) + " that may miss");
    }

    /** Of an outcome, or of shifts that have a plateau. */
    private Optional<Draft> shares(Map<String, String> key, String words) {
        List<ComparedGroup> before = of(base, key);
        List<ComparedGroup> after = of(candidate, key);
        int na = sum(before, ComparedGroup::trials);
        int nb = sum(after, ComparedGroup::trials);
        boolean ownClause = of == Statistic.Likeness.PROPORTION;
        if (na + nb == 0) {
            return Optional.empty();
        }
        Optional<ExactShares> shares = na == 0 || nb == 0
                ? Optional.empty()
                : Optional.of(
                        new ExactShares(sum(before, ComparedGroup::hits), na, sum(after, ComparedGroup::hits), nb));
        OptionalDouble margin = ownClause ? margin() : OptionalDouble.empty();
        Optional<Tested> tested =
                shares.map(s -> SharesTest.test(s, margin, clause.decision().confidence()));
        boolean alwaysOrNever = shares.filter(ClauseRows::alwaysOrNever).isPresent();
        boolean due = judged && (ownClause || !alwaysOrNever);
        return Optional.of(new Draft(
                clause,
                Statistic.Likeness.PROPORTION,
                key,
                words,
                margin,
                due,
                new Compared.Side(na, value(tested, Tested::base), List.of()),
                new Compared.Side(nb, value(tested, Tested::candidate), List.of()),
                tested,
                shareHindered(before, after, ownClause),
                shares));
    }

    private Optional<String> shareHindered(List<ComparedGroup> before, List<ComparedGroup> after, boolean ownClause) {
        if (sum(before, ComparedGroup::trials) == 0) {
            return Optional.of("base has no such shift");
        }
        if (sum(after, ComparedGroup::trials) == 0) {
            return Optional.of("candidate has no such shift");
        }
        Optional<String> missing = missing("base", before).or(() -> missing("candidate", after));
        return missing.isPresent() || ownClause
                ? missing
                : Optional.of(
                        "no margin says how often it may miss; give one, a clause '{ equivalent-to: proportion }'");
    }

    /** In every shift on both sides, or in none on both. */
    private static boolean alwaysOrNever(ExactShares shares) {
        return (shares.hitsA() == 0 && shares.hitsB() == 0)
                || (shares.hitsA() == shares.trialsA() && shares.hitsB() == shares.trialsB());
    }

    private static int sum(List<ComparedGroup> groups, java.util.function.ToIntFunction<ComparedGroup> of) {
        return groups.stream().mapToInt(of).sum();
    }
}
