package org.shiftstand.profile;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** The programmed overtravel of a profile, one value a shift between neighbours. */
final class OvertravelTable {
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

    /** 1→2, 2→3, …; all 0 where the profile has none. */
    List<Double> inboard() {
        return read("inboard");
    }

    /** N→N−1, … 2→1; all 0 where the profile has none. */
    List<Double> outboard() {
        return read("outboard");
    }

    private List<Double> read(String direction) {
        List<Double> none = Collections.nCopies(sprockets.orElse(2) - 1, 0.0);
        Optional<Node> node = table.flatMap(t -> t.find(direction));
        Optional<List<Quantity>> values = node.flatMap(n -> n.quantities(Dimension.ANGLE));
        if (values.isEmpty()) {
            return none;
        }
        int n = values.get().size();
        sprockets
                .filter(s -> s - 1 != n)
                .ifPresent(s -> node.get()
                        .problem(direction + " overtravel has " + n + " values; expected " + (s - 1)
                                + ", one for each shift between neighbours"
                                + (direction.equals("inboard") ? ", 1→2 first" : ", " + s + "→" + (s - 1) + " first")));
        List<Node> items = node.get().oneOrMany();
        var degrees = new ArrayList<Double>();
        for (int i = 0; i < n; i++) {
            degrees.add(values.get().get(i).base());
            check(direction, i, values.get().get(i), items.get(i), n);
        }
        return degrees;
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
