package org.shiftstand.report;

import org.shiftstand.spec.DriftGroup;
import org.shiftstand.spec.RunDrift;

/** What happened over the cycles: {@code overTheRun} and {@code drift[]} of {@code result.json}. Values in base units. */
final class DriftJson {
    private DriftJson() {}

    static void write(RunDrift run, JsonWriter json) {
        json.object("overTheRun")
                .field("cycles", run.cycles())
                .field("falseAlarm", run.alpha())
                .field("confidence", run.confidence())
                .field("groups", run.groups().size())
                .field("tooShort", run.tooShort());
        json.array("clauses");
        run.clauses().forEach(course -> clause(course, json));
        json.endArray().endObject();
        json.array("drift");
        run.groups().forEach(group -> group(group, json));
        json.endArray();
    }

    private static void clause(RunDrift.ClauseCourse course, JsonWriter json) {
        json.object().field("id", course.clause());
        json.object("key");
        course.key().forEach((name, value) -> ClauseJson.key(name, value, json));
        json.endObject();
        json.field("firstFailedCycle", course.firstFailed());
        course.projected()
                .ifPresentOrElse(
                        projection -> json.object("projected")
                                .field("cycle", projection.at())
                                .field("from", projection.from())
                                .field("to", projection.to())
                                .field("confidence", projection.confidence())
                                .field("drift", course.driftGroup())
                                .endObject(),
                        () -> json.nothing("projected"));
        json.endObject();
    }

    private static void group(DriftGroup group, JsonWriter json) {
        DriftGroup.Kind kind = group.kind();
        json.object()
                .field("measure", kind.measure().key())
                .field("unit", kind.measure().unit().symbol())
                .field("pair", kind.from() + Words.ARROW + kind.to())
                .field("supplyV", kind.supplyV())
                .field("shape", group.shape().word())
                .field("cycles", group.series().size())
                .field("firstCycle", group.series().cycle(0))
                .field("lastCycle", group.series().cycle(group.series().size() - 1))
                .field("change", group.drift().change())
                .field("changeLow", group.drift().low())
                .field("changeHigh", group.drift().high())
                .field("perCycle", group.line().slope())
                .field("atCycleZero", group.line().at())
                .field("trendP", group.drift().p())
                .field("trendPAllLooks", group.trendP())
                .field("step", group.change().step())
                .field("stepCycle", group.change().cycle())
                .field("stepP", group.change().p())
                .field("stepPAllLooks", group.changeP())
                .field("following", group.phi())
                .field("effective", group.drift().effective())
                .field("weightedSignal", group.weightedSignal())
                .field("sumSignal", group.sumSignal())
                .endObject();
    }
}
