package org.shiftstand.report;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.planning.Assumptions;
import org.shiftstand.planning.Chance;
import org.shiftstand.planning.ClauseExplanation;
import org.shiftstand.planning.ClauseNeeds;
import org.shiftstand.planning.Explanation;
import org.shiftstand.planning.OperatingCurve;
import org.shiftstand.planning.Power;
import org.shiftstand.planning.Tally;

/** An explained spec as one JSON document; later versions add fields, never rename them. */
public final class ExplanationJson {
    private static final int FORMAT = 1;

    private final JsonWriter json;

    private ExplanationJson(JsonWriter json) {
        this.json = json;
    }

    /** Writes the document. */
    public static void write(Explanation explained, Appendable out) {
        new ExplanationJson(new JsonWriter(out)).write(explained);
    }

    private void write(Explanation explained) {
        json.object().field("format", FORMAT);
        json.object("spec")
                .field("name", explained.spec().name())
                .field("version", explained.spec().version())
                .field("sha256", explained.spec().sha256())
                .endObject();
        explained
                .profile()
                .ifPresentOrElse(
                        profile -> json.object("profile")
                                .field("name", profile.name())
                                .field("version", profile.version())
                                .field("sha256", profile.sha256())
                                .endObject(),
                        () -> json.nothing("profile"));
        json.field("rule", explained.spec().rule())
                .field("claim", explained.spec().claim());
        json.field("cyclesForAll", explained.cyclesForAll());
        json.texts("neverSupplied", explained.neverSupplied());
        assumptions(explained);
        json.array("clauses");
        explained.clauses().forEach(this::clause);
        json.endArray();
        explained
                .whole()
                .ifPresentOrElse(
                        whole -> {
                            json.object("whole").field("quality", "spread-factor");
                            points(whole.points());
                            json.endObject();
                        },
                        () -> json.nothing("whole"));
        json.endObject().end();
    }

    private void assumptions(Explanation explained) {
        Assumptions given = explained.assumptions();
        json.object("assumptions")
                .field("cycles", explained.plannedCycles())
                .field("repetitions", given.repetitions())
                .field("seed", given.seed())
                .field("badEverywhere", given.everywhere())
                .field("landingSdDeg", given.unit().landingSdDeg())
                .endObject();
        json.texts("guardBandsNotSimulated", explained.guarded());
    }

    private void clause(ClauseExplanation clause) {
        json.object()
                .field("id", clause.clause().id())
                .field("demand", ExplanationWords.demand(clause.clause()).replace(Figures.NO_BREAK, " "))
                .field("because", clause.clause().because())
                .field("rule", clause.clause().decision().rule().word())
                .field("claim", clause.clause().decision().claim().word())
                .field("needs", clause.each());
        clause.needs().ifPresentOrElse(this::needs, () -> json.nothing("supply"));
        clause.curve().ifPresentOrElse(curve -> curve(clause, curve), () -> json.nothing("curve"));
        json.field("noCurve", clause.noCurve());
        clause.power().ifPresentOrElse(this::power, () -> json.nothing("power"));
        json.endObject();
    }

    private void needs(ClauseNeeds needs) {
        json.object("supply")
                .field("groups", needs.groups())
                .field("inAll", needs.inAll())
                .field("given", needs.given())
                .field("cycles", needs.cycles())
                .field("seconds", needs.seconds())
                .field("never", needs.never())
                .endObject();
    }

    private void curve(ClauseExplanation clause, OperatingCurve curve) {
        json.object("curve")
                .field("worsening", curve.worsening().name().toLowerCase(java.util.Locale.ROOT))
                .field("sign", curve.sign())
                .field("place", clause.place())
                .field("unit", curve.unit().symbol())
                .field("good", curve.good())
                .field("bad", curve.bad());
        chance("producersRisk", curve.producersRisk());
        chance("consumersRisk", curve.consumersRisk());
        json.object("qualityAt");
        for (int percent : List.of(95, 50, 5)) {
            OptionalDouble quality = curve.qualityAt(percent / 100.0);
            json.field(String.valueOf(percent), quality);
        }
        json.endObject();
        points(curve.points());
        json.endObject();
    }

    private void points(List<OperatingCurve.Point> points) {
        json.array("points");
        for (OperatingCurve.Point point : points) {
            Tally tally = point.verdicts();
            json.object()
                    .field("quality", point.quality())
                    .field("pass", tally.pass())
                    .field("fail", tally.fail())
                    .field("noVerdict", tally.noVerdict())
                    .field("passLow", tally.passes().low())
                    .field("passHigh", tally.passes().high())
                    .endObject();
        }
        json.endArray();
    }

    private void chance(String name, Chance chance) {
        json.object(name)
                .field("share", chance.share())
                .field("low", chance.low())
                .field("high", chance.high())
                .field("hits", chance.hits())
                .field("trials", chance.trials())
                .endObject();
    }

    private void power(Power power) {
        json.object("power")
                .field("wanted", power.wanted())
                .field("cycles", power.cycles())
                .field("seconds", power.seconds())
                .field("why", power.why())
                .endObject();
    }
}
