package org.shiftstand.procedure;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A script of sweeps.
 *
 * @param sampleRateHz asked of the rig
 * @param steps in order
 * @param stopWhen what ends the run early
 * @param onLinkLoss what the run does when the line to the rig is lost
 * @param sha256 digest of the file's text
 * @param origin where the steps stand in their file, for messages
 */
public record Procedure(
        String name,
        int version,
        double sampleRateHz,
        List<Step> steps,
        StopWhen stopWhen,
        OnLinkLoss onLinkLoss,
        String sha256,
        Origin origin) {
    public Procedure {
        steps = List.copyOf(steps);
    }

    /** A procedure that stands in no file and stops when the line is lost. */
    public Procedure(
            String name, int version, double sampleRateHz, List<Step> steps, StopWhen stopWhen, String sha256) {
        this(name, version, sampleRateHz, steps, stopWhen, new OnLinkLoss.Stop(), sha256, new Origin(name, List.of()));
    }

    /** What a run does when the line to the rig is lost. The rig cuts the unit's supply by itself in either case. */
    public sealed interface OnLinkLoss {
        /** The run ends. */
        record Stop() implements OnLinkLoss {}

        /**
         * The run waits for the same port, and goes on after homing where it may; else it ends.
         *
         * @param withinS how long it waits, seconds, above 0
         */
        record Reconnect(double withinS) implements OnLinkLoss {}
    }

    /**
     * What ends the run early; any of these.
     *
     * @param rules on outcomes
     * @param currentAboveA with {@code currentForS}: current above this for that long
     * @param averageAboveA with {@code averageOverS}: mean current above this over that long
     */
    public record StopWhen(
            List<OutcomeRule> rules,
            OptionalDouble currentAboveA,
            OptionalDouble currentForS,
            OptionalDouble averageAboveA,
            OptionalDouble averageOverS) {
        /** Nothing ends the run early. */
        public static final StopWhen NOTHING = new StopWhen(
                List.of(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());

        public StopWhen {
            rules = List.copyOf(rules);
        }

        /** The first of these outcomes ends the run; none where the list is empty. */
        public StopWhen(List<String> outcomes, OptionalDouble currentAboveA, OptionalDouble currentForS) {
            this(
                    outcomes.isEmpty() ? List.of() : List.of(new OutcomeRule(outcomes, 1)),
                    currentAboveA,
                    currentForS,
                    OptionalDouble.empty(),
                    OptionalDouble.empty());
        }

        /** Every outcome that some rule is about, once, in the order of the rules. */
        public List<String> outcomes() {
            return rules.stream()
                    .flatMap(rule -> rule.outcomes().stream())
                    .distinct()
                    .toList();
        }

        /**
         * The first rule that holds.
         *
         * @param seen shifts of the run so far by the word of their outcome
         */
        public Optional<OutcomeRule> reached(Map<String, Integer> seen) {
            return rules.stream().filter(rule -> rule.reached(seen)).findFirst();
        }
    }

    /**
     * So many shifts of some outcomes in one run end it.
     *
     * @param outcomes words of outcomes, counted together
     * @param times in the whole run, not in a row; at least 1
     */
    public record OutcomeRule(List<String> outcomes, int times) {
        public OutcomeRule {
            outcomes = List.copyOf(outcomes);
        }

        boolean reached(Map<String, Integer> seen) {
            return outcomes.stream()
                            .distinct()
                            .mapToInt(word -> seen.getOrDefault(word, 0))
                            .sum()
                    >= times;
        }
    }

    /**
     * Where the steps stand.
     *
     * @param file as the user named it
     * @param lines line of each step, 1-based, in reading order, those inside a {@code repeat} after it; may be empty
     */
    public record Origin(String file, List<Integer> lines) {
        public Origin {
            lines = List.copyOf(lines);
        }

        /** Line of a step by its place in reading order, 1-based; 0 where it is not known. */
        int line(int place) {
            return place <= lines.size() ? lines.get(place - 1) : 0;
        }
    }
}
