package org.shiftstand.reference;

import java.util.LinkedHashMap;
import java.util.Map;

/** Of long tables the row of each kind that is farthest off: all rows are compared, one is printed. */
final class Farthest {
    private record Row(String of, double published, double ours, int rows) {
        double off() {
            double off = Math.abs(ours - published);
            return Double.isNaN(off) ? Double.POSITIVE_INFINITY : off;
        }
    }

    private final Map<String, Row> rows = new LinkedHashMap<>();

    void next(String kind, String of, double published, double ours) {
        rows.merge(kind, new Row(of, published, ours, 1), (before, now) -> {
            Row worse = now.off() > before.off() ? now : before;
            return new Row(worse.of, worse.published, worse.ours, before.rows + 1);
        });
    }

    void into(Comparisons comparisons, double within) {
        // which of many rows is farthest off is not the same on every processor once all are near enough
        rows.forEach((kind, row) -> {
            String name = kind + ", " + row.rows + (row.rows == 1 ? " row" : " rows");
            if (row.off() <= within) {
                comparisons.figure(name + ", greatest difference", 0, Math.min(row.off(), within), within);
            } else {
                comparisons.figure(name + ", " + row.of, row.published, row.ours, within);
            }
        });
    }
}
