package org.shiftstand.report;

import static org.shiftstand.spec.MadeShift.shift;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.angle.Correction;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Demand;
import org.shiftstand.spec.Evaluation;
import org.shiftstand.spec.MadeShift;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Statistic;

/** A judgement with a bit of everything, for renderings. Invented data. */
final class MadeJudgement {
    private MadeJudgement() {}

    static Judgement judgement() {
        Spec spec = Demand.spec(
                Demand.of(Measure.OVERTRAVEL, Statistic.Kind.EVERY)
                        .id("overtravel")
                        .per(Per.SPROCKET, Per.DIRECTION)
                        .between(230, 340, Unit.DEG),
                Demand.of(Measure.HOLD, Statistic.Kind.MAXIMUM).id("hold").atMost(0.75, Unit.MS),
                Demand.of(Measure.LANDING, Statistic.Kind.STANDARD_DEVIATION)
                        .id("spread")
                        .per(Per.SPROCKET)
                        .atMost(14, Unit.DEG),
                Demand.percentile(Measure.TRAVEL_TIME, 0.95)
                        .id("travel")
                        .needs(2)
                        .atMost(0.4, Unit.S),
                Demand.outcomes(Statistic.Kind.COUNT, true, Outcome.LANDED)
                        .id("all-land")
                        .atMost(0, Unit.ONE));
        ShiftTable table = MadeShift.table(shifts());
        List<PlannedShift> plan = List.of(new PlannedShift(0, 4, 5, Optional.empty(), OptionalDouble.empty()));
        List<ClauseResult> clauses = Evaluation.evaluate(spec, table, Optional.of(profile()), plan);
        Map<String, String> identity = new LinkedHashMap<>();
        identity.put("unit firmware", "3.1.0 \"late\"");
        identity.put("operator", "bench two");
        return new Judgement(
                Evaluation.verdict(clauses),
                "1 of 5 clauses fails; overtravel, " + clauses.get(0).reason(),
                Optional.of("TD-0107"),
                identity,
                new SourceIdentity("csv", "td-0107.csv", "c".repeat(64)),
                spec,
                Optional.of(profile()),
                new Correction(2047.5, 2051.25, 1.03, -2.5, 1600, 0.2, -0.1, "fit", "none", Double.NaN, 0.5),
                table,
                Optional.of("stopped by the user"),
                "mechanical limits of profile tarn-drive version 2",
                counts(),
                clauses,
                List.of("the run ended early: stopped by the user"));
    }

    private static List<MadeShift> shifts() {
        List<MadeShift> shifts = new ArrayList<>();
        shifts.add(shift(3, 4)
                .with(Measure.OVERTRAVEL, 220.1)
                .with(Measure.HOLD, 0.7215)
                .with(Measure.TRAVEL_TIME, 0.2)
                .with(Measure.LANDING, 2170));
        shifts.add(shift(3, 4)
                .with(Measure.OVERTRAVEL, 300)
                .without(Measure.HOLD, "clock stopped")
                .with(Measure.TRAVEL_TIME, 0.3)
                .with(Measure.LANDING, 2171));
        shifts.add(shift(3, 4).unknown(Evidence.GAP).without(Measure.TRAVEL_TIME, "gap"));
        return shifts;
    }

    private static Map<String, Integer> counts() {
        Map<String, Integer> counts = new LinkedHashMap<>();
        counts.put("landed", 2);
        counts.put("unknown", 1);
        return counts;
    }

    private static Profile profile() {
        return new Profile(
                "tarn-drive",
                2,
                10,
                List.of(0.0, 712.0, 1455.0, 2170.0, 2930.0, 3700.0, 4410.0, 5190.0, 5905.0, 6680.0),
                OptionalDouble.of(2.4),
                OptionalDouble.of(-520),
                OptionalDouble.of(7100),
                OptionalDouble.of(0.7),
                List.of(270.0, 300.0, 300.0, 300.0, 0.0, 0.0, 0.0, 0.0, 0.0),
                List.of(60.0, 70.0, 65.0, 110.0, 90.0, 150.0, 190.0, 240.0, 160.0),
                List.of(),
                "1".repeat(64));
    }
}
