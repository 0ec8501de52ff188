package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Outcome;

/** What a unit that does exactly what its profile says would show in one clause. */
final class Nominal {
    private final Clause clause;
    private final Profile profile;
    private final List<PlannedShift> shifts;
    private final int sprockets;
    private final Figures figures;

    /** @param shifts those that the clause selects */
    Nominal(Clause clause, Profile profile, List<PlannedShift> shifts, int sprockets) {
        this.clause = clause;
        this.profile = profile;
        this.shifts = shifts;
        this.sprockets = sprockets;
        this.figures = new Figures(clause.bound().unit());
    }

    /** What the bound shuts out; empty where a nominal unit passes, or where the profile does not say. */
    Optional<String> shutOut() {
        if (clause.measure().isEmpty()) {
            return outcome();
        }
        return switch (clause.statistic().kind()) {
            case STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION, RANGE, REPEATABILITY -> spread();
            case COUNT, PROPORTION, TOLERANCE_INTERVAL, CAPABILITY, FIRST_FAILURE, EQUIVALENT_TO -> Optional.empty();
            case REVERSAL, DRIFT, CHANGE_POINT -> steady();
            case EVERY, MINIMUM, MAXIMUM, MEAN, MEDIAN, PERCENTILE -> location();
        };
    }

    /** A nominal unit neither changes nor depends on the direction. */
    private Optional<String> steady() {
        boolean shut = clause.bound().atLeast().orElse(0) > 0
                || clause.bound().atMost().orElse(0) < 0;
        return shut
                ? Optional.of("its bound, " + figures.bound(clause.bound()) + ", shuts out 0, which a unit that never"
                        + " changes has")
                : Optional.empty();
    }

    private Optional<String> spread() {
        return clause.bound().atLeast().orElse(0) > 0
                ? Optional.of("asks for a spread, " + figures.bound(clause.bound())
                        + ": a unit that always lands alike would fail; expected at-most")
                : Optional.empty();
    }

    /** A nominal unit lands every shift. */
    private Optional<String> outcome() {
        boolean counted =
                clause.outcome().map(test -> test.counts(Outcome.LANDED)).orElse(false);
        boolean proportion = clause.statistic().kind() == Statistic.Kind.PROPORTION;
        OptionalDouble most = clause.bound().atMost();
        boolean out = counted
                ? most.isPresent() && most.getAsDouble() < 1
                : clause.bound().atLeast().orElse(0) > 0;
        return out
                ? Optional.of("a unit that lands every shift would fail: " + (proportion ? "proportion " : "count ")
                        + figures.bound(clause.bound()))
                : Optional.empty();
    }

    private Optional<String> location() {
        Map<GroupKey, List<PlannedShift>> groups = new TreeMap<>();
        List<Per> per = clause.per().contains(Per.EACH) ? List.of(Per.PAIR) : clause.per();
        List<Per> known = per.stream().filter(p -> p != Per.CYCLE).toList(); // nominal values do not change with time
        shifts.forEach(shift -> GroupKey.of(known, shift, sprockets)
                .ifPresent(key ->
                        groups.computeIfAbsent(key, k -> new ArrayList<>()).add(shift)));
        return groups.values().stream().flatMap(group -> worst(group).stream()).findFirst();
    }

    /** The shift of a group whose nominal value the statistic cannot bear. */
    private Optional<String> worst(List<PlannedShift> group) {
        if (group.stream().anyMatch(shift -> of(shift).isEmpty())) {
            return Optional.empty();
        }
        Comparator<PlannedShift> byValue =
                Comparator.comparingDouble(shift -> of(shift).orElseThrow());
        return group.stream()
                .min(byValue)
                .flatMap(least -> group.stream().max(byValue).flatMap(most -> judged(least, most)));
    }

    private Optional<String> judged(PlannedShift least, PlannedShift most) {
        return switch (clause.statistic().kind()) {
            case EVERY -> tooLow(least).or(() -> tooHigh(most));
            case MINIMUM -> tooLow(least).or(() -> tooHigh(least));
            case MAXIMUM -> tooLow(most).or(() -> tooHigh(most));
            // of different nominal values the statistic lies between the least and the most
            case MEAN, MEDIAN, PERCENTILE -> tooLow(most).or(() -> tooHigh(least));
            case STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    COUNT,
                    PROPORTION,
                    TOLERANCE_INTERVAL,
                    REPEATABILITY,
                    REVERSAL,
                    CAPABILITY,
                    DRIFT,
                    CHANGE_POINT,
                    FIRST_FAILURE,
                    EQUIVALENT_TO -> Optional.empty();
        };
    }

    private Optional<String> tooLow(PlannedShift shift) {
        return of(shift).orElseThrow() < clause.bound().atLeast().orElse(Double.NEGATIVE_INFINITY)
                ? Optional.of(sentence(shift))
                : Optional.empty();
    }

    private Optional<String> tooHigh(PlannedShift shift) {
        return of(shift).orElseThrow() > clause.bound().atMost().orElse(Double.POSITIVE_INFINITY)
                ? Optional.of(sentence(shift))
                : Optional.empty();
    }

    private String sentence(PlannedShift shift) {
        return "its bound, " + figures.bound(clause.bound()) + ", shuts out the profile's own nominal value: "
                + clause.measureKey() + " " + shift.from() + "→" + shift.to() + " is "
                + figures.text(of(shift).orElseThrow());
    }

    /** The nominal value of the clause's measure for a shift; empty where the profile does not say. */
    private OptionalDouble of(PlannedShift shift) {
        return new NominalShift(profile, shift.from(), shift.to())
                .get(clause.measure().orElseThrow());
    }
}
