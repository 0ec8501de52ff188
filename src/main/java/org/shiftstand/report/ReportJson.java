package org.shiftstand.report;

import java.util.List;
import org.shiftstand.judge.Judgement;
import org.shiftstand.report.Particular.Line;

/** The object {@code report} of a result: what ISO/IEC 17025:2017 asks of a report, as data. */
final class ReportJson {
    private ReportJson() {}

    static void write(Judgement judgement, JsonWriter json) {
        List<Particular> particulars = ParticularList.of(judgement);
        json.object("report");
        json.field("number", ReportNumber.of(judgement));
        json.field("title", ParticularList.title(judgement));
        conformity(Conformity.of(judgement), json);
        json.texts("missing", ParticularList.missing(particulars));
        json.array("particulars");
        particulars.forEach(particular -> particular(particular, json));
        json.endArray();
        json.field("end", ParticularList.end(judgement));
        json.endObject();
    }

    private static void conformity(Conformity conformity, JsonWriter json) {
        json.object("conformity");
        json.field("statement", plain(conformity.statement()));
        json.field("covers", plain(conformity.covers()));
        json.field("spec", conformity.spec());
        json.texts("met", conformity.met());
        json.texts("notMet", conformity.notMet());
        json.texts("undecided", conformity.undecided());
        json.field("rule", conformity.decision().rule());
        json.field("claim", conformity.decision().claim());
        json.field("risk", conformity.decision().risk());
        json.endObject();
    }

    private static void particular(Particular particular, JsonWriter json) {
        json.object();
        json.field("clause", particular.clause());
        json.field("asks", particular.asks());
        json.array("lines");
        for (Line line : particular.lines()) {
            json.object();
            json.field("key", line.key());
            json.field("stated", line.stated());
            json.texts("texts", line.texts().stream().map(ReportJson::plain).toList());
            json.endObject();
        }
        json.endArray().endObject();
    }

    /** Without the spaces and minus signs of print. */
    private static String plain(String text) {
        return text.replace(Figures.NO_BREAK, " ").replace(Figures.MINUS, "-");
    }
}
