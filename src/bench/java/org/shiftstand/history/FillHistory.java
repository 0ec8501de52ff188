package org.shiftstand.history;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.Random;

/** Fills a history with made-up runs, to measure how long lists and trends take: URL, number of runs. */
final class FillHistory {
    private static final int CLAUSES = 16;
    private static final int BATCH = 5000;

    private FillHistory() {}

    public static void main(String[] arguments) throws SQLException {
        int runs = Integer.parseInt(arguments[1]);
        Random random = new Random(1);
        try (History history = History.open(Database.of(arguments[0], "postgres", ""))) {
            List<HistoryEntry> batch = new ArrayList<>();
            for (int i = 0; i < runs; i++) {
                batch.add(run(i, random));
                if (batch.size() == BATCH || i == runs - 1) {
                    history.add(batch, Map.of());
                    batch.clear();
                }
            }
        }
    }

    private static HistoryEntry run(int number, Random random) {
        List<HistoryEntry.Clause> clauses = new ArrayList<>();
        boolean fails = false;
        for (int c = 0; c < CLAUSES; c++) {
            double value = 10 + 2 * random.nextGaussian() + number * 1e-5;
            boolean bad = value > 17;
            fails |= bad;
            clauses.add(new HistoryEntry.Clause(
                    "clause-" + c,
                    bad ? "fail" : "pass",
                    OptionalDouble.of(value),
                    OptionalDouble.of(17 - value),
                    "deg",
                    OptionalDouble.empty(),
                    OptionalDouble.of(17),
                    "sprocket 4 inboard"));
        }
        return new HistoryEntry(
                HistoryEntry.key("source " + number, "spec", "profile"),
                HistoryEntry.key("result " + number, "", ""),
                "TD-" + number / 2,
                "tarn-drive",
                "1." + number / 30_000,
                "bench " + number % 8,
                "",
                false,
                OptionalLong.of(1_767_225_600_000_000L + number * 300_000_000L),
                "tarn-drive-end-of-line",
                1,
                fails ? "fail" : "pass",
                fails ? "a clause fails" : "all 16 clauses pass",
                "shiftstand",
                432,
                432,
                clauses,
                "archive/" + number);
    }
}
