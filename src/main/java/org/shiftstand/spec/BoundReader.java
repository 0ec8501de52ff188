package org.shiftstand.spec;

import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;

/** Reads a clause's bound in the unit of its statistic, and refuses bounds that no value can meet or break. */
final class BoundReader {
    private static final Set<Measure> NEVER_NEGATIVE = EnumSet.of(
            Measure.RINGING,
            Measure.RETURN_RINGING,
            Measure.HOLD,
            Measure.REST_HOLD,
            Measure.TRAVEL_TIME,
            Measure.SETTLE_TIME);
    private final Table table;
    private final String measure;
    private final Statistic.Kind kind;
    private final Optional<Statistic.Likeness> likeness;
    private final Dimension dimension;

    BoundReader(Table table, String measure, Statistic statistic) {
        this.table = table;
        this.measure = measure;
        this.kind = statistic.kind();
        this.likeness = statistic.settings() instanceof Statistic.Settings.Alike alike
                ? Optional.of(alike.of())
                : Optional.empty();
        boolean ratio = likeness.filter(of -> of != Statistic.Likeness.MEAN).isPresent();
        this.dimension = ratio
                ? Dimension.RATIO
                : switch (kind) {
                    case COUNT, FIRST_FAILURE -> Dimension.COUNT;
                    case PROPORTION, CAPABILITY -> Dimension.RATIO;
                    case EVERY,
                            MINIMUM,
                            MAXIMUM,
                            MEAN,
                            MEDIAN,
                            STANDARD_DEVIATION,
                            POOLED_STANDARD_DEVIATION,
                            RANGE,
                            PERCENTILE,
                            TOLERANCE_INTERVAL,
                            REPEATABILITY,
                            REVERSAL,
                            DRIFT,
                            CHANGE_POINT,
                            EQUIVALENT_TO ->
                        ClauseReader.measureOf(measure)
                                .map(m -> m.unit().dimension())
                                .orElse(Dimension.COUNT);
                };
    }

    /**
     * Notes bounds that are no quantities at all, or in a unit that no statistic of the measure has, where the statistic is
     * not known.
     */
    static void checkUnits(Table table, Optional<String> measure) {
        Optional<Dimension> own =
                measure.flatMap(ClauseReader::measureOf).map(m -> m.unit().dimension());
        Stream.of("at-most", "at-least", "between")
                .flatMap(key -> table.find(key).stream())
                .flatMap(node -> node.oneOrMany().stream())
                .forEach(node -> node.quantity("a bound such as '18 deg'")
                        .filter(q -> own.isPresent() && !mayBe(q.unit().dimension(), own.get()))
                        .ifPresent(q -> node.problem(node.name() + " is " + q + "; " + measure.orElseThrow() + " is "
                                + own.get().phrase() + ", so its bound is too: expected the likes of '"
                                + own.get().example() + "'")));
    }

    private static boolean mayBe(Dimension dimension, Dimension own) {
        return dimension == own || dimension == Dimension.COUNT || dimension == Dimension.RATIO;
    }

    /** The bound; empty where it is wrong or missing, which is noted. */
    Optional<Bound> bound() {
        if (likeness.isPresent()) {
            return margin();
        }
        Optional<Node> atMost = table.find("at-most");
        Optional<Node> atLeast = table.find("at-least");
        Optional<Node> between = table.find("between");
        if (between.isPresent()) {
            atMost.or(() -> atLeast)
                    .ifPresent(
                            node -> node.problem("'" + node.name() + "' beside 'between'; expected one of" + " them"));
            return between(between.get());
        }
        if (atMost.isEmpty() && atLeast.isEmpty()) {
            table.problem("the clause has no bound; expected at-most, at-least or between: [low, high]");
            return Optional.empty();
        }
        Optional<Quantity> low = atLeast.flatMap(this::quantity);
        Optional<Quantity> high = atMost.flatMap(this::quantity);
        if (low.isPresent() != atLeast.isPresent() || high.isPresent() != atMost.isPresent()) {
            return Optional.empty();
        }
        return checked(low, high, atMost.or(() -> atLeast).orElse(table));
    }

    /** Of an equivalence: how much it may be, either way. */
    private Optional<Bound> margin() {
        List.of("at-least", "between")
                .forEach(key -> table.find(key)
                        .ifPresent(node -> node.problem("'" + key
                                + "' of an equivalence; it has a largest difference only: expected at-most")));
        Optional<Node> atMost = table.find("at-most");
        if (atMost.isEmpty()) {
            table.problem("the clause has no margin; expected at-most: the largest difference that is allowed");
            return Optional.empty();
        }
        boolean other =
                table.find("at-least").isPresent() || table.find("between").isPresent();
        return atMost.flatMap(this::quantity)
                .filter(q -> !other)
                .map(q -> new Bound(OptionalDouble.empty(), OptionalDouble.of(q.base()), q.unit()));
    }

    private Optional<Bound> between(Node node) {
        List<Node> ends = node.items("two bounds such as [230 deg, 340 deg]");
        if (ends.size() != 2) {
            if (!ends.isEmpty()) {
                node.problem("between has " + ends.size() + " values; expected two, the lower first");
            }
            return Optional.empty();
        }
        Optional<Quantity> low = quantity(ends.get(0));
        Optional<Quantity> high = quantity(ends.get(1));
        return low.isEmpty() || high.isEmpty() ? Optional.empty() : checked(low, high, node);
    }

    private Optional<Bound> checked(Optional<Quantity> low, Optional<Quantity> high, Node node) {
        if (low.isPresent() && high.isPresent() && low.get().base() > high.get().base()) {
            node.problem("the lower bound " + low.get() + " is above the upper bound " + high.get()
                    + ": nothing can meet both;" + " expected the lower one first");
            return Optional.empty();
        }
        return high.or(() -> low).map(q -> new Bound(base(low), base(high), q.unit()));
    }

    private static OptionalDouble base(Optional<Quantity> quantity) {
        return quantity.map(q -> OptionalDouble.of(q.base())).orElse(OptionalDouble.empty());
    }

    /** In the statistic's dimension and within what the statistic can be; otherwise noted and empty. */
    private Optional<Quantity> quantity(Node node) {
        Optional<Quantity> read = node.quantity("a bound such as '" + dimension.example() + "'");
        if (read.isEmpty()) {
            return read;
        }
        Quantity q = read.get();
        Optional<String> wrong = wrongUnit(q).or(() -> impossible(q));
        wrong.ifPresent(text -> node.problem(node.name() + " is " + q + "; " + text));
        return wrong.isPresent() ? Optional.empty() : read;
    }

    private Optional<String> wrongUnit(Quantity q) {
        boolean bare = q.unit() == Unit.ONE && (dimension == Dimension.COUNT || dimension == Dimension.RATIO);
        boolean other = kind == Statistic.Kind.FIRST_FAILURE ? q.unit() == Unit.SHIFTS : q.unit() == Unit.CYCLES;
        if (bare || (q.unit().dimension() == dimension && !other)) {
            return Optional.empty();
        }
        boolean ownUnit = dimension == Dimension.COUNT || dimension == Dimension.RATIO;
        String of = ownUnit ? kind.word() : measure;
        return Optional.of(of + " is " + dimension.phrase() + ", so its bound is too: expected the likes of "
                + (switch (kind) {
                    case COUNT -> "'0'";
                    case FIRST_FAILURE -> "'200 cycles'";
                    case CAPABILITY -> "'1.33'";
                    case EVERY,
                            MINIMUM,
                            MAXIMUM,
                            MEAN,
                            MEDIAN,
                            STANDARD_DEVIATION,
                            POOLED_STANDARD_DEVIATION,
                            RANGE,
                            PERCENTILE,
                            PROPORTION,
                            TOLERANCE_INTERVAL,
                            REPEATABILITY,
                            REVERSAL,
                            DRIFT,
                            CHANGE_POINT,
                            EQUIVALENT_TO -> "'" + dimension.example() + "'";
                }));
    }

    private Optional<String> impossible(Quantity q) {
        boolean counts = kind == Statistic.Kind.COUNT || kind == Statistic.Kind.FIRST_FAILURE;
        if (counts && (q.value() != Math.rint(q.value()) || q.value() < 0)) {
            return Optional.of("a count is a whole number from 0: no count can be at this bound");
        }
        if (likeness.isPresent()) {
            return impossible(likeness.get(), q);
        }
        if (kind == Statistic.Kind.PROPORTION && (q.base() < 0 || q.base() > 1)) {
            return Optional.of("a proportion lies between 0 % and 100 %");
        }
        if (q.value() < 0 && kind.spread()) {
            return Optional.of("a " + kind.word() + " is never below 0");
        }
        boolean ofTheMeasure = switch (kind) {
            case EVERY, MINIMUM, MAXIMUM, MEAN, MEDIAN, PERCENTILE -> true;
            // a change, an index and the end of an interval may lie below 0 though no value does
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
                    EQUIVALENT_TO -> false;
        };
        boolean negative = ofTheMeasure
                && q.value() < 0
                && ClauseReader.measureOf(measure)
                        .filter(NEVER_NEGATIVE::contains)
                        .isPresent();
        return negative ? Optional.of(measure + " is never below 0") : Optional.empty();
    }

    private static Optional<String> impossible(Statistic.Likeness likeness, Quantity q) {
        return switch (likeness) {
            case MEAN ->
                q.base() > 0
                        ? Optional.empty()
                        : Optional.of("a margin is above 0: no two runs have the very same mean");
            case SPREAD ->
                q.base() > 1
                        ? Optional.empty()
                        : Optional.of("a margin of spreads is their ratio, the larger over the smaller: above 1, such"
                                + " as 1.5");
            case PROPORTION ->
                q.base() > 0 && q.base() < 1
                        ? Optional.empty()
                        : Optional.of("a margin of shares lies between 0 % and 100 %");
        };
    }
}
