package org.shiftstand.capture;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import org.shiftstand.capture.Dialect.DecimalMark;
import org.shiftstand.capture.Dialect.Delimiter;
import org.shiftstand.capture.Dialect.Format;
import org.shiftstand.capture.Dialect.Grouping;
import org.shiftstand.capture.TimeFrom.TimeUnit;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** Reads mapping files: how the captures of one logger are read. Every problem of a file at once. */
public final class MappingFile {
    static final String FROM_ZERO = "zero";
    static final String FROM_FIRST = "first sample";
    static final String STAMPS = "date and time";
    private static final String COLUMN = "the header of a column, such as CH1, in quotes where it is a number";

    private final Problems problems;
    private final Table root;

    private MappingFile(TextFile file) {
        problems = new Problems(file.name());
        root = Yaml.read(file, problems, "a mapping file");
    }

    /**
     * Reads the file that the user named.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Dialect read(Path file) {
        return read(TextFile.read(file.toString(), file));
    }

    /**
     * Reads a mapping.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Dialect read(TextFile file) {
        return new MappingFile(file).dialect();
    }

    private Dialect dialect() {
        root.only(
                "mapping",
                "version",
                "delimiter",
                "decimal",
                "grouping",
                "header",
                "time",
                "columns",
                "periods-per-turn");
        Optional<String> name =
                root.need("mapping", "its name, such as bench-logger").flatMap(Node::identifier);
        Optional<Integer> unused = // for people: it must be there, and nothing depends on it
                root.need("version", "a whole number from 1").flatMap(node -> node.whole(1, 1_000_000));
        Optional<Format> format = format();
        Optional<TimeFrom> time = root.need("time", "where the time is from, such as { column: t, unit: ms }")
                .flatMap(node ->
                        node.table("{ column: t, unit: ms }, { column: t, form: date and time } or { rate: 512 Hz }"))
                .flatMap(this::time);
        Optional<Map<String, ColumnFrom>> columns = root.need(
                        "columns", "where the columns are from, such as hall_sin: { column: CH1 }")
                .flatMap(node -> node.table("columns with their headers, such as hall_sin: { column: CH1 }"))
                .flatMap(this::columns);
        Optional<Integer> periods = root.find("periods-per-turn").flatMap(node -> node.whole(1, 64));
        problems.check();
        return new Dialect(
                name.orElseThrow(),
                format.orElseThrow(),
                time.orElseThrow(),
                columns.orElseThrow(),
                periods.map(OptionalInt::of).orElse(OptionalInt.empty()));
    }

    private Optional<Format> format() {
        Optional<Delimiter> delimiter = word("delimiter", Delimiter.values(), Delimiter::word, Delimiter.COMMA);
        Optional<DecimalMark> decimal = word("decimal", DecimalMark.values(), DecimalMark::word, DecimalMark.POINT);
        Optional<Grouping> grouping = word("grouping", Grouping.values(), Grouping::word, Grouping.NONE);
        Optional<Boolean> header = root.find("header").map(Node::yesOrNo).orElse(Optional.of(true));
        if (decimal.isPresent()
                && grouping.filter(g -> g.mark() == decimal.get().mark()).isPresent()) {
            root.find("grouping")
                    .ifPresent(node -> node.problem("grouping is by the decimal mark, "
                            + decimal.get().word() + "; expected another, or none"));
        }
        return delimiter.isEmpty() || decimal.isEmpty() || grouping.isEmpty() || header.isEmpty()
                ? Optional.empty()
                : Optional.of(new Format(delimiter.get(), decimal.get(), grouping.get(), header.get()));
    }

    private <T> Optional<T> word(String key, T[] all, Function<T, String> word, T usual) {
        Optional<Node> node = root.find(key);
        return node.isEmpty()
                ? Optional.of(usual)
                : node.flatMap(n -> n.oneOf(key, Arrays.stream(all).map(word).toList()))
                        .flatMap(w -> Arrays.stream(all)
                                .filter(t -> word.apply(t).equals(w))
                                .findFirst());
    }

    private Optional<TimeFrom> time(Table table) {
        if (table.find("rate").isPresent()) {
            table.only("rate", "column");
            Optional<Quantity> rate = table.find("rate").flatMap(node -> node.positive(Dimension.FREQUENCY));
            Optional<String> count = table.find("column").flatMap(node -> node.text(COLUMN));
            return rate.map(r -> new TimeFrom.Counted(count, r.base()));
        }
        Optional<String> column = table.need("column", COLUMN).flatMap(node -> node.text(COLUMN));
        if (table.find("form").isPresent()) {
            table.only("column", "form");
            Optional<String> form = table.find("form").flatMap(node -> node.oneOf("form of time", List.of(STAMPS)));
            return form.flatMap(f -> column.map(TimeFrom.Stamps::new));
        }
        table.only("column", "unit", "from");
        Optional<String> unit = table.need("unit", "one of s, ms, us, ns")
                .flatMap(node -> node.oneOf(
                        "unit of time",
                        Arrays.stream(TimeUnit.values()).map(TimeUnit::word).toList()));
        Optional<String> from = table.find("from")
                .map(node -> node.oneOf("origin of time", List.of(FROM_ZERO, FROM_FIRST)))
                .orElse(Optional.of(FROM_ZERO));
        return column.isEmpty() || unit.isEmpty() || from.isEmpty()
                ? Optional.empty()
                : Arrays.stream(TimeUnit.values())
                        .filter(u -> u.word().equals(unit.get()))
                        .findFirst()
                        .map(u ->
                                new TimeFrom.Numbers(column.get(), u, from.get().equals(FROM_FIRST)));
    }

    private Optional<Map<String, ColumnFrom>> columns(Table table) {
        List<String> known = Column.headers().stream()
                .filter(h -> !h.equals(Column.TIME.header()))
                .toList();
        table.only(known.toArray(String[]::new));
        for (Column column : new Column[] {Column.SIN, Column.COS}) {
            table.need(column.header(), "where it is from, such as { column: CH1 }");
        }
        Map<String, ColumnFrom> columns = new LinkedHashMap<>();
        for (String key : table.keys()) {
            if (known.contains(key)) {
                table.find(key)
                        .flatMap(node -> node.table("{ column: HEADER }, also with minus, scale, on-above"))
                        .flatMap(MappingFile::column)
                        .ifPresent(from -> columns.put(key, from));
            }
        }
        refuseTwice(table, columns);
        return columns.size() == table.keys().size() ? Optional.of(columns) : Optional.empty();
    }

    /** One header cannot be two things: the slip of a copied line. */
    private static void refuseTwice(Table table, Map<String, ColumnFrom> columns) {
        List<ColumnFrom> seen = new ArrayList<>();
        columns.forEach((key, from) -> {
            if (seen.stream()
                    .anyMatch(s -> s.column().equals(from.column()) && s.minus().equals(from.minus()))) {
                table.find(key)
                        .ifPresent(node -> node.problem("the header '" + from.column()
                                + "' is read for another column already; expected one column for each"));
            }
            seen.add(from);
        });
    }

    private static Optional<ColumnFrom> column(Table table) {
        table.only("column", "minus", "scale", "on-above");
        Optional<String> column = table.need("column", COLUMN).flatMap(node -> node.text(COLUMN));
        Optional<Optional<String>> minus = table.find("minus")
                .map(node -> node.text(COLUMN).map(Optional::of))
                .orElse(Optional.of(Optional.empty()));
        Optional<Double> scale = table.find("scale")
                .map(node -> number(node).filter(s -> isScale(node, s)))
                .orElse(Optional.of(1.0));
        Optional<OptionalDouble> above = table.find("on-above")
                .map(node -> number(node).map(OptionalDouble::of))
                .orElse(Optional.of(OptionalDouble.empty()));
        return column.isEmpty() || minus.isEmpty() || scale.isEmpty() || above.isEmpty()
                ? Optional.empty()
                : Optional.of(new ColumnFrom(column.get(), minus.get(), scale.get(), above.get()));
    }

    private static Optional<Double> number(Node node) {
        Optional<Quantity> read = node.quantity("a number such as 0.001");
        if (read.isPresent() && read.get().unit() != Unit.ONE) {
            node.problem(node.name() + " is " + read.get() + "; expected a bare number such as 0.001");
            return Optional.empty();
        }
        return read.map(Quantity::value);
    }

    private static boolean isScale(Node node, double scale) {
        if (scale == 0 || !Double.isFinite(scale)) {
            node.problem("scale is " + scale + "; expected a number other than 0");
        }
        return scale != 0 && Double.isFinite(scale);
    }
}
