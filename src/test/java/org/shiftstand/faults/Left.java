package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.shiftstand.angle.Correction;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeCase;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.Named;
import org.shiftstand.record.RunRecord;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/** The record that a run left behind, finished or not. */
record Left(Path file) {
    /** The record of a run whose folder is made in {@code out}; empty before there is one. */
    static Optional<Left> in(Path out) {
        if (!Files.isDirectory(out)) {
            return Optional.empty();
        }
        try (Stream<Path> files = Files.walk(out, 3)) {
            return files.filter(file -> file.toString().endsWith(".run"))
                    .map(Left::new)
                    .findFirst();
        } catch (IOException | java.io.UncheckedIOException e) {
            return Optional.empty(); // a file of the log came or went while it was listed
        }
    }

    /** The file and its log, as they stand now. */
    Left copiedTo(Path folder) throws IOException {
        Files.createDirectories(folder);
        Path copy = folder.resolve(String.valueOf(file.getFileName()));
        Path log = file.resolveSibling(file.getFileName() + "-wal");
        if (Files.exists(log)) {
            Files.copy(log, copy.resolveSibling(copy.getFileName() + "-wal"));
        }
        Files.copy(file, copy);
        return new Left(copy);
    }

    /** Judges as {@code judge RECORD} does, with what the record brings. */
    Judged judged() {
        try (JudgeInput input = JudgeInput.open(file, CsvOptions.usual())) {
            JudgeCase its = input.assemble(Named.nothing(), JudgeOptions.defaults());
            return Judge.judge(input.source(), its.spec(), its.profile(), its.options());
        }
    }

    /** Measures with a stored correction and without a profile: nothing then depends on what came later. */
    ShiftTable measured(Correction stored) {
        try (RunRecord record = RunRecord.open(file)) {
            return Measuring.measure(
                            record, Optional.empty(), JudgeOptions.defaults().withCalibration(stored))
                    .table();
        }
    }

    /** Rows of a table in order, each as text with every byte of it. */
    List<String> rows(String table) throws SQLException {
        List<String> rows = new ArrayList<>();
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:file:" + file + "?mode=ro");
                Statement sql = connection.createStatement();
                ResultSet result = sql.executeQuery("SELECT * FROM " + table)) {
            int columns = result.getMetaData().getColumnCount();
            while (result.next()) {
                StringBuilder row = new StringBuilder();
                for (int i = 1; i <= columns; i++) {
                    Object value = result.getObject(i);
                    row.append(value instanceof byte[] bytes ? HexFormat.of().formatHex(bytes) : String.valueOf(value))
                            .append('|');
                }
                rows.add(row.toString());
            }
        }
        return rows;
    }

    /** Shifts that came to rest: those that a run which goes on does not make again. */
    static List<Shift> completed(ShiftTable table) {
        return table.shifts().stream()
                .filter(shift -> shift.evidence() == org.shiftstand.shift.Evidence.COMPLETE)
                .toList();
    }

    /** What was recorded is still there, unchanged, in front of what came after. */
    void isBeginningOf(Left whole, String what) throws SQLException {
        for (String table : List.of("run", "identity", "text", "block", "event", "gap", "anchor", "place")) {
            List<String> before = rows(table);
            List<String> after = whole.rows(table);
            assertThat(after.size()).as("%s: rows of %s", what, table).isGreaterThanOrEqualTo(before.size());
            for (int i = 0; i < before.size(); i++) {
                if (!before.get(i).equals(after.get(i))) {
                    throw new AssertionError(what + ": row " + (i + 1) + " of " + table + " was "
                            + shortened(before.get(i)) + " and is " + shortened(after.get(i)));
                }
            }
        }
    }

    private static String shortened(String row) {
        return row.length() > 200 ? row.substring(0, 200) + "…" : row;
    }
}
