package org.shiftstand.history;

import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.shiftstand.report.CsvCells;

/**
 * Runs and their clauses as CSV (RFC 4180, lines end with LF): a line for each clause, or for a run without clauses one line. Text
 * never starts a formula.
 */
public final class HistoryCsv {
    private static final String HEADER =
            "key,unit,kind,firmware,bench,operator,simulated,started,spec,spec_version,verdict,"
                    + "shifts,landed,clause,clause_verdict,value,margin,measured_in,at_least,at_most,worst_group\n";

    private HistoryCsv() {}

    /** The line with the names of columns. */
    public static void header(Appendable out) throws IOException {
        out.append(HEADER);
    }

    /** One run. */
    public static void run(HistoryEntry run, Map<String, String> names, Appendable out) throws IOException {
        List<String> about = List.of(
                run.key(),
                CsvCells.text(run.unit()),
                CsvCells.text(run.kind()),
                CsvCells.text(run.firmware()),
                CsvCells.text(run.bench()),
                CsvCells.text(names.getOrDefault(run.operator(), run.operator())),
                run.simulated() ? "yes" : "no",
                HistoryEntry.utc(run.startedMicros()).orElse(""),
                CsvCells.text(run.spec()),
                Integer.toString(run.specVersion()),
                run.verdict(),
                Integer.toString(run.shifts()),
                Integer.toString(run.landed()));
        if (run.clauses().isEmpty()) {
            CsvCells.row(join(about, List.of("", "", "", "", "", "", "", "")), out);
        }
        for (HistoryEntry.Clause clause : run.clauses()) {
            CsvCells.row(
                    join(
                            about,
                            List.of(
                                    CsvCells.text(clause.id()),
                                    CsvCells.text(clause.verdict()),
                                    number(clause.value()),
                                    number(clause.margin()),
                                    CsvCells.text(clause.unit()),
                                    number(clause.atLeast()),
                                    number(clause.atMost()),
                                    CsvCells.text(clause.worst()))),
                    out);
        }
    }

    private static List<String> join(List<String> one, List<String> other) {
        return java.util.stream.Stream.concat(one.stream(), other.stream()).toList();
    }

    private static String number(OptionalDouble value) {
        return value.isPresent() ? CsvCells.number(value.getAsDouble()) : "";
    }
}
