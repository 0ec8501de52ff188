package org.shiftstand.report;

import java.util.List;
import org.shiftstand.planning.cassette.CassettePlan;
import org.shiftstand.planning.cassette.ObservedSpread;
import org.shiftstand.planning.cassette.PlannedCassette;
import org.shiftstand.planning.cassette.Room;
import org.shiftstand.planning.cassette.RoomCheck;
import org.shiftstand.planning.cassette.RoomRule;

/** A cassette plan as one JSON document; later versions add fields, never rename them. */
public final class CassetteJson {
    private static final int FORMAT = 1;

    private final JsonWriter json;
    private final CassettePlan plan;

    private CassetteJson(CassettePlan plan, Appendable out) {
        this.plan = plan;
        this.json = new JsonWriter(out);
    }

    /** Writes the document. */
    public static void write(CassettePlan plan, Appendable out) {
        new CassetteJson(plan, out).write();
    }

    private void write() {
        json.object().field("format", FORMAT);
        json.object("profile")
                .field("name", plan.profile().name())
                .field("version", plan.profile().version())
                .field("sha256", plan.profile().sha256())
                .endObject();
        given();
        json.object("present");
        cassette(plan.present());
        json.endObject().array("cassettes");
        plan.planned().forEach(cassette -> {
            json.object();
            cassette(cassette);
            json.endObject();
        });
        json.endArray();
        json.texts(
                "assumptions",
                CassetteWords.assumptions(plan).stream()
                        .map(CassetteJson::plain)
                        .toList());
        json.endObject().end();
    }

    private void given() {
        ObservedSpread spread = plan.wish().spread();
        RoomRule rule = plan.wish().rule();
        json.object("given")
                .field("presentPitchMm", plan.wish().presentPitchMm())
                .field("linkage", plan.line().linkage())
                .field("spacing", plan.wish().spacing().word())
                .field("overtravel", plan.wish().overtravel().word())
                .field("landingSdDeg", spread.landingSdDeg())
                .field("shifts", spread.shifts())
                .field("factor", plan.factor())
                .field("ringingDeg", spread.ringingMaxDeg())
                .field("offsetDeg", spread.offsetDeg())
                .field("uncertaintyDeg", spread.uncertaintyDeg())
                .field("spreadFrom", spread.from())
                .field("border", rule.border())
                .field("leastClearanceDeg", rule.leastClearanceDeg())
                .field("coverage", rule.coverage())
                .field("confidence", rule.confidence())
                .endObject();
    }

    private void cassette(PlannedCassette cassette) {
        json.field("sprockets", cassette.sprockets())
                .field("verdict", cassette.room().word())
                .field("layout", cassette.fixedPitch() ? "pitch" : "ends")
                .field("pitchDeg", cassette.pitchDeg())
                .field("pitchMm", cassette.pitchMm())
                .field("beyondDeg", cassette.beyondDeg());
        numbers("positionsDeg", cassette.positionsDeg());
        numbers("overtravelInboardDeg", cassette.overtravelInboardDeg());
        numbers("overtravelOutboardDeg", cassette.overtravelOutboardDeg());
        json.texts(
                "notKnown",
                cassette.room() == Room.NOT_DECIDED
                        ? CassetteWords.open(cassette, plan).stream()
                                .map(CassetteJson::plain)
                                .toList()
                        : List.of());
        cassette.tightest()
                .ifPresentOrElse(
                        check -> {
                            json.object("tightest");
                            check(check);
                            json.endObject();
                        },
                        () -> json.nothing("tightest"));
        json.array("checks");
        cassette.checks().forEach(check -> {
            json.object();
            check(check);
            json.endObject();
        });
        json.endArray();
    }

    private void numbers(String name, List<Double> values) {
        json.array(name);
        values.forEach(json::element);
        json.endArray();
    }

    private void check(RoomCheck check) {
        json.field("from", check.from())
                .field("to", check.to())
                .field("side", check.side().word())
                .field("verdict", check.room().word())
                .field("availableDeg", check.availableDeg())
                .field("overtravelDeg", check.overtravelDeg())
                .field("scatterDeg", check.scatterDeg())
                .field("marginDeg", check.marginDeg())
                .field(
                        "marginMm",
                        check.marginDeg().stream()
                                .boxed()
                                .flatMap(deg -> plan.line().mm(deg).stream().boxed())
                                .mapToDouble(mm -> mm)
                                .findFirst())
                .field("overtravelAtMostDeg", check.overtravelAtMostDeg())
                .field("spreadAtMostDeg", check.spreadAtMostDeg())
                .field("gapAtLeastDeg", check.gapAtLeastDeg());
    }

    private static String plain(String sentence) {
        return sentence.replace(Figures.NO_BREAK, " ").replace(Figures.MINUS, "-");
    }
}
