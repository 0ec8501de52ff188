package org.shiftstand.learn.compare;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The runs of a comparison.
 *
 * @param base one or more, with what was before
 * @param candidate one or more, with what is to be accepted
 */
public record Sides(List<ComparedRun> base, List<ComparedRun> candidate) {
    public Sides {
        base = List.copyOf(base);
        candidate = List.copyOf(candidate);
        if (base.isEmpty() || candidate.isEmpty()) {
            throw new IllegalArgumentException(
                    "one run a side at least: base=" + base.size() + ", candidate=" + candidate.size());
        }
    }

    List<ComparedRun> all() {
        return Stream.concat(base.stream(), candidate.stream()).toList();
    }

    /** Whether runs are the blocks: from two a side on, what differs from run to run can be told from the firmware. */
    boolean blocks() {
        return base.size() > 1 && candidate.size() > 1;
    }

    /** What a reader has to know of how the runs were made. */
    List<String> notices() {
        List<String> notices = new ArrayList<>();
        notices.add(firmware());
        notices.add(between());
        notices.add(order());
        if (same()) {
            notices.add("base and candidate have samples in common: a run held against itself differs by nothing, and"
                    + " says only what this many shifts could have shown");
        }
        for (ComparedRun run : all()) {
            run.runEnd().ifPresent(why -> notices.add(run.name() + " ended early: " + why));
        }
        if (all().stream().anyMatch(run -> !run.table().originMeasured())) {
            notices.add(
                    "angles are aligned to the profile in each run: a change that is common to all sprockets cannot be"
                            + " seen in landing, landing error, extreme and clearance");
        }
        return notices;
    }

    private boolean same() {
        return base.stream()
                .anyMatch(b -> candidate.stream()
                        .anyMatch(c -> b.measurement()
                                .source()
                                .sha256()
                                .equals(c.measurement().source().sha256())));
    }

    private String firmware() {
        String before = firmware(base);
        String after = firmware(candidate);
        if (before.equals(ComparedRun.NOT_KNOWN) || after.equals(ComparedRun.NOT_KNOWN)) {
            return "firmware of the unit: base " + before + ", candidate " + after
                    + "; what was not recorded cannot be shown to be the firmware that was meant";
        }
        return before.equals(after)
                ? "base and candidate carry the same firmware, " + before
                        + ": nothing is said of a change of firmware here"
                : "firmware before: " + before + "; after: " + after;
    }

    /** Of one side: {@code 1.4.2}; several where its runs do not agree. */
    static String firmware(List<ComparedRun> runs) {
        return runs.stream()
                .map(run -> run.firmware().orElse(ComparedRun.NOT_KNOWN))
                .distinct()
                .collect(Collectors.joining(" and "));
    }

    private String between() {
        if (blocks()) {
            return "runs are the blocks (" + base.size() + " base, " + candidate.size()
                    + " candidate): what differs from run to run (mounting, temperature) counts as uncertainty of the"
                    + " difference of means";
        }
        return base.size() + candidate.size() == 2
                ? "one run a side: differences between runs (mounting, temperature) are in the difference and cannot be"
                        + " told from the firmware's; two runs a side or more would tell them"
                : "one side has a single run: differences between runs (mounting, temperature) are not counted and"
                        + " cannot be told from the firmware's; two runs a side or more would tell them";
    }

    private String order() {
        if (all().stream().anyMatch(run -> run.began().isEmpty())) {
            return "when the runs were made is not known for all of them: whether warm-up and drift fall on both alike"
                    + " cannot be said";
        }
        List<ComparedRun> inTime = all().stream()
                .sorted(Comparator.comparing(run -> run.began().orElseThrow()))
                .toList();
        String order =
                inTime.stream().map(run -> isBase(run) ? "base" : "candidate").collect(Collectors.joining(", "));
        boolean alternates = interleaved(inTime);
        return "order of the runs: " + order
                + (alternates
                        ? "; warm-up and drift fall on both sides"
                        : "; not interleaved: what drifts with time (warm-up, temperature, wear) is in the difference."
                                + " Make them in turns: base, candidate, candidate, base");
    }

    private boolean isBase(ComparedRun run) {
        return base.stream().anyMatch(b -> b == run);
    }

    /** Neither side is over before the other begins. */
    private boolean interleaved(List<ComparedRun> inTime) {
        int changes = 0;
        Optional<Boolean> last = Optional.empty();
        for (ComparedRun run : inTime) {
            boolean now = isBase(run);
            changes += last.isPresent() && last.get() != now ? 1 : 0;
            last = Optional.of(now);
        }
        return changes > 1;
    }
}
