package org.shiftstand.cli;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import org.shiftstand.document.Problem;
import org.shiftstand.planning.cassette.CassetteWish;
import org.shiftstand.quantity.Dimension;

/** Reads counts of sprockets and their pitches: {@code 11,12}, {@code 11..14}; {@code 3.7mm}, {@code 3.9mm,3.7mm}. */
final class WantedCassettes {
    /** As many as a profile may have. */
    private static final int MOST_SPROCKETS = 64;

    private static final Pattern COUNTS = Pattern.compile("([0-9]{1,3})(?:\\.\\.([0-9]{1,3}))?");

    private final List<Problem> problems;

    WantedCassettes(List<Problem> problems) {
        this.problems = problems;
    }

    /** Each count once, in the order typed; empty where something is wrong. */
    List<CassetteWish.Wanted> of(String sprockets, Optional<String> pitch) {
        int before = problems.size();
        List<Integer> counts = List.copyOf(counts(sprockets));
        List<OptionalDouble> pitches = pitch.map(this::pitches).orElse(List.of(OptionalDouble.empty()));
        boolean sound = problems.size() == before;
        if (sound && pitches.size() != 1 && pitches.size() != counts.size()) {
            problems.add(new Problem(
                    "--pitch " + pitch.orElse(""),
                    0,
                    0,
                    "has " + pitches.size() + " lengths for " + counts.size()
                            + " counts of sprockets; expected one for all, or one for each"));
            sound = false;
        }
        return sound
                ? IntStream.range(0, counts.size())
                        .mapToObj(i -> new CassetteWish.Wanted(counts.get(i), pitches.get(pitches.size() == 1 ? 0 : i)))
                        .toList()
                : List.of();
    }

    private Set<Integer> counts(String typed) {
        Set<Integer> counts = new LinkedHashSet<>();
        for (String part : typed.split(",", -1)) {
            Matcher read = COUNTS.matcher(part.strip());
            int from = read.matches() ? Integer.parseInt(read.group(1)) : 0;
            int to = read.matches() && read.group(2) != null ? Integer.parseInt(read.group(2)) : from;
            if (from < 2 || to > MOST_SPROCKETS || to < from) {
                problems.add(new Problem(
                        "--sprockets " + typed,
                        0,
                        0,
                        "'" + part.strip() + "' is no count of sprockets; expected whole numbers from 2 to "
                                + MOST_SPROCKETS + ", such as 11,12 or 11..14"));
                continue;
            }
            IntStream.rangeClosed(from, to).forEach(counts::add);
        }
        return counts;
    }

    private List<OptionalDouble> pitches(String typed) {
        var quantities = new TypedQuantities(problems);
        List<OptionalDouble> pitches = new ArrayList<>();
        for (String part : typed.split(",", -1)) {
            pitches.add(quantities.above0("--pitch", part.strip(), Dimension.LENGTH));
        }
        return pitches;
    }
}
