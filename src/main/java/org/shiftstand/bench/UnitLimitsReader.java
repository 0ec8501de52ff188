package org.shiftstand.bench;

import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.UnitLimits.Method;
import org.shiftstand.bench.UnitLimits.Side;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Dates;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads limits files: every problem of a file at once. */
public final class UnitLimitsReader {
    /** More than a hundred times the travel of any such drive: a slip of the hand is told as one. */
    private static final double FARTHEST_DEG = 1e6;

    private final Problems problems;
    private final Table root;
    private final String sha256;

    private UnitLimitsReader(TextFile file) {
        this.problems = new Problems(file.name());
        this.root = Yaml.read(file, problems, "a limits file");
        this.sha256 = file.sha256();
    }

    /**
     * Reads a limits file.
     *
     * @throws BadInput with everything that is wrong
     */
    public static UnitLimits read(TextFile file) {
        return new UnitLimitsReader(file).limits();
    }

    private UnitLimits limits() {
        root.only("unit", "on", "method", "by", "outboard", "inboard", "origin", "rig");
        Optional<String> unit =
                root.need("unit", "the unit's id, such as 'TD-0107'").flatMap(Node::identifier);
        Optional<LocalDate> on =
                root.need("on", "the day of measuring, such as 2026-09-14").flatMap(Dates::day);
        Optional<Method> method = root.need("method", "'probed by driving' or 'measured by hand'")
                .flatMap(node -> node.oneOf("method", Method.words()))
                .flatMap(Method::of);
        boolean byHand = method.equals(Optional.of(Method.BY_HAND));
        boolean probed = method.equals(Optional.of(Method.PROBED));
        Optional<String> by = text("by", "who measured", byHand);
        Optional<String> origin = text("origin", "what the angles are counted from, in words", probed);
        Optional<String> rig = text("rig", "the name of the rig that drove the unit", probed);
        Optional<Side> outboard = side("outboard", probed);
        Optional<Side> inboard = side("inboard", probed);
        if (outboard.isPresent()
                && inboard.isPresent()
                && !(outboard.get().atDeg() < inboard.get().atDeg())) {
            root.find("inboard")
                    .ifPresent(node -> node.problem(
                            "the inboard limit is not above the outboard one; expected angles positive inboard"));
        }
        problems.check();
        return new UnitLimits(
                unit.orElseThrow(),
                on.orElseThrow(),
                method.orElseThrow(),
                by,
                outboard.orElseThrow(),
                inboard.orElseThrow(),
                origin,
                rig,
                sha256);
    }

    private Optional<String> text(String key, String expected, boolean needed) {
        Optional<Node> node = needed ? root.need(key, expected) : root.find(key);
        return node.flatMap(n -> n.text(expected));
    }

    private Optional<Side> side(String key, boolean probed) {
        Optional<Table> table = root.need(
                        key, "where the " + key + " limit is, such as { at: -515 deg, spread: 0.8 deg }")
                .flatMap(node -> node.table("{ at: -515 deg, spread: 0.8 deg }"));
        table.ifPresent(t -> t.only("at", "spread"));
        Optional<Double> at =
                table.flatMap(t -> t.need("at", "an angle such as '-515 deg'")).flatMap(UnitLimitsReader::angle);
        Optional<Node> written = table.flatMap(
                t -> probed ? t.need("spread", "the spread of the touches, such as '0.8 deg'") : t.find("spread"));
        Optional<Double> spread = written.flatMap(UnitLimitsReader::spread);
        return at.map(deg -> new Side(deg, spread.map(OptionalDouble::of).orElse(OptionalDouble.empty())));
    }

    private static Optional<Double> angle(Node node) {
        return node.quantity(Dimension.ANGLE)
                .filter(q -> {
                    boolean good = Math.abs(q.base()) < FARTHEST_DEG;
                    if (!good) {
                        node.problem("at is " + q + ", out of bounds; expected an angle of the output shaft");
                    }
                    return good;
                })
                .map(Quantity::base);
    }

    private static Optional<Double> spread(Node node) {
        return node.quantity(Dimension.ANGLE)
                .filter(q -> {
                    boolean good = q.base() >= 0 && q.base() < FARTHEST_DEG;
                    if (!good) {
                        node.problem("spread is " + q + ", out of bounds; expected 0 deg or more");
                    }
                    return good;
                })
                .map(Quantity::base);
    }
}
