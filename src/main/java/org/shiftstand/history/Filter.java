package org.shiftstand.history;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Which runs are meant; all that is given must hold.
 *
 * @param kind name of the profile
 * @param verdict {@code pass}, {@code fail} or {@code no-verdict}
 * @param from first day, UTC; leaves out runs of no known date
 * @param to last day, UTC; likewise
 * @param simulated true for simulated runs only, false for none of them
 */
public record Filter(
        Optional<String> kind,
        Optional<String> firmware,
        Optional<String> verdict,
        Optional<String> unit,
        Optional<String> bench,
        Optional<String> spec,
        Optional<LocalDate> from,
        Optional<LocalDate> to,
        Optional<Boolean> simulated) {
    private static final long DAY_MICROS = 86_400_000_000L;

    /** Every run. */
    public static Filter all() {
        return new Filter(
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
    }

    Filter simulatedOnly(boolean only) {
        return new Filter(kind, firmware, verdict, unit, bench, spec, from, to, Optional.of(only));
    }

    boolean onlyTimeAndSimulation() {
        return kind.isEmpty()
                && firmware.isEmpty()
                && verdict.isEmpty()
                && unit.isEmpty()
                && bench.isEmpty()
                && spec.isEmpty();
    }

    /** The condition, and values for its question marks in their order. */
    record Condition(String sql, List<Object> values) {}

    Condition condition() {
        List<String> terms = new ArrayList<>(List.of("1 = 1"));
        List<Object> values = new ArrayList<>();
        same("kind", kind, terms, values);
        same("firmware", firmware, terms, values);
        same("verdict", verdict, terms, values);
        same("unit", unit, terms, values);
        same("bench", bench, terms, values);
        same("spec", spec, terms, values);
        from.ifPresent(day -> {
            terms.add("run.started_micros >= ?");
            values.add(micros(day));
        });
        to.ifPresent(day -> {
            terms.add("run.started_micros < ?");
            values.add(micros(day) + DAY_MICROS);
        });
        simulated.ifPresent(only -> {
            terms.add("run.simulated = ?");
            values.add(only ? 1 : 0);
        });
        return new Condition(String.join(" AND ", terms), values);
    }

    private static void same(String column, Optional<String> value, List<String> terms, List<Object> values) {
        value.ifPresent(text -> {
            terms.add("run." + column + " = ?");
            values.add(text);
        });
    }

    private static long micros(LocalDate day) {
        return day.atStartOfDay(ZoneOffset.UTC).toEpochSecond() * 1_000_000;
    }
}
