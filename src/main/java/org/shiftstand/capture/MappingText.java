package org.shiftstand.capture;

import java.math.BigDecimal;
import java.util.List;

/** Writes a dialect as a mapping file, with the evidence as comments. */
public final class MappingText {
    private MappingText() {}

    /**
     * The file's text.
     *
     * @param because lines that say where it is from; written as comments
     */
    public static String of(Dialect dialect, List<String> because) {
        var text = new StringBuilder();
        because.forEach(line ->
                text.append("# ").append(line.replaceAll("\\p{Cntrl}", "?")).append('\n'));
        Dialect.Format format = dialect.format();
        text.append("mapping: ").append(dialect.name()).append('\n');
        text.append("version: 1\n");
        text.append("delimiter: ").append(format.delimiter().word()).append('\n');
        text.append("decimal: ").append(format.decimal().word()).append('\n');
        text.append("grouping: ").append(format.grouping().word()).append('\n');
        text.append("header: ").append(format.header()).append('\n');
        text.append("time: ").append(time(dialect.time())).append('\n');
        text.append("columns:\n");
        dialect.columns()
                .forEach((key, from) -> text.append("  ")
                        .append(key)
                        .append(": ")
                        .append(column(from))
                        .append('\n'));
        dialect.periodsPerTurn()
                .ifPresent(n -> text.append("periods-per-turn: ").append(n).append('\n'));
        return text.toString();
    }

    private static String time(TimeFrom time) {
        return time.match(new TimeFrom.Cases<>() {
            @Override
            public String numbers(TimeFrom.Numbers from) {
                return "{ column: " + quoted(from.column()) + ", unit: "
                        + from.unit().word() + ", from: "
                        + (from.fromFirst() ? MappingFile.FROM_FIRST : MappingFile.FROM_ZERO) + " }";
            }

            @Override
            public String stamps(TimeFrom.Stamps from) {
                return "{ column: " + quoted(from.column()) + ", form: " + MappingFile.STAMPS + " }";
            }

            @Override
            public String counted(TimeFrom.Counted from) {
                return "{ rate: " + plain(from.rateHz()) + " Hz"
                        + from.column().map(c -> ", column: " + quoted(c)).orElse("") + " }";
            }
        });
    }

    private static String column(ColumnFrom from) {
        return "{ column: " + quoted(from.column())
                + from.minus().map(m -> ", minus: " + quoted(m)).orElse("")
                + (from.scale() == 1 ? "" : ", scale: " + plain(from.scale()))
                + (from.onAbove().isPresent()
                        ? ", on-above: " + plain(from.onAbove().getAsDouble())
                        : "")
                + " }";
    }

    private static String plain(double value) {
        return new BigDecimal(Double.toString(value)).stripTrailingZeros().toPlainString();
    }

    /** A double-quoted scalar (YAML 1.2.2, 7.3.1). */
    private static String quoted(String text) {
        return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"").replace("\t", "\\t") + '"';
    }
}
