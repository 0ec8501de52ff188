package org.shiftstand.learn.compare;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/**
 * A part of the set-up that is not the same in all runs.
 *
 * @param values each value with the runs that have it, in the order met
 */
public record Unlike(Aspect aspect, Map<String, List<String>> values) {
    /** Everything that is unlike, in the order of {@link Aspect}. */
    public static List<Unlike> among(List<ComparedRun> runs) {
        List<Unlike> found = new ArrayList<>();
        for (Aspect aspect : Aspect.values()) {
            Map<String, List<String>> values = new LinkedHashMap<>();
            for (ComparedRun run : runs) {
                values.computeIfAbsent(run.setUp().getOrDefault(aspect, ComparedRun.NOT_KNOWN), v -> new ArrayList<>())
                        .add(run.name());
            }
            if (values.size() > 1) {
                found.add(new Unlike(aspect, values));
            }
        }
        return found;
    }

    /** {@code supply: 8.2 V (old.run), 7 V (new.run)}. */
    public String words() {
        return aspect.phrase() + ": "
                + values.entrySet().stream()
                        .map(value -> value.getKey() + " (" + String.join(", ", value.getValue()) + ")")
                        .collect(Collectors.joining(", "));
    }
}
