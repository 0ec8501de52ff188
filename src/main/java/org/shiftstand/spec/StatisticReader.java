package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import org.shiftstand.document.Nearest;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;

/** Reads a statistic: a word, or one with settings such as {@code { percentile: 95 % }}. */
final class StatisticReader {
    static final List<String> WORDS = Statistic.Kind.words();
    private static final double DEFAULT_ALPHA = 0.05;
    private static final List<String> WITH_SETTINGS =
            List.of("percentile", "tolerance-interval", "capability", "change-point", "first-failure", "equivalent-to");

    private final Optional<String> measure;

    /** @param measure what is judged, in whose unit limits inside a statistic are written; empty where that is wrong */
    StatisticReader(Optional<String> measure) {
        this.measure = measure;
    }

    Optional<Statistic> read(Node node) {
        return node instanceof Table table ? withSettings(table) : word(node);
    }

    private Optional<Statistic> word(Node node) {
        String expected = "one of " + String.join(", ", WORDS);
        Optional<String> word = node.text(expected);
        if (word.isEmpty()) {
            return Optional.empty();
        }
        Optional<Statistic.Kind> kind = Statistic.Kind.of(word.get());
        if (kind.isEmpty()) {
            node.problem("unknown statistic '" + word.get() + "'; expected " + expected + "."
                    + Nearest.hint(word.get(), WORDS));
            return Optional.empty();
        }
        Optional<String> missing = missing(kind.get());
        missing.ifPresent(node::problem);
        return missing.isPresent() ? Optional.empty() : kind.map(k -> new Statistic(k, usual(k)));
    }

    /** Settings of a bare word. */
    private Statistic.Settings usual(Statistic.Kind kind) {
        if (kind == Statistic.Kind.CHANGE_POINT) {
            return new Statistic.Settings.Significance(DEFAULT_ALPHA);
        }
        if (kind == Statistic.Kind.EQUIVALENT_TO) {
            boolean ofOutcome = measure.filter(ClauseFit.OUTCOME::equals).isPresent();
            return new Statistic.Settings.Alike(ofOutcome ? Statistic.Likeness.PROPORTION : Statistic.Likeness.MEAN);
        }
        return new Statistic.Settings.None();
    }

    /** What a bare word leaves open. */
    private static Optional<String> missing(Statistic.Kind kind) {
        return switch (kind) {
            case PERCENTILE -> Optional.of("percentile does not say which; expected '{ percentile: 95 % }'");
            case TOLERANCE_INTERVAL ->
                Optional.of("tolerance-interval does not say what it holds; expected '{ tolerance-interval: {"
                        + " coverage: 99 %, confidence: 95 % } }'");
            case CAPABILITY ->
                Optional.of("capability does not say which index, nor against which limits; expected '{ capability: {"
                        + " index: ppk, between: [-70 deg, 70 deg] } }'");
            case FIRST_FAILURE ->
                Optional.of("first-failure does not say what fails; expected '{ first-failure: { between: [-70 deg,"
                        + " 70 deg] } }'");
            case EVERY,
                    MINIMUM,
                    MAXIMUM,
                    MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    COUNT,
                    PROPORTION,
                    REPEATABILITY,
                    REVERSAL,
                    DRIFT,
                    CHANGE_POINT,
                    EQUIVALENT_TO -> Optional.empty();
        };
    }

    private Optional<Statistic> withSettings(Table table) {
        table.only(WITH_SETTINGS.toArray(String[]::new));
        List<String> named =
                table.keys().stream().filter(WITH_SETTINGS::contains).toList();
        if (named.size() != 1) {
            if (named.size() > 1 || table.keys().isEmpty()) {
                table.problem("a statistic with settings names one; expected the likes of '{ percentile: 95 % }'");
            }
            return Optional.empty();
        }
        Node settings = table.find(named.get(0)).orElse(table);
        Statistic.Kind kind = Statistic.Kind.of(named.get(0)).orElseThrow();
        return settings(kind, settings).map(read -> new Statistic(kind, read));
    }

    private Optional<Statistic.Settings> settings(Statistic.Kind kind, Node node) {
        return switch (kind) {
            case PERCENTILE ->
                DecisionReader.between(node, "percentile", 1, "100 %").map(Statistic.Settings.Fraction::new);
            case TOLERANCE_INTERVAL ->
                node.table("{ coverage: 99 %, confidence: 95 % }").flatMap(StatisticReader::coverage);
            case CAPABILITY ->
                node.table("{ index: ppk, between: [-70 deg, 70 deg] }").flatMap(this::capability);
            case FIRST_FAILURE -> node.table("{ between: [-70 deg, 70 deg] }").flatMap(this::broken);
            case CHANGE_POINT -> node.table("{ significance: 5 % }").flatMap(StatisticReader::significance);
            case EQUIVALENT_TO ->
                node.oneOf("likeness", Statistic.Likeness.words())
                        .flatMap(Statistic.Likeness::of)
                        .map(Statistic.Settings.Alike::new);
            case EVERY,
                    MINIMUM,
                    MAXIMUM,
                    MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    COUNT,
                    PROPORTION,
                    REPEATABILITY,
                    REVERSAL,
                    DRIFT -> Optional.empty();
        };
    }

    private static Optional<Statistic.Settings> coverage(Table table) {
        table.only("coverage", "confidence");
        Optional<Double> coverage = table.need("coverage", "the share of shifts that it holds, such as 99 %")
                .flatMap(n -> DecisionReader.between(n, "coverage", 1, "100 %"));
        Optional<Double> confidence = table.need("confidence", "such as 95 %").flatMap(DecisionReader::confidence);
        return coverage.isEmpty() || confidence.isEmpty()
                ? Optional.empty()
                : Optional.of(new Statistic.Settings.Coverage(coverage.get(), confidence.get()));
    }

    private Optional<Statistic.Settings> capability(Table table) {
        table.only("index", "at-most", "at-least", "between");
        Optional<Statistic.Index> index = table.need("index", "one of " + String.join(", ", Statistic.Index.words()))
                .flatMap(n -> n.oneOf("index", Statistic.Index.words()))
                .flatMap(Statistic.Index::of);
        Optional<Bound> limits = limits(table);
        boolean oneSided = limits.isPresent()
                && (limits.get().atLeast().isEmpty() || limits.get().atMost().isEmpty());
        if (oneSided && index.filter(StatisticReader::ofBothLimits).isPresent()) {
            table.problem("index " + index.get().word() + " needs both limits; expected between: [low, high], or"
                    + " cpk or ppk");
            return Optional.empty();
        }
        return index.isEmpty() || limits.isEmpty()
                ? Optional.empty()
                : Optional.of(new Statistic.Settings.Limits(index.get(), limits.get()));
    }

    private static boolean ofBothLimits(Statistic.Index index) {
        return index == Statistic.Index.CP || index == Statistic.Index.PP;
    }

    private Optional<Statistic.Settings> broken(Table table) {
        table.only("at-most", "at-least", "between");
        return limits(table).map(Statistic.Settings.Broken::new);
    }

    private static Optional<Statistic.Settings> significance(Table table) {
        table.only("significance");
        return table.need("significance", "such as 5 %")
                .flatMap(n -> DecisionReader.between(n, "significance", 0.5, "50 %"))
                .map(Statistic.Settings.Significance::new);
    }

    /** Limits of single shifts, in the measure's own unit. */
    private Optional<Bound> limits(Table table) {
        if (measure.isEmpty()) {
            BoundReader.checkUnits(table, measure);
            return Optional.empty();
        }
        return new BoundReader(table, measure.get(), new Statistic(Statistic.Kind.EVERY, 0)).bound();
    }
}
