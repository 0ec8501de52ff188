package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.quantity.Direction;

/**
 * The firmware table as a C99 header: ASCII, nothing but {@code <stdint.h>} needed, compiles without a warning.
 *
 * <p>What is not known is {@code NAME_UNKNOWN}, the one int32_t that no angle is; where there is any, compilers that can say
 * so do, until {@code NAME_ACCEPT_UNKNOWN} is defined. Names begin with that of the kind of unit, letters, digits and
 * underscores only, never one that C reserves.
 */
public final class FirmwareHeader {
    private final Learned learned;
    private final FirmwareTable table;
    private final String upper;
    private final String lower;
    private final StringBuilder text = new StringBuilder();

    private FirmwareHeader(Learned learned, FirmwareTable table) {
        this.learned = learned;
        this.table = table;
        this.lower = identifier(table.name());
        this.upper = lower.toUpperCase(Locale.ROOT);
    }

    /** The header; withheld where a number does not fit its type. */
    public static Written of(Learned learned, FixedPoint fixed) {
        FirmwareTable.Made made = FirmwareTable.of(learned, fixed);
        return made.tooLarge().isEmpty()
                ? new Written.Text(new FirmwareHeader(learned, made.table()).written())
                : new Written.Withheld(made.tooLarge());
    }

    /** Name of the header's file, of what the kind of unit is called. */
    public static String fileName(String name) {
        return identifier(name) + "_learned.h";
    }

    /** Small letters, digits, single underscores; begins with a letter (C99, 6.4.2.1 and 7.1.3). */
    static String identifier(String name) {
        String plain =
                name.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "_").replaceAll("^_+|_+$", "");
        if (plain.isEmpty()) {
            return "drive";
        }
        return Character.isDigit(plain.charAt(0)) ? "drive_" + plain : plain;
    }

    private String written() {
        about();
        line("#ifndef " + upper + "_LEARNED_H");
        line("#define " + upper + "_LEARNED_H");
        line("");
        line("#include <stdint.h>");
        line("");
        line("#define " + upper + "_SPROCKETS " + table.positions().size());
        line("#define " + upper + "_ROWS " + table.inboard().size() + " /* shifts between neighbours, each way */");
        line("#define " + upper + "_UNITS_PER_TURN " + table.fixed().unitsPerTurn() + "L /* angles are "
                + table.fixed().words() + " */");
        line("");
        unknown();
        dwell();
        positions();
        overtravel(Direction.INBOARD, table.inboard());
        overtravel(Direction.OUTBOARD, table.outboard());
        rowDwell();
        line("#endif /* " + upper + "_LEARNED_H */");
        return text.toString();
    }

    private void about() {
        List<String> lines = new ArrayList<>();
        lines.add(table.name() + ": positions, overtravel and dwell as learned.");
        lines.add("");
        lines.addAll(Provenance.lines(learned));
        lines.add("Positive is inboard, towards the larger sprocket; sprocket " + learned.origin()
                + " is the origin. Overtravel is past the");
        lines.add("landing, in the direction of motion; 0 is none. +- is at "
                + Figure.percent(learned.options().confidence()) + " confidence.");
        line("/*");
        lines.forEach(l -> line((" * " + ascii(l)).stripTrailing()));
        line(" */");
    }

    private void unknown() {
        line("/* Stands where no capture tells: never drive to it, never take it for none. */");
        line("#define " + upper + "_UNKNOWN INT32_MIN");
        line("#define " + upper + "_UNKNOWN_COUNT " + table.unknown());
        if (table.unknown() > 0) {
            line("#if !defined(" + upper + "_ACCEPT_UNKNOWN) && (defined(__GNUC__) || defined(_MSC_VER))");
            line("#pragma message(\"" + lower + "_learned.h: " + table.unknown()
                    + (table.unknown() == 1 ? " place of the table is " : " places of the table are ") + upper
                    + "_UNKNOWN; define " + upper + "_ACCEPT_UNKNOWN once the firmware handles them\")");
            line("#endif");
        }
        line("");
        line("#if defined(__GNUC__)");
        line("#define " + upper + "_TABLE static const __attribute__((unused))");
        line("#else");
        line("#define " + upper + "_TABLE static const");
        line("#endif");
        line("");
    }

    private void dwell() {
        dwell(learned.hold(), table.dwellMs());
        dwell(learned.restHold(), table.restDwellMs());
        line("");
    }

    private void dwell(Dwell dwell, OptionalInt ms) {
        if (ms.isEmpty()) {
            comment("dwell after arrival within " + Figure.deg(dwell.withinDeg()) + ": not learned");
            return;
        }
        comment("time at the plateau from arrival within +- " + Figure.deg(dwell.withinDeg()) + " until it is left; "
                + ProfileText.common(dwell));
        line("#define " + upper + "_" + dwellName(dwell.withinDeg()) + " " + ms.getAsInt() + "u");
    }

    private static String dwellName(double withinDeg) {
        return "DWELL_AFTER_ARRIVAL_WITHIN_" + Decimal.text(withinDeg).replace('.', '_') + "_DEG_MS";
    }

    private void positions() {
        line(upper + "_TABLE int32_t " + lower + "_position_" + table.fixed().suffix() + "[" + upper
                + "_SPROCKETS] = {");
        for (int i = 0; i < table.positions().size(); i++) {
            LearnedPosition p = learned.positions().get(i);
            entry(value(table.positions().get(i)), "sprocket " + p.sprocket() + ": " + where(p));
        }
        line("};");
        line("");
    }

    private String where(LearnedPosition p) {
        if (!Double.isFinite(p.programmedDeg())) {
            return "gap: no shift to learn from lands on it or leaves it";
        }
        return Figure.deg(p.programmedDeg())
                + (p.sprocket() == learned.origin()
                        ? ", the origin"
                        : ", " + Figure.plusMinus(p.halfWidthDeg(), org.shiftstand.quantity.Unit.DEG));
    }

    private void overtravel(Direction direction, List<OptionalInt> values) {
        line(upper + "_TABLE int32_t " + lower + "_overtravel_" + direction.word() + "_"
                + table.fixed().suffix() + "[" + upper + "_ROWS] = {");
        List<LearnedStep> steps = RowKind.ofDirection(learned, direction);
        for (int i = 0; i < values.size(); i++) {
            LearnedStep step = steps.get(i);
            entry(value(values.get(i)), step.name() + ": " + step.overtravel().match(new RowWords(learned.options())));
        }
        line("};");
        line("");
    }

    private void rowDwell() {
        if (table.rows().isEmpty()) {
            return;
        }
        comment("rows differ in dwell: each row's own, 0 without overtravel");
        line("#define " + upper + "_DWELL_UNKNOWN UINT16_MAX");
        int n = table.inboard().size();
        rowDwell(Direction.INBOARD, table.rows().subList(0, n));
        rowDwell(Direction.OUTBOARD, table.rows().subList(n, 2 * n));
    }

    private void rowDwell(Direction direction, List<OptionalInt> values) {
        line(upper + "_TABLE uint16_t " + lower + "_" + direction.word() + "_"
                + dwellName(table.dwellWithinDeg()).toLowerCase(Locale.ROOT) + "[" + upper + "_ROWS] = {");
        List<LearnedStep> steps = RowKind.ofDirection(learned, direction);
        for (int i = 0; i < values.size(); i++) {
            OptionalInt ms = values.get(i);
            entry(
                    ms.isPresent() ? ms.getAsInt() + "u" : upper + "_DWELL_UNKNOWN",
                    steps.get(i).name());
        }
        line("};");
        line("");
    }

    private String value(OptionalInt value) {
        return value.isPresent() ? Integer.toString(value.getAsInt()) : upper + "_UNKNOWN";
    }

    private void entry(String value, String words) {
        line("    " + value + ", /* " + ascii(words) + " */");
    }

    private void comment(String words) {
        line("/* " + ascii(words) + " */");
    }

    /** Nothing that ends or opens a comment, joins lines or is a trigraph; what is not ASCII has a plain form or none. */
    static String ascii(String words) {
        return Provenance.plain(words)
                .replace("→", "->")
                .replace("±", "+-")
                .replace("−", "-")
                .replaceAll("[^\\x20-\\x7e]|[*\\\\?]", "_");
    }

    private void line(String line) {
        text.append(line).append('\n');
    }
}
