package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.Budgets;
import org.shiftstand.stats.Normality;

/** What a reader must know of a clause's statistic and decision to weigh its verdict. */
final class StatisticRemarks {
    /** Chance that a clause on normal values is called not normal, all its groups together. */
    private static final double FALSE_ALARM = 0.01;

    private StatisticRemarks() {}

    static List<String> of(
            Clause clause, List<GroupResult> results, List<GroupValues> values, Optional<Budgets> budgets) {
        List<String> remarks = new ArrayList<>();
        definition(clause).ifPresent(remarks::add);
        decision(clause, budgets).ifPresent(remarks::add);
        if (clause.statistic().kind().normalTheory(clause.decision().claim())) {
            notNormal(results, values).ifPresent(remarks::add);
        }
        worth(results).ifPresent(remarks::add);
        return remarks;
    }

    private static Optional<String> definition(Clause clause) {
        return switch (clause.statistic().kind()) {
            case POOLED_STANDARD_DEVIATION ->
                Optional.of("pooled within sprocket and direction: root of the squares about each one's own mean, over"
                        + " the sum of (n - 1)");
            case REPEATABILITY ->
                Optional.of("ISO 230-2: 4 s of one direction; of both, the larger of 2 s + 2 s + |reversal| and"
                        + " either 4 s; of several sprockets the largest");
            case REVERSAL ->
                Optional.of("ISO 230-2: mean inboard minus mean outboard; of several sprockets the one farthest"
                        + " from 0");
            case DRIFT ->
                Optional.of("change over the run: Theil–Sen slope times the cycles spanned, each sprocket and direction"
                        + " about its own median");
            case CHANGE_POINT ->
                Optional.of("step between the medians before and after the place found by Pettitt's test; 0 where it"
                        + " is not significant");
            case FIRST_FAILURE ->
                Optional.of("where no shift breaks the limits, the cycle after the last stands for it");
            case TOLERANCE_INTERVAL ->
                Optional.of("normal tolerance interval, exact factor; its end nearest to a limit is the value");
            case CAPABILITY -> Optional.of(capability(clause));
            case EVERY,
                    MINIMUM,
                    MAXIMUM,
                    MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    RANGE,
                    PERCENTILE,
                    COUNT,
                    PROPORTION,
                    EQUIVALENT_TO -> Optional.empty();
        };
    }

    private static String capability(Clause clause) {
        boolean within = clause.statistic().settings() instanceof Statistic.Settings.Limits limits
                && (limits.index() == Statistic.Index.CP || limits.index() == Statistic.Index.CPK);
        return within
                ? "spread within sprocket and direction (pooled)"
                : "spread of all values of the group, whatever their sprocket and direction";
    }

    private static Optional<String> decision(Clause clause, Optional<Budgets> budgets) {
        boolean budget = clause.measure()
                .flatMap(measure -> budgets.flatMap(b -> b.of(measure.key())))
                .isPresent();
        boolean quantity = clause.measure().isPresent() && clause.statistic().kind() != Statistic.Kind.COUNT;
        if (!quantity && clause.decision().rule() == Decision.Rule.GUARDED) {
            return Optional.of("shifts are counted, no quantity is measured: the guard band is 0");
        }
        return clause.decision().claim() == Decision.Claim.PROCESS && quantity && !budget
                ? Optional.of("the confidence limits hold sampling only: no uncertainty of measurement is known")
                : Optional.empty();
    }

    /** Anderson–Darling of each sprocket and direction; by Bonferroni, since there are many. */
    private static Optional<String> notNormal(List<GroupResult> results, List<GroupValues> values) {
        int tested = 0;
        double least = 1;
        String where = "";
        for (int i = 0; i < values.size(); i++) {
            for (GroupValues.Natural group : values.get(i).natural()) {
                OptionalDouble p = Normality.of(group.values()).pValue();
                if (p.isPresent()) {
                    tested++;
                    if (p.getAsDouble() < least) {
                        least = p.getAsDouble();
                        where = "sprocket " + group.to() + " "
                                + group.direction().word();
                    }
                }
            }
        }
        return tested > 0 && least < FALSE_ALARM / tested
                ? Optional.of("values are not normally distributed (Anderson–Darling, worst " + where
                        + "), and this statistic takes them to be: weigh its figures with care")
                : Optional.empty();
    }

    private static Optional<String> worth(List<GroupResult> results) {
        long fewer = results.stream()
                .filter(group -> group.assessment().effectiveN().isPresent())
                .count();
        return fewer == 0
                ? Optional.empty()
                : Optional.of("values follow each other over cycles in " + fewer + " of " + results.size()
                        + (results.size() == 1 ? " group" : " groups")
                        + ": its effective number of shifts, which is smaller, is used for the limits");
    }
}
