package org.shiftstand.history;

import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.IsoFields;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalLong;
import java.util.TreeMap;
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
        int leftOut = 0;
        Filter meant = filter;
        if (filter.simulated().isEmpty()) {
            int simulated = history.count(filter.simulatedOnly(true));
            boolean real = history.count(filter.simulatedOnly(false)) > 0;
            leftOut = real ? simulated : 0;
            meant = real ? filter.simulatedOnly(false) : filter;
        }
        List<Outcome> outcomes = history.outcomes(meant);
        List<WorstClause> worst = worst(outcomes);
        List<ClauseTrend> followed = new ArrayList<>();
        for (String clause : clauses.isEmpty() ? toFollow(worst, history, meant) : clauses) {
            followed.add(ClauseTrend.of(clause, history.points(clause, meant)));
        }
        Map<String, Outcome> first = new LinkedHashMap<>();
        Map<String, Outcome> last = new LinkedHashMap<>();
        for (Outcome outcome : outcomes) {
            first.putIfAbsent(outcome.unit(), outcome);
            last.put(outcome.unit(), outcome);
        }
        Map<String, Share> weeks = new TreeMap<>();
        Map<String, Share> firmwares = new TreeMap<>();
        Share firstPass = Share.none();
        for (Outcome outcome : first.values()) {
            firstPass = firstPass.plus(outcome.verdict());
            add(firmwares, outcome.firmware(), outcome.verdict());
            if (outcome.startedMicros().isPresent()) {
                add(weeks, week(outcome.startedMicros().getAsLong()), outcome.verdict());
            }
        }
        Share lastRuns = Share.none();
        for (Outcome outcome : last.values()) {
            lastRuns = lastRuns.plus(outcome.verdict());
        }
        return new Trend(
                outcomes.size(),
                first.size(),
                (int) outcomes.stream().filter(o -> o.startedMicros().isEmpty()).count(),
                leftOut,
                !outcomes.isEmpty() && leftOut == 0 && history.count(meant.simulatedOnly(false)) == 0,
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

    private static void add(Map<String, Share> to, String key, String verdict) {
        to.put(key, to.getOrDefault(key, Share.none()).plus(verdict));
    }

    private static List<WorstClause> worst(List<Outcome> outcomes) {
        Map<String, int[]> counts = new TreeMap<>();
        for (Outcome outcome : outcomes) {
            count(outcome.failing(), 0, counts);
            count(outcome.undecided(), 1, counts);
        }
        return counts.entrySet().stream()
                .map(e -> new WorstClause(e.getKey(), e.getValue()[0], e.getValue()[1], outcomes.size()))
                .sorted(Comparator.comparingInt(WorstClause::failing)
                        .thenComparingInt(WorstClause::undecided)
                        .reversed()
                        .thenComparing(WorstClause::id))
                .toList();
    }

    private static void count(String ids, int which, Map<String, int[]> counts) {
        if (!ids.isEmpty()) {
            for (String id : ids.substring(1).split("\\|")) {
                counts.computeIfAbsent(id, k -> new int[2])[which]++;
            }
        }
    }

    /** ISO 8601 week of an instant, UTC. */
    static String week(long micros) {
        LocalDate day = Instant.ofEpochSecond(Math.floorDiv(micros, 1_000_000L))
                .atZone(ZoneOffset.UTC)
                .toLocalDate();
        return String.format(
                Locale.ROOT,
                "%04d-W%02d",
                day.get(IsoFields.WEEK_BASED_YEAR),
                day.get(IsoFields.WEEK_OF_WEEK_BASED_YEAR));
    }

    static String week(OptionalLong micros) {
        return micros.isPresent() ? week(micros.getAsLong()) : "";
    }
}
