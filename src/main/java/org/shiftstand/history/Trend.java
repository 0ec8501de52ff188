package org.shiftstand.history;

import java.sql.SQLException;
import java.time.LocalDate;
import java.time.temporal.IsoFields;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.shiftstand.history.History.Decided;
import org.shiftstand.history.History.Outcome;

/**
 * How units did over time.
 *
 * @param runs that were meant
 * @param units in them
 * @param undated runs of no known date: in no week, and before all others
 * @param simulatedLeftOut simulated runs that were left out, since there are real ones
 * @param simulated whether all of it is simulated
 * @param firstPass of each unit's first run
 * @param last of each unit's last run
 * @param byWeek first runs by ISO week, {@code 2026-W48}
 * @param byFirmware first runs by firmware
 * @param worst clauses that failed or had no verdict, most failures first
 * @param clauses trends of clauses
 */
public record Trend(
        int runs,
        int units,
        int undated,
        int simulatedLeftOut,
        boolean simulated,
        Share firstPass,
        Share last,
        Map<String, Share> byWeek,
        Map<String, Share> byFirmware,
        List<WorstClause> worst,
        List<ClauseTrend> clauses) {
    /**
     * How often a clause decided against units.
     *
     * @param failing runs in which it failed
     * @param undecided runs in which it had no verdict
     * @param runs all runs that are meant
     */
    public record WorstClause(String id, int failing, int undecided, int runs) {}

    /**
     * Reads it.
     *
     * @param clauses ids of clauses to follow; where empty the worst one, else the first one with a value
     */
    public static Trend of(History history, Filter filter, List<String> clauses) throws SQLException {
        int simulated = filter.simulated().equals(Optional.of(false)) ? 0 : history.count(filter.simulatedOnly(true));
        boolean some = filter.simulated().isEmpty() && simulated > 0;
        boolean real = some && history.count(filter.simulatedOnly(false)) > 0;
        int leftOut = real ? simulated : 0;
        Filter meant = real ? filter.simulatedOnly(false) : filter;
        int runs = history.count(meant);
        List<WorstClause> worst = worst(history.decided(meant), runs);
        List<ClauseTrend> followed = new ArrayList<>();
        for (String clause : clauses.isEmpty() ? toFollow(worst, history, meant) : clauses) {
            followed.add(ClauseTrend.of(clause, history, meant));
        }
        Map<String, Share> weeks = new TreeMap<>();
        Map<String, Share> firmwares = new TreeMap<>();
        Share firstPass = Share.none();
        Share lastRuns = Share.none();
        for (Outcome outcome : history.outcomes(meant)) {
            firstPass = firstPass.plus(outcome.verdict(), outcome.first());
            lastRuns = lastRuns.plus(outcome.verdict(), outcome.last());
            if (outcome.first() > 0) {
                add(firmwares, outcome.firmware(), outcome);
                outcome.day().ifPresent(day -> add(weeks, week(LocalDate.ofEpochDay(day)), outcome));
            }
        }
        return new Trend(
                runs,
                firstPass.trials() + firstPass.undecided(),
                history.undated(meant),
                leftOut,
                runs > 0 && leftOut == 0 && simulated == runs,
                firstPass,
                lastRuns,
                weeks,
                firmwares,
                worst,
                followed);
    }

    private static List<String> toFollow(List<WorstClause> worst, History history, Filter filter) throws SQLException {
        if (!worst.isEmpty()) {
            return List.of(worst.get(0).id());
        }
        List<String> all = history.clausesOfNewest(filter);
        return all.size() > 1 ? List.of(all.get(1)) : all;
    }

    private static void add(Map<String, Share> to, String key, Outcome outcome) {
        to.put(key, to.getOrDefault(key, Share.none()).plus(outcome.verdict(), outcome.first()));
    }

    private static List<WorstClause> worst(List<Decided> decided, int runs) {
        Map<String, int[]> counts = new TreeMap<>();
        for (Decided some : decided) {
            count(some.failing(), 0, some.runs(), counts);
            count(some.undecided(), 1, some.runs(), counts);
        }
        return counts.entrySet().stream()
                .map(e -> new WorstClause(e.getKey(), e.getValue()[0], e.getValue()[1], runs))
                .sorted(Comparator.comparingInt(WorstClause::failing)
                        .thenComparingInt(WorstClause::undecided)
                        .reversed()
                        .thenComparing(WorstClause::id))
                .toList();
    }

    private static void count(String ids, int which, int runs, Map<String, int[]> counts) {
        if (!ids.isEmpty()) {
            for (String id : ids.substring(1).split("\\|")) {
                counts.computeIfAbsent(id, k -> new int[2])[which] += runs;
            }
        }
    }

    /** ISO 8601 week of a day. */
    private static String week(LocalDate day) {
        return String.format(
                Locale.ROOT,
                "%04d-W%02d",
                day.get(IsoFields.WEEK_BASED_YEAR),
                day.get(IsoFields.WEEK_OF_WEEK_BASED_YEAR));
    }

    /** ISO 8601 week of an instant, UTC. */
    static String week(long micros) {
        return week(LocalDate.ofEpochDay(Math.floorDiv(micros, 86_400_000_000L)));
    }
}
