package org.shiftstand.history;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.report.JsonWriter;
import org.shiftstand.stats.Capability;

/** Lists and trends as JSON, format 1; what is not known is {@code null}. The same entries give the same bytes from any database. */
public final class HistoryJson {
    private static final double ONE_SIDED = 0.975;

    private HistoryJson() {}

    /**
     * Runs.
     *
     * @param all how many are meant, of which these are the newest
     * @param names disclosed operator names by digest
     */
    public static void runs(List<HistoryEntry> runs, int all, Map<String, String> names, Appendable out) {
        JsonWriter json = new JsonWriter(out);
        json.object().field("format", 1).field("all", all).array("runs");
        runs.forEach(run -> run(run, names, json));
        json.endArray().endObject().end();
    }

    private static void run(HistoryEntry run, Map<String, String> names, JsonWriter json) {
        json.object()
                .field("key", run.key())
                .field("unit", run.unit())
                .field("kind", run.kind())
                .field("firmware", run.firmware())
                .field("bench", run.bench())
                .field("operator", said(run.operator()))
                .field("operatorName", Optional.ofNullable(names.get(run.operator())))
                .field("simulated", run.simulated())
                .field("started", HistoryEntry.utc(run.startedMicros()))
                .field("spec", run.spec())
                .field("specVersion", run.specVersion())
                .field("verdict", run.verdict())
                .field("reason", run.reason())
                .field("software", run.software())
                .field("shifts", run.shifts())
                .field("landed", run.landed())
                .field("result", run.resultSha256())
                .field("place", run.place());
        if (!run.clauses().isEmpty()) {
            json.array("clauses");
            run.clauses()
                    .forEach(clause -> json.object()
                            .field("id", clause.id())
                            .field("verdict", clause.verdict())
                            .field("value", clause.value())
                            .field("margin", clause.margin())
                            .field("unit", clause.unit())
                            .field("atLeast", clause.atLeast())
                            .field("atMost", clause.atMost())
                            .field("worst", said(clause.worst()))
                            .endObject());
            json.endArray();
        }
        json.endObject();
    }

    private static Optional<String> said(String text) {
        return text.isEmpty() ? Optional.empty() : Optional.of(text);
    }

    /** A trend. */
    public static void trend(Trend trend, Appendable out) {
        JsonWriter json = new JsonWriter(out);
        json.object()
                .field("format", 1)
                .field("runs", trend.runs())
                .field("units", trend.units())
                .field("undated", trend.undated())
                .field("simulated", trend.simulated())
                .field("simulatedLeftOut", trend.simulatedLeftOut());
        json.object("firstPassYield");
        share(trend.firstPass(), json);
        json.endObject().object("lastYield");
        share(trend.last(), json);
        json.endObject();
        shares("byWeek", "week", trend.byWeek(), json);
        shares("byFirmware", "firmware", trend.byFirmware(), json);
        json.array("worstClauses");
        trend.worst()
                .forEach(worst -> json.object()
                        .field("id", worst.id())
                        .field("failing", worst.failing())
                        .field("undecided", worst.undecided())
                        .field("runs", worst.runs())
                        .endObject());
        json.endArray().array("clauses");
        trend.clauses().forEach(clause -> clause(clause, json));
        json.endArray().endObject().end();
    }

    private static void share(Share share, JsonWriter json) {
        json.field("passes", share.passes())
                .field("trials", share.trials())
                .field("undecided", share.undecided())
                .field("share", share.value())
                .field("low", share.low())
                .field("high", share.high());
    }

    private static void shares(String name, String key, Map<String, Share> shares, JsonWriter json) {
        json.array(name);
        shares.forEach((value, share) -> {
            json.object().field(key, value);
            share(share, json);
            json.endObject();
        });
        json.endArray();
    }

    private static void clause(ClauseTrend trend, JsonWriter json) {
        json.object()
                .field("id", trend.id())
                .field("unit", trend.unit())
                .field("n", trend.points().size())
                .field("notMeasured", trend.notMeasured());
        json.object("ewma").field("weight", ClauseTrend.WEIGHT).field("width", ClauseTrend.WIDTH);
        json.field(
                        "target",
                        trend.chart().map(c -> OptionalDouble.of(c.target())).orElse(OptionalDouble.empty()))
                .field("sd", trend.chart().map(c -> OptionalDouble.of(c.sd())).orElse(OptionalDouble.empty()))
                .field(
                        "reach",
                        trend.chart().map(c -> OptionalDouble.of(c.reach())).orElse(OptionalDouble.empty()))
                .field("firstOutside", said(trend.firstOutside()))
                .field("why", said(trend.whyNoChart()))
                .endObject();
        json.array("weeks");
        trend.weeks().forEach(week -> {
            json.object()
                    .field("week", week.week())
                    .field("n", week.n())
                    .field("mean", week.mean())
                    .field("sd", week.sd());
            Optional<Capability> capability = week.capability();
            json.field("cpk", capability.map(c -> OptionalDouble.of(c.cpk())).orElse(OptionalDouble.empty()))
                    .field(
                            "cpkLow",
                            capability
                                    .map(c ->
                                            OptionalDouble.of(c.ofCpk(ONE_SIDED).low()))
                                    .orElse(OptionalDouble.empty()))
                    .field(
                            "cpkHigh",
                            capability
                                    .map(c ->
                                            OptionalDouble.of(c.ofCpk(ONE_SIDED).high()))
                                    .orElse(OptionalDouble.empty()))
                    .field("why", said(week.why()))
                    .endObject();
        });
        json.endArray().array("points");
        double[] means = trend.chart().map(ClauseTrend.Chart::means).orElse(new double[0]);
        for (int i = 0; i < trend.points().size(); i++) {
            History.Point point = trend.points().get(i);
            json.object()
                    .field("run", HistoryEntry.idText(point.run()))
                    .field("started", HistoryEntry.utc(point.startedMicros()))
                    .field("verdict", point.verdict())
                    .field("value", point.value())
                    .field("ewma", i < means.length ? OptionalDouble.of(means[i]) : OptionalDouble.empty())
                    .endObject();
        }
        json.endArray().endObject();
    }
}
