package org.shiftstand.bench;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.document.YamlText;
import org.shiftstand.quantity.Decimal;

/**
 * The mechanical limits of one unit, as they were found; degrees of output shaft in the profile's frame: positive inboard,
 * zero at sprocket 1. They go before the profile's.
 *
 * @param unit id
 * @param on the day
 * @param by who measured; empty where the rig did and nobody was named
 * @param outboard the limit beyond sprocket 1
 * @param inboard the limit beyond the last sprocket
 * @param origin what ties the angles to the profile's frame, in words; always there where the unit was driven
 * @param rig name of the rig that drove it
 * @param sha256 digest of the file's text; empty for one that was not read from a file
 */
public record UnitLimits(
        String unit,
        LocalDate on,
        Method method,
        Optional<String> by,
        Side outboard,
        Side inboard,
        Optional<String> origin,
        Optional<String> rig,
        String sha256) {
    public UnitLimits {
        if (!(outboard.atDeg() < inboard.atDeg())) {
            throw new IllegalArgumentException("the outboard limit lies below the inboard one: outboardDeg="
                    + outboard.atDeg() + ", inboardDeg=" + inboard.atDeg());
        }
    }

    /** How limits were found. */
    public enum Method {
        /** A rig drove the unit gently against its stops. */
        PROBED("probed by driving"),
        /** A person measured them. */
        BY_HAND("measured by hand");

        private final String word;

        Method(String word) {
            this.word = word;
        }

        /** As files write it. */
        public String word() {
            return word;
        }

        static List<String> words() {
            return Arrays.stream(values()).map(Method::word).toList();
        }

        static Optional<Method> of(String word) {
            return Arrays.stream(values()).filter(m -> m.word.equals(word)).findFirst();
        }
    }

    /**
     * One limit.
     *
     * @param atDeg where it is, degrees; the mean of the touches where the unit was driven
     * @param spreadDeg greatest less smallest of the touches, degrees, 0 or more; empty where nobody repeated it
     */
    public record Side(double atDeg, OptionalDouble spreadDeg) {
        public Side {
            if (!Double.isFinite(atDeg)) {
                throw new IllegalArgumentException("a limit is an angle: atDeg=" + atDeg);
            }
            if (spreadDeg.isPresent() && !(spreadDeg.getAsDouble() >= 0 && spreadDeg.getAsDouble() < 1e6)) {
                throw new IllegalArgumentException("a spread is 0 deg or more: spreadDeg=" + spreadDeg.getAsDouble());
            }
        }
    }

    /** The usual name of the file for a unit: {@code TD-0107.limits.yaml}. */
    public static String fileName(String unit) {
        return unit + ".limits.yaml";
    }

    /** Where they come from, for results and reports: a sentence without its point. */
    public String sentence() {
        StringBuilder out = new StringBuilder("unit " + unit + "'s own mechanical limits, ")
                .append(method.word())
                .append(" on ")
                .append(on);
        by.ifPresent(name -> out.append(" by ").append(name));
        rig.ifPresent(name -> out.append(" on rig ").append(name));
        out.append(": outboard ").append(said(outboard)).append(", inboard ").append(said(inboard));
        origin.ifPresent(text -> out.append("; origin: ").append(text));
        return out.toString();
    }

    private static String said(Side side) {
        String at = Decimal.text(side.atDeg()) + " deg";
        return side.spreadDeg().isPresent()
                ? at + " (spread " + Decimal.text(side.spreadDeg().getAsDouble()) + " deg)"
                : at;
    }

    /** As {@link UnitLimitsReader} reads it back, but for the digest. */
    public String toYaml() {
        StringBuilder out = new StringBuilder("# Mechanical limits of one unit; they go before the profile's.\n");
        out.append("unit: ").append(YamlText.quoted(unit)).append('\n');
        out.append("on: ").append(on).append('\n');
        out.append("method: ").append(method.word()).append('\n');
        by.ifPresent(name -> out.append("by: ").append(YamlText.quoted(name)).append('\n'));
        out.append("outboard: ").append(written(outboard)).append('\n');
        out.append("inboard: ").append(written(inboard)).append('\n');
        origin.ifPresent(
                text -> out.append("origin: ").append(YamlText.quoted(text)).append('\n'));
        rig.ifPresent(name -> out.append("rig: ").append(YamlText.quoted(name)).append('\n'));
        return out.toString();
    }

    private static String written(Side side) {
        String at = "{ at: " + Decimal.text(side.atDeg()) + " deg";
        return side.spreadDeg().isPresent()
                ? at + ", spread: " + Decimal.text(side.spreadDeg().getAsDouble()) + " deg }"
                : at + " }";
    }
}
