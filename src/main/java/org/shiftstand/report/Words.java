package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Selection;
import org.shiftstand.spec.Selection.Range;
import org.shiftstand.spec.Statistic;

/** Clauses, bounds, groups and shifts in plain words. */
final class Words {
    static final String ARROW = "\u2192";
    /** Before a number and after nothing that it could join. */
    private static final Pattern HYPHEN_MINUS = Pattern.compile("(?<![\\w.)-])-(?=[0-9])");

    private static final char UNREADABLE = '\ufffd';

    private Words() {}

    /** Text from outside: what XML forbids, and marks that turn the reading direction, become a visible sign. */
    static String clean(String text) {
        if (text.codePoints().allMatch(Words::readable)) {
            return text;
        }
        StringBuilder out = new StringBuilder(text.length());
        text.codePoints().forEach(c -> out.appendCodePoint(readable(c) ? c : UNREADABLE));
        return out.toString();
    }

    private static boolean readable(int c) {
        if (c < 0x20) {
            return c == '\t' || c == '\n' || c == '\r';
        }
        boolean control = c >= 0x7f && c <= 0x9f;
        boolean surrogate = c >= 0xd800 && c <= 0xdfff;
        // Unicode bidirectional controls: a name must read as it is written
        boolean turning = c == 0x061c
                || c == 0x200e
                || c == 0x200f
                || (c >= 0x202a && c <= 0x202e)
                || (c >= 0x2066 && c <= 0x2069);
        return !control && !surrogate && !turning && (c & 0xfffe) != 0xfffe;
    }

    /** {@code at most 18 deg}, {@code 230 deg to 340 deg}. */
    static String bound(Bound bound, Unit unit) {
        String low = written(bound.atLeast(), unit);
        String high = written(bound.atMost(), unit);
        if (low.isEmpty()) {
            return "at most " + high;
        }
        return high.isEmpty() ? "at least " + low : low + " to " + high;
    }

    private static String written(OptionalDouble base, Unit unit) {
        return base.isPresent() ? Figures.asWritten(base.getAsDouble() / unit.inBase(), unit) : "";
    }

    /** What a clause judges: {@code standard deviation of landing, per sprocket and direction, inboard, to 2–5}. */
    static String subject(Clause clause) {
        StringBuilder out = new StringBuilder(statistic(clause));
        if (!clause.per().isEmpty()) {
            out.append(", per ")
                    .append(list(clause.per().stream().map(per -> per.word()).toList(), "and"));
        }
        String where = where(clause.where());
        return where.isEmpty() ? out.toString() : out + "; only " + where;
    }

    private static String statistic(Clause clause) {
        if (clause.outcome().isPresent()) {
            Clause.OutcomeTest test = clause.outcome().get();
            String outcomes = list(
                    test.outcomes().stream()
                            .map(Outcome::word)
                            .map(Words::spaced)
                            .toList(),
                    "or");
            String share = switch (clause.statistic().kind()) {
                case PROPORTION -> "share";
                case EQUIVALENT_TO -> "difference from a base run in the share";
                case EVERY,
                        MINIMUM,
                        MAXIMUM,
                        MEAN,
                        MEDIAN,
                        STANDARD_DEVIATION,
                        POOLED_STANDARD_DEVIATION,
                        RANGE,
                        PERCENTILE,
                        COUNT,
                        TOLERANCE_INTERVAL,
                        REPEATABILITY,
                        REVERSAL,
                        CAPABILITY,
                        DRIFT,
                        CHANGE_POINT,
                        FIRST_FAILURE -> "count";
            };
            return share + " of shifts that are " + (test.negated() ? "not " : "") + outcomes;
        }
        String measure = spaced(clause.measureKey());
        Statistic statistic = clause.statistic();
        return switch (statistic.kind()) {
            case EVERY -> "every " + measure;
            case MINIMUM -> "smallest " + measure;
            case MAXIMUM -> "largest " + measure;
            case PERCENTILE -> "percentile " + Figures.asWritten(statistic.fraction() * 100) + " of " + measure;
            case TOLERANCE_INTERVAL, CAPABILITY, FIRST_FAILURE, EQUIVALENT_TO -> settings(statistic, measure);
            case MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    COUNT,
                    PROPORTION,
                    REPEATABILITY,
                    REVERSAL,
                    DRIFT,
                    CHANGE_POINT -> spaced(statistic.kind().word()) + " of " + measure;
        };
    }

    private static String settings(Statistic statistic, String measure) {
        if (statistic.settings() instanceof Statistic.Settings.Coverage c) {
            return "interval that holds " + percent(c.coverage()) + " of " + measure + " with "
                    + percent(c.confidence()) + " confidence";
        }
        if (statistic.settings() instanceof Statistic.Settings.Alike alike) {
            return switch (alike.of()) {
                case MEAN -> "difference of mean " + measure + " from a base run";
                case SPREAD -> "ratio of spreads of " + measure + " to a base run";
                case PROPORTION -> "difference of the share of shifts with " + measure + " from a base run";
            };
        }
        if (statistic.settings() instanceof Statistic.Settings.Limits limits) {
            return limits.index().name().charAt(0) + limits.index().word().substring(1) + " of " + measure + " against "
                    + bound(limits.limits(), limits.limits().unit());
        }
        if (statistic.settings() instanceof Statistic.Settings.Broken broken) {
            return "first cycle with " + measure + " outside "
                    + bound(broken.limits(), broken.limits().unit());
        }
        return spaced(statistic.kind().word()) + " of " + measure;
    }

    private static String percent(double share) {
        return Figures.asWritten(share * 100) + Figures.NO_BREAK + "%";
    }

    private static String where(Selection where) {
        List<String> parts = new ArrayList<>();
        where.direction().ifPresent(direction -> parts.add(direction.word()));
        ranges(parts, "from ", where.from(), "");
        ranges(parts, "to ", where.to(), "");
        ranges(parts, "cycle ", where.cycle(), "");
        if (!where.step().isEmpty()) {
            parts.add("step " + list(where.step(), "or"));
        }
        ranges(parts, "supply ", where.supplyV(), Figures.symbol(Unit.V));
        return String.join(", ", parts);
    }

    private static void ranges(List<String> parts, String name, List<Range> ranges, String unit) {
        if (!ranges.isEmpty()) {
            parts.add(name + list(ranges.stream().map(Words::range).toList(), "or") + unit);
        }
    }

    private static String range(Range range) {
        String low = Double.isInfinite(range.low()) ? "" : Figures.asWritten(range.low());
        String high = Double.isInfinite(range.high()) ? "" : Figures.asWritten(range.high());
        return low.equals(high) ? low : low + "\u2013" + high;
    }

    /** {@code sprocket 4, inboard}; {@code all shifts} for the whole run. */
    static String group(GroupResult group) {
        return group(group.key());
    }

    static String group(Map<String, String> key) {
        return key.isEmpty()
                ? "all shifts"
                : key.entrySet().stream().map(Words::keyPart).collect(Collectors.joining(", "));
    }

    private static String keyPart(Map.Entry<String, String> part) {
        return switch (part.getKey()) {
            case "direction", "pair" -> part.getValue();
            default -> spaced(part.getKey()) + Figures.NO_BREAK + part.getValue();
        };
    }

    /** The reason of a group without the group's own words before it. */
    static String withoutGroup(GroupResult group) {
        String lead = group.key().entrySet().stream()
                        .map(part -> part.getKey().equals("direction")
                                ? part.getValue()
                                : spaced(part.getKey()) + " " + part.getValue())
                        .collect(Collectors.joining(" "))
                + ": ";
        return group.reason().startsWith(lead) ? group.reason().substring(lead.length()) : group.reason();
    }

    /** {@code 3→4 inboard}. */
    static String way(Shift shift) {
        return shift.from() + ARROW + shift.to() + " " + shift.direction().word();
    }

    /** A measure's value, or its reason, or that it does not apply. */
    static String measured(Shift shift, Measure measure) {
        return shift.get(measure).match(new org.shiftstand.shift.Measured.Cases<String>() {
            @Override
            public String value(double value) {
                return Figures.of(value, measure.unit());
            }

            @Override
            public String notMeasured(String reason) {
                return "not measured: " + reason;
            }

            @Override
            public String notApplicable() {
                return "not applicable";
            }
        });
    }

    /** A sentence made for terminals, with the minus signs of print. */
    static String typeset(String sentence) {
        return HYPHEN_MINUS.matcher(sentence).replaceAll(Figures.MINUS);
    }

    static String spaced(String word) {
        return word.replace('-', ' ');
    }

    static String capital(String text) {
        return text.isEmpty() ? text : text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
    }

    static String list(List<String> words, String last) {
        int n = words.size();
        return n < 2
                ? String.join("", words)
                : String.join(", ", words.subList(0, n - 1)) + " " + last + " " + words.get(n - 1);
    }
}
