package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;

/** Says in a sentence why a group got its verdict. */
final class Wording {
    private static final int LISTED = 5;

    private final Clause clause;
    private final Figures figures;

    Wording(Clause clause, Unit unit) {
        this.clause = clause;
        this.figures = new Figures(unit);
    }

    /**
     * {@code sprocket 4 inboard: 15.8 deg, allowed at most 14 deg, 1.8 deg too wide (20 shifts, uncertainty 0.3 deg)}.
     *
     * @param shifts that broke the bound
     */
    String failing(GroupKey key, GroupValues values, double value, List<Integer> shifts, Assessment shown) {
        String longRun = longRun(value, shown);
        return lead(key) + measured(value) + where(value, shifts) + ", allowed " + figures.bound(clause.bound()) + ", "
                + distance(value) + (longRun.isEmpty() ? "" : ", " + longRun) + sure(values, shifts, value, shown);
    }

    String passing(GroupKey key, GroupValues values, double value, Assessment shown) {
        return failing(key, values, value, List.of(), shown);
    }

    /** Where neither meeting nor breaking the bound is sure enough. */
    String between(GroupKey key, GroupValues values, double value, Assessment shown) {
        String longRun = longRun(value, shown);
        String why = longRun.isEmpty()
                ? shown.guardBand().isPresent()
                        ? ", within the guard band of "
                                + figures.distance(shown.guardBand().getAsDouble(), value)
                        : ", within the uncertainty of its shifts"
                : ", but " + longRun;
        return lead(key) + measured(value) + ", allowed " + figures.bound(clause.bound()) + ", " + distance(value) + why
                + ": neither met nor broken beyond doubt" + sure(values, List.of(), value, shown);
    }

    /** {@code in the long run 12 to 19.3 deg with 95 % confidence}; the limits that the bound is about. Empty elsewhere. */
    private String longRun(double value, Assessment shown) {
        boolean low = shown.lowLimit().isPresent()
                && (clause.bound().atLeast().isPresent()
                        || value > clause.bound().high());
        boolean high = shown.highLimit().isPresent()
                && (clause.bound().atMost().isPresent()
                        || value < clause.bound().low());
        if (clause.decision().claim() != Decision.Claim.PROCESS || !(low || high)) {
            return "";
        }
        String range = low && high && !breaks(value)
                ? figures.number(shown.lowLimit().getAsDouble()) + " to "
                        + figures.text(shown.highLimit().getAsDouble())
                : low && (!high || value > clause.bound().high())
                        ? "at least " + figures.text(shown.lowLimit().getAsDouble())
                        : "at most " + figures.text(shown.highLimit().getAsDouble());
        return "in the long run " + range + " with " + new Figures(Unit.PERCENT).text(confidence()) + " confidence";
    }

    private double confidence() {
        Decision decision = clause.decision();
        return decision.falseAccept().isPresent() ? 1 - decision.falseAccept().getAsDouble() : decision.confidence();
    }

    /** {@code  (20 shifts, uncertainty 0.3 deg)}. */
    private String sure(GroupValues values, List<Integer> shifts, double value, Assessment shown) {
        String worth = shown.effectiveN().isPresent()
                ? ", worth "
                        + Figures.shifts((int) Math.round(shown.effectiveN().getAsDouble()))
                        + " since they follow each other"
                : "";
        String uncertainty = shown.expandedUncertainty().isPresent()
                ? ", uncertainty "
                        + figures.distance(shown.expandedUncertainty().getAsDouble(), value)
                : "";
        return " (" + counts(values, shifts) + worth + uncertainty + ")";
    }

    String notEnough(GroupKey key, GroupValues values, int needs) {
        String many = values.n() < 2 ? " shift has a value, " : " shifts have a value, ";
        return lead(key)
                + (values.n() == 0 ? "no" : String.valueOf(values.n()))
                + many
                + needs
                + (needs == 1 ? " is needed" : " are needed")
                + missing(values, "; ")
                + left(values, "; ");
    }

    /** For statistics that a single value can turn. */
    String couldTurn(GroupKey key, GroupValues values, double value) {
        return lead(key) + missing(values, "") + ": that could turn the result; the others give " + measured(value)
                + where(value, List.of()) + ", allowed " + figures.bound(clause.bound());
    }

    /** For estimators. */
    String tooManyMiss(GroupKey key, GroupValues values) {
        return lead(key) + missing(values, "") + ": more than the " + new Figures(Unit.PERCENT).text(clause.mayMiss())
                + " that may miss";
    }

    String noShift(GroupKey key) {
        return lead(key) + "no shift, though it is expected";
    }

    String notApplicable(GroupKey key, GroupValues values) {
        return lead(key) + clause.measureKey() + " does not apply to "
                + (values.notApplicable() == 1 ? "its " : "any of its ") + Figures.shifts(values.notApplicable());
    }

    String allDisplaced(GroupKey key, GroupValues values) {
        return lead(key) + "no shift started on its sprocket (" + Figures.shifts(values.displaced()) + " displaced)";
    }

    String noValue(GroupKey key, String why) {
        return lead(key) + why;
    }

    private String lead(GroupKey key) {
        return key.names().isEmpty() ? "" : key.words() + ": ";
    }

    private String measured(double value) {
        double limit = value > clause.bound().atMost().orElse(Double.POSITIVE_INFINITY)
                ? clause.bound().atMost().getAsDouble()
                : clause.bound().atLeast().orElse(Double.NaN);
        return breaks(value) ? figures.text(value, limit) : figures.text(value);
    }

    /** Which outcomes are counted, or which shift the value is from, with the shifts that broke the bound. */
    private String where(double value, List<Integer> shifts) {
        String listed = breaks(value) && !shifts.isEmpty() ? numbered(shifts) : "";
        return switch (clause.statistic().kind()) {
            case EVERY, MINIMUM, MAXIMUM, FIRST_FAILURE -> listed.isEmpty() ? "" : " in " + listed;
            case COUNT, PROPORTION ->
                clause.outcome().map(test -> " " + words(test)).orElse("")
                        + (listed.isEmpty() ? "" : " (" + listed + ")");
            case MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    PERCENTILE,
                    TOLERANCE_INTERVAL,
                    REPEATABILITY,
                    REVERSAL,
                    CAPABILITY,
                    DRIFT,
                    CHANGE_POINT,
                    EQUIVALENT_TO -> "";
        };
    }

    private static String words(Clause.OutcomeTest test) {
        String outcomes = test.outcomes().stream()
                .map(outcome -> outcome.word().replace('-', ' '))
                .collect(Collectors.joining(" or "));
        return test.negated() ? "not " + outcomes : outcomes;
    }

    private boolean breaks(double value) {
        return value > clause.bound().atMost().orElse(Double.POSITIVE_INFINITY)
                || value < clause.bound().atLeast().orElse(Double.NEGATIVE_INFINITY);
    }

    private String distance(double value) {
        double above = value - clause.bound().atMost().orElse(Double.POSITIVE_INFINITY);
        double below = clause.bound().atLeast().orElse(Double.NEGATIVE_INFINITY) - value;
        if (above > 0) {
            return figures.distance(above, value) + " " + tooMuch(value);
        }
        if (below > 0) {
            return figures.distance(below, value) + " " + tooLittle(value);
        }
        double inside = Math.min(-above, -below);
        return inside == 0 ? "just inside" : figures.distance(inside, value) + " inside";
    }

    private String tooMuch(double value) {
        return word(value, "too wide", "too long", "too many", "too large");
    }

    private String tooLittle(double value) {
        return word(value, "too narrow", "too short", "too few", "too small");
    }

    private String word(double value, String spread, String time, String count, String size) {
        return switch (clause.statistic().kind()) {
            case STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION, RANGE, REPEATABILITY -> spread;
            case COUNT -> count;
            case PROPORTION, CAPABILITY, REVERSAL, DRIFT, CHANGE_POINT, EQUIVALENT_TO -> size;
            case FIRST_FAILURE -> value > clause.bound().high() ? "too late" : "too early";
            case EVERY, MINIMUM, MAXIMUM, MEAN, MEDIAN, PERCENTILE, TOLERANCE_INTERVAL -> {
                Measure measure = clause.measure().orElseThrow();
                yield switch (measure) {
                    // a place or a signed movement is neither small nor large
                    case LANDING, LANDING_ERROR, EXTREME, CREEP, WAKE_UP_ERROR -> "outside";
                    case REQUEST,
                            MOTION_START,
                            START,
                            PLATEAU,
                            OVERTRAVEL,
                            RINGING,
                            HOLD,
                            TRAVEL_TIME,
                            SETTLED,
                            SETTLE_TIME,
                            CLEARANCE,
                            PEAK_CURRENT,
                            CHARGE,
                            RETURN_RINGING,
                            REST_HOLD,
                            ENERGY -> measure.unit().dimension() == Dimension.TIME ? time : size;
                };
            }
        };
    }

    private String counts(GroupValues values, List<Integer> shifts) {
        boolean everyBroken = clause.statistic().kind() == Statistic.Kind.EVERY && !shifts.isEmpty();
        String n = everyBroken
                ? shifts.size() + " of " + Figures.shifts(values.n()) + " outside"
                : Figures.shifts(values.n());
        return n + missing(values, "; ", ": ", "") + left(values, "; ");
    }

    /** {@code 1 of 20 shifts not measured (gap), 3 planned shifts not made}; empty where nothing misses. */
    private static String missing(GroupValues values, String before) {
        return missing(values, before, " (", ")");
    }

    private static String missing(GroupValues values, String before, String open, String close) {
        List<String> parts = new ArrayList<>();
        if (values.notMeasured() > 0) {
            parts.add(values.notMeasured() + " of " + Figures.shifts(values.n() + values.notMeasured())
                    + " not measured" + open + String.join(", ", values.reasons()) + close);
        }
        if (values.notMade() > 0) {
            parts.add(values.notMade() + " planned " + (values.notMade() == 1 ? "shift" : "shifts") + " not made");
        }
        return parts.isEmpty() ? "" : before + String.join(", ", parts);
    }

    private static String left(GroupValues values, String before) {
        return values.displaced() == 0 ? "" : before + values.displaced() + " displaced left out";
    }

    private static String numbered(List<Integer> shifts) {
        String listed = shifts.stream().limit(LISTED).map(String::valueOf).collect(Collectors.joining(", "));
        return (shifts.size() == 1 ? "shift " : "shifts ") + listed + (shifts.size() > LISTED ? ", …" : "");
    }
}
