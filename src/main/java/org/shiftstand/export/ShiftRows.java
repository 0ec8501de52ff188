package org.shiftstand.export;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.shiftstand.export.Column.Kind;
import org.shiftstand.judge.Judgement;
import org.shiftstand.report.ShiftCsv;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;

/** The shifts of one run: every column of {@code shifts.csv} under its name, numbers in full, and why numbers are missing. */
final class ShiftRows {
    private static final Map<String, Measure> MEASURES =
            Arrays.stream(Measure.values()).collect(Collectors.toMap(Measure::column, Function.identity()));

    private static final Map<String, Column> OTHERS = List.of(
                    new Column("shift", Kind.WHOLE, "", "number in the run, from 1, in time order"),
                    new Column(
                            "cycle", Kind.WHOLE, "", "cycle of the script; 0 before the first: no clause is about it"),
                    new Column("from", Kind.WHOLE, "", "sprocket it left"),
                    new Column("to", Kind.WHOLE, "", "sprocket asked for, or landed on where no request is known"),
                    new Column("direction", Kind.TEXT, "", "inboard or outboard"),
                    new Column("outcome", Kind.TEXT, "", "landed, short, …; the evidence's word where it is unknown"),
                    new Column("notes", Kind.TEXT, "", "reasons and remarks as one text, as in shifts.csv"),
                    new Column("evidence", Kind.TEXT, "", "complete, or what is wrong with the samples"),
                    new Column("displaced", Kind.FLAG, "", "whether it did not start on its sprocket"),
                    new Column("step", Kind.TEXT, "", "label of the procedure's step"),
                    new Column("supply_v", Kind.NUMBER, "V", "supply set by the procedure"))
            .stream()
            .collect(Collectors.toMap(Column::name, Function.identity()));

    static final List<Column> COLUMNS = RunFacts.before(columns());

    private final Judgement judgement;
    private final RunFacts facts;

    ShiftRows(Judgement judgement, RunFacts facts) {
        this.judgement = judgement;
        this.facts = facts;
    }

    private static List<Column> columns() {
        var columns = new java.util.ArrayList<Column>();
        columns.add(new Column("band_deg", Kind.NUMBER, "deg", "settle band that the run was measured with"));
        columns.add(new Column(
                "not_measured", Kind.TEXT, "", "JSON object: column → why it has no number; null where nothing lacks"));
        ShiftCsv.columns().forEach(name -> columns.add(column(name)));
        return columns;
    }

    private static Column column(String name) {
        Measure measure = MEASURES.get(name);
        if (measure != null) {
            return new Column(
                    name, Kind.NUMBER, measure.unit().symbol(), measure.key().replace('-', ' '));
        }
        return Optional.ofNullable(OTHERS.get(name))
                .orElseThrow(() -> new IllegalStateException("no such column is known to the export: name=" + name));
    }

    void write(ParquetFile file) throws IOException {
        for (Shift shift : judgement.table().shifts()) {
            file.row(cells -> row(shift, cells));
        }
    }

    private void row(Shift shift, Cells cells) {
        facts.tell(cells);
        cells.number(judgement.table().bandDeg());
        cells.text(JsonCell.object(reasons(shift)));
        ShiftCsv.columns().forEach(name -> cell(name, shift, cells));
    }

    private static void cell(String name, Shift shift, Cells cells) {
        Measure measure = MEASURES.get(name);
        if (measure != null) {
            cells.number(shift.get(measure).number());
            return;
        }
        switch (name) {
            case "shift" -> cells.whole(shift.number());
            case "cycle" -> cells.whole(shift.cycle());
            case "from" -> cells.whole(shift.from());
            case "to" -> cells.whole(shift.to());
            case "direction" -> cells.text(shift.direction().word());
            case "outcome" -> cells.text(ShiftCsv.outcome(shift));
            case "notes" -> cells.text(Optional.of(ShiftCsv.notes(shift)).filter(notes -> !notes.isEmpty()));
            case "evidence" -> cells.text(shift.evidence().word());
            case "displaced" -> cells.flag(shift.displaced());
            case "step" -> cells.text(shift.step());
            case "supply_v" -> cells.number(shift.supplyV());
            default -> throw new IllegalStateException("no such column is known to the export: name=" + name);
        }
    }

    private static Map<String, String> reasons(Shift shift) {
        Map<String, String> reasons = new TreeMap<>();
        for (Measure measure : Measure.values()) {
            ShiftCsv.whyNot(shift, measure).ifPresent(reason -> reasons.put(measure.column(), reason));
        }
        return reasons;
    }
}
