package org.shiftstand.cli;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.history.Filter;
import picocli.CommandLine.Option;

/** Which runs of a history are meant. */
final class RunsMeant {
    @Option(names = "--kind", paramLabel = "NAME", description = "Kind of unit: the name of its profile.")
    private @Nullable String kind;

    @Option(names = "--firmware", paramLabel = "TEXT", description = "Firmware of the unit, as its runs say it.")
    private @Nullable String firmware;

    @Option(names = "--verdict", paramLabel = "WORD", description = "pass, fail or no-verdict.")
    private @Nullable String verdict;

    @Option(names = "--unit", paramLabel = "ID", description = "One unit.")
    private @Nullable String unit;

    @Option(names = "--bench", paramLabel = "NAME", description = "One bench.")
    private @Nullable String bench;

    @Option(names = "--spec", paramLabel = "NAME", description = "Name of the spec that they were judged by.")
    private @Nullable String spec;

    @Option(names = "--from", paramLabel = "DAY", description = "First day, UTC, such as 2026-11-01.")
    private @Nullable String from;

    @Option(names = "--to", paramLabel = "DAY", description = "Last day, UTC.")
    private @Nullable String to;

    @Option(names = "--simulated", description = "Simulated runs only.")
    private boolean simulated;

    Filter filter() {
        return filter(new ArrayList<>());
    }

    /**
     * Which they are.
     *
     * @param problems of other options, to be told with those of these
     * @throws BadInput where there are any
     */
    Filter filter(List<Problem> problems) {
        if (verdict != null) {
            OneOf.check("--verdict", verdict, List.of("pass", "fail", "no-verdict"), problems);
        }
        Filter filter = new Filter(
                Optional.ofNullable(kind),
                Optional.ofNullable(firmware),
                Optional.ofNullable(verdict),
                Optional.ofNullable(unit),
                Optional.ofNullable(bench),
                Optional.ofNullable(spec),
                day("--from", from, problems),
                day("--to", to, problems),
                simulated ? Optional.of(true) : Optional.empty());
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return filter;
    }

    private static Optional<LocalDate> day(String option, @Nullable String text, List<Problem> problems) {
        try {
            return Optional.ofNullable(text).map(LocalDate::parse);
        } catch (DateTimeException e) {
            problems.add(new Problem(option + " " + text, 0, 0, "is no day; expected the likes of 2026-11-01"));
            return Optional.empty();
        }
    }

    /** In words. */
    String said() {
        List<String> words = new ArrayList<>();
        add(words, "kind", kind);
        add(words, "firmware", firmware);
        add(words, "verdict", verdict);
        add(words, "unit", unit);
        add(words, "bench", bench);
        add(words, "spec", spec);
        add(words, "from", from);
        add(words, "to", to);
        if (simulated) {
            words.add("simulated");
        }
        return words.isEmpty() ? "All runs of this history" : "Runs with " + String.join(", ", words);
    }

    private static void add(List<String> words, String name, @Nullable String value) {
        if (value != null) {
            words.add(name + " " + value);
        }
    }
}
