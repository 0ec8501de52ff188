package org.shiftstand.profile;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.document.Node;
import org.shiftstand.document.Scalar;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** The programmed overtravel of a profile, one value a shift between neighbours, or the word {@code unknown}. */
final class OvertravelTable {
    private static final String UNKNOWN = "unknown";

    private final Optional<Table> table;
    private final Optional<Integer> sprockets;
    private final List<Double> positions;
    private final OptionalDouble outboardLimit;
    private final OptionalDouble inboardLimit;

    /** @param positions empty where they could not be read: then no reach is checked */
    OvertravelTable(
            Table root,
            Optional<Integer> sprockets,
            List<Double> positions,
            OptionalDouble outboardLimit,
            OptionalDouble inboardLimit) {
        this.table = root.find("overtravel").flatMap(node -> node.table("{ inboard: […], outboard: […] }"));
        this.sprockets = sprockets;
        this.positions = positions;
        this.outboardLimit = outboardLimit;
        this.inboardLimit = inboardLimit;
        table.ifPresent(t -> t.only("inboard", "outboard"));
    }

    /** 1→2, 2→3, …; all 0 where the profile has none; NaN for {@code unknown}. */
    List<Double> inboard() {
        return read("inboard");
    }

    /** N→N−1, … 2→1; likewise. */
    List<Double> outboard() {
        return read("outboard");
    }

    private List<Double> read(String direction) {
        Optional<Node> node = table.flatMap(t -> t.find(direction));
        List<Node> items = node.map(n -> n.items("a list of angles such as [270 deg, 0 deg, unknown]"))
                .orElse(List.of());
        List<Optional<Quantity>> values =
                items.stream().map(OvertravelTable::value).toList();
        if (items.isEmpty()) {
            return Collections.nCopies(sprockets.orElse(2) - 1, 0.0);
        }
        int n = items.size();
        sprockets
                .filter(s -> s - 1 != n)
                .ifPresent(s -> node.orElseThrow()
                        .problem(direction + " overtravel has " + n + " values; expected " + (s - 1)
                                + ", one for each shift between neighbours"
                                + (direction.equals("inboard") ? ", 1→2 first" : ", " + s + "→" + (s - 1) + " first")));
        var degrees = new ArrayList<Double>();
        for (int i = 0; i < n; i++) {
            degrees.add(values.get(i).map(Quantity::base).orElse(Double.NaN));
            if (values.get(i).isPresent()) {
                check(direction, i, values.get(i).get(), items.get(i), n);
            }
        }
        return degrees;
    }

    /** Empty for {@code unknown}, and for what is no angle, which is noted. */
    private static Optional<Quantity> value(Node item) {
        boolean unknown = item instanceof Scalar scalar && scalar.value().equals(UNKNOWN);
        return unknown ? Optional.empty() : item.quantity(Dimension.ANGLE);
    }

    private void check(String direction, int i, Quantity value, Node item, int n) {
        if (value.value() < 0) {
            item.problem("overtravel is " + value
                    + "; expected 0 deg for none, or an angle above it: the direction is that" + " of motion");
            return;
        }
        if (positions.size() != n + 1) {
            return;
        }
        boolean inboard = direction.equals("inboard");
        int to = inboard ? i + 2 : n - i;
        double reach = positions.get(to - 1) + (inboard ? value.base() : -value.base());
        OptionalDouble limit = inboard ? inboardLimit : outboardLimit;
        if (limit.isPresent() && (inboard ? reach >= limit.getAsDouble() : reach <= limit.getAsDouble())) {
            item.problem("overtravel of " + value + " past sprocket " + to + " reaches " + Decimal.text(reach)
                    + " deg, at or past the " + direction + " limit, " + Decimal.text(limit.getAsDouble())
                    + " deg; expected it to end before");
        }
    }
}
