package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import java.util.function.UnaryOperator;
import org.shiftstand.angle.Correction;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.Evaluation;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Selection;
import org.shiftstand.spec.Selection.Range;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.Statistic;
import org.shiftstand.spec.Statistic.Kind;
import org.shiftstand.spec.Verdict;

/** Invented runs of an invented drive, made by a seeded generator, judged by the real clauses. */
final class Fixture {
    static final double PERIOD_S = 2.4;
    static final double HOLD_S = 0.7;
    static final double LIMIT_ROOM_DEG = 420;

    private final int sprockets;
    private final int sweeps;
    private final Random random;
    final List<Shift> shifts = new ArrayList<>();
    final List<Clause> clauses = new ArrayList<>();
    final Map<String, String> identity = new LinkedHashMap<>();
    final List<String> notices = new ArrayList<>();
    UnaryOperator<Profile> profiles = p -> p;
    boolean withProfile = true;
    Optional<String> unit = Optional.of("TD-0107");
    Optional<String> runEnd = Optional.empty();
    String title = "Tarn drive, end-of-line acceptance";
    String sourceName = "td-0107-20261125T101500Z-001.run";
    int madeSweeps;

    Fixture(int sprockets, int sweeps, long seed) {
        this.sprockets = sprockets;
        this.sweeps = sweeps;
        this.madeSweeps = sweeps;
        this.random = new Random(seed);
        identity.put("firmware", "tarn 2.3.1");
        identity.put("operator", "bench crew 2");
        identity.put("rig", "bench-two");
        identity.put("procedure", "end-of-line, version 1");
        identity.put("started", "2026-11-25T10:15:00Z");
        notices.add("column 'temperature_c' is not known and was kept aside");
    }

    Profile profile() {
        List<Double> positions = new ArrayList<>();
        List<Double> inboard = new ArrayList<>();
        List<Double> outboard = new ArrayList<>();
        for (int i = 0; i < sprockets; i++) {
            positions.add(i * 735.0 + (i % 3) * 12);
            if (i > 0) {
                inboard.add(i < 5 ? 300.0 : 0.0);
                outboard.add(60.0 + 20 * i);
            }
        }
        return profiles.apply(new Profile(
                "tarn-drive",
                2,
                sprockets,
                positions,
                OptionalDouble.of(2.4),
                OptionalDouble.of(-LIMIT_ROOM_DEG),
                OptionalDouble.of(positions.get(sprockets - 1) + LIMIT_ROOM_DEG),
                OptionalDouble.of(HOLD_S),
                inboard,
                outboard,
                List.of(),
                "5d1c".repeat(16)));
    }

    /** Sweeps 1…N and back. */
    Fixture sweep() {
        Profile profile = profile();
        for (int cycle = 1; cycle <= madeSweeps; cycle++) {
            for (int k = 1; k < sprockets; k++) {
                add(profile, cycle, k, k + 1);
            }
            for (int k = sprockets; k > 1; k--) {
                add(profile, cycle, k, k - 1);
            }
        }
        return this;
    }

    private void add(Profile profile, int cycle, int from, int to) {
        double overtravel = profile.overtravelDeg(from, to);
        overtravel = overtravel == 0 ? 0 : overtravel + 4 * random.nextGaussian();
        double error = 3.5 * random.nextGaussian() + (to > from ? 2 : -2);
        shifts.add(shift(
                shifts.size() + 1,
                cycle,
                from,
                to,
                profile.positionDeg(from),
                profile.positionDeg(to),
                error,
                overtravel));
    }

    /** A shift whose instants fit the track of {@link MadeTrack}. */
    Shift shift(
            int number,
            int cycle,
            int from,
            int to,
            double startDeg,
            double nominalDeg,
            double error,
            double overtravel) {
        Direction direction = Direction.of(to - from);
        double request = (number - 1) * PERIOD_S + 0.5;
        double landing = nominalDeg + error;
        double travel = 0.19 + 0.004 * random.nextGaussian();
        boolean plateau = overtravel > 0;
        double hold = HOLD_S + 0.002 * random.nextGaussian();
        double settle = plateau ? 0.21 + overtravel / 5000 + hold + 0.08 + overtravel / 5000 : travel + 0.03;
        double extreme = landing + direction.sign() * (overtravel + 6);
        double limit = direction == Direction.INBOARD
                ? (sprockets - 1) * 735.0 + ((sprockets - 1) % 3) * 12 + LIMIT_ROOM_DEG
                : -LIMIT_ROOM_DEG;
        Map<Measure, Measured> m = new EnumMap<>(Measure.class);
        value(m, Measure.REQUEST, request);
        value(m, Measure.MOTION_START, request + 0.032);
        value(m, Measure.START, startDeg);
        put(m, Measure.PLATEAU, plateau, landing + direction.sign() * overtravel);
        value(m, Measure.LANDING, landing);
        value(m, Measure.OVERTRAVEL, overtravel);
        value(m, Measure.RINGING, Math.abs(6 + random.nextGaussian()));
        put(m, Measure.HOLD, plateau, hold);
        value(m, Measure.TRAVEL_TIME, travel);
        value(m, Measure.SETTLED, request + settle);
        value(m, Measure.SETTLE_TIME, settle);
        value(m, Measure.EXTREME, extreme);
        value(m, Measure.CLEARANCE, direction.sign() * (limit - extreme));
        put(m, Measure.CREEP, number > 1, 0.1 * random.nextGaussian());
        m.put(Measure.WAKE_UP_ERROR, new Measured.NotApplicable());
        value(m, Measure.PEAK_CURRENT, 2.1 + 0.05 * random.nextGaussian());
        value(m, Measure.CHARGE, 0.41 + 0.01 * random.nextGaussian());
        put(m, Measure.RETURN_RINGING, plateau, Math.abs(4 + random.nextGaussian()));
        put(m, Measure.REST_HOLD, plateau, hold - 0.006);
        m.put(Measure.ENERGY, new Measured.NotMeasured("the supply voltage is not captured"));
        value(m, Measure.LANDING_ERROR, error);
        return new Shift(
                number,
                cycle,
                from,
                to,
                direction,
                Outcome.LANDED,
                Evidence.COMPLETE,
                false,
                false,
                Optional.of("sweep-" + cycle),
                OptionalDouble.of(8.2),
                m,
                List.of());
    }

    private static void value(Map<Measure, Measured> m, Measure measure, double value) {
        m.put(measure, new Measured.Value(value));
    }

    private static void put(Map<Measure, Measured> m, Measure measure, boolean exists, double value) {
        m.put(measure, exists ? new Measured.Value(value) : new Measured.NotApplicable());
    }

    /** Puts another shift in place of one. */
    Fixture change(int number, UnaryOperator<Shift> change) {
        shifts.set(number - 1, change.apply(shifts.get(number - 1)));
        return this;
    }

    static Shift with(Shift s, Outcome outcome, Evidence evidence, Map<Measure, Measured> changes, String... notes) {
        Map<Measure, Measured> m = new EnumMap<>(s.measures());
        m.putAll(changes);
        return new Shift(
                s.number(),
                s.cycle(),
                s.from(),
                s.to(),
                s.direction(),
                outcome,
                evidence,
                s.displaced(),
                s.sprocketsUnsure(),
                s.step(),
                s.supplyV(),
                m,
                List.of(notes));
    }

    /** The same shift without its programmed overtravel. */
    static Shift withoutOvertravel(Shift s) {
        double settle = s.get(Measure.TRAVEL_TIME).number().orElseThrow() + 0.04;
        double request = s.get(Measure.REQUEST).number().orElseThrow();
        double landing = s.get(Measure.LANDING).number().orElseThrow();
        return with(
                s,
                Outcome.LANDED,
                Evidence.COMPLETE,
                Map.of(
                        Measure.OVERTRAVEL, new Measured.Value(0),
                        Measure.PLATEAU, new Measured.NotApplicable(),
                        Measure.HOLD, new Measured.NotApplicable(),
                        Measure.REST_HOLD, new Measured.NotApplicable(),
                        Measure.RETURN_RINGING, new Measured.NotApplicable(),
                        Measure.EXTREME,
                                new Measured.Value(landing + s.direction().sign() * 6),
                        Measure.SETTLED, new Measured.Value(request + settle),
                        Measure.SETTLE_TIME, new Measured.Value(settle)));
    }

    /** The same shift, hidden by a sensor fault. */
    static Shift unseen(Shift s) {
        Map<Measure, Measured> lost = new EnumMap<>(Measure.class);
        for (Measure measure : Measure.values()) {
            if (measure != Measure.REQUEST) {
                lost.put(measure, new Measured.NotMeasured("sensor fault"));
            }
        }
        return with(s, Outcome.UNKNOWN, Evidence.SENSOR_FAULT, lost);
    }

    static Shift farOff(Shift s, double error) {
        double landing = s.get(Measure.LANDING).number().orElseThrow();
        double before = s.get(Measure.LANDING_ERROR).number().orElseThrow();
        return with(
                s,
                s.outcome(),
                s.evidence(),
                Map.of(
                        Measure.LANDING, new Measured.Value(landing - before + error),
                        Measure.LANDING_ERROR, new Measured.Value(error)),
                "two rests seen");
    }

    Fixture clause(String id, Measure measure, Kind kind, List<Per> per, double low, double high, String because) {
        return clause(id, measure, kind, per, anywhere(), low, high, measure.unit(), because);
    }

    Fixture clause(
            String id,
            Measure measure,
            Kind kind,
            List<Per> per,
            Selection where,
            double low,
            double high,
            Unit unit,
            String because) {
        clauses.add(new Clause(
                id,
                Optional.of(measure),
                Optional.empty(),
                where,
                new Statistic(kind, kind == Kind.PERCENTILE ? 0.95 : 0),
                per,
                new Bound(bound(low), bound(high), unit),
                OptionalInt.empty(),
                0.02,
                because,
                clauses.size() * 6 + 8));
        return this;
    }

    private static OptionalDouble bound(double value) {
        return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
    }

    static Selection anywhere() {
        return new Selection(Optional.empty(), List.of(), List.of(), List.of(), List.of(), List.of());
    }

    static Selection smallInboard() {
        return new Selection(
                Optional.of(Direction.INBOARD), List.of(), List.of(new Range(2, 5)), List.of(), List.of(), List.of());
    }

    /** The clauses of an end-of-line check. */
    Fixture endOfLine() {
        double none = Double.NaN;
        List<Per> kinds = List.of(Per.SPROCKET, Per.DIRECTION);
        clause(
                "landing-spread",
                Measure.LANDING,
                Kind.STANDARD_DEVIATION,
                kinds,
                none,
                18,
                "a spread above this rubs on the narrowest chain line");
        clause(
                "landing-place",
                Measure.LANDING_ERROR,
                Kind.EVERY,
                kinds,
                -40,
                40,
                "a chain that lies beside its sprocket jumps");
        clause(
                "overtravel-inboard-small",
                Measure.OVERTRAVEL,
                Kind.EVERY,
                List.of(),
                smallInboard(),
                230,
                340,
                Unit.DEG,
                "less does not carry the chain, more risks the next sprocket");
        clause(
                "hold",
                Measure.HOLD,
                Kind.EVERY,
                List.of(Per.PAIR),
                anywhere(),
                0.65,
                0.76,
                Unit.MS,
                "the chain needs this time to climb");
        clause("settle-time", Measure.SETTLE_TIME, Kind.PERCENTILE, List.of(Per.DIRECTION), none, 1.4, "");
        clause("ringing", Measure.RINGING, Kind.MAXIMUM, List.of(), none, 25, "ringing wears the gearbox");
        clause(
                "clearance",
                Measure.CLEARANCE,
                Kind.MINIMUM,
                List.of(),
                60,
                none,
                "the drive must never press on its mechanical limit");
        clause("peak-current", Measure.PEAK_CURRENT, Kind.MAXIMUM, List.of(), none, 2.6, "the cells bear no more");
        clauses.add(new Clause(
                "all-land",
                Optional.empty(),
                Optional.of(new Clause.OutcomeTest(List.of(Outcome.LANDED), true)),
                anywhere(),
                new Statistic(Kind.COUNT, 0),
                List.of(),
                new Bound(OptionalDouble.empty(), OptionalDouble.of(0), Unit.SHIFTS),
                OptionalInt.empty(),
                0.02,
                "a shift that does not land is a shift that was not made",
                60));
        return this;
    }

    Judgement judged() {
        Optional<Profile> profile = withProfile ? Optional.of(profile()) : Optional.empty();
        ShiftTable table = new ShiftTable(
                shifts,
                sprockets,
                20,
                "forward",
                withProfile ? "profile" : "assumed",
                withProfile
                        ? "numbered by the profile; the next best assignment fits 41 times worse"
                        : "the outermost landing seen is sprocket 1",
                withProfile ? OptionalDouble.of(123.4) : OptionalDouble.empty(),
                false,
                OptionalInt.empty(),
                List.of());
        Spec spec = new Spec(
                "tarn-drive-end-of-line",
                4,
                title,
                Optional.of("tarn-drive.profile.yaml"),
                20,
                clauses,
                "a3f0".repeat(16));
        List<PlannedShift> planned = new ArrayList<>();
        for (int cycle = 1; cycle <= sweeps; cycle++) {
            for (int k = 1; k < sprockets; k++) {
                planned.add(new PlannedShift(cycle, k, k + 1, Optional.of("sweep-" + cycle), OptionalDouble.of(8.2)));
            }
            for (int k = sprockets; k > 1; k--) {
                planned.add(new PlannedShift(cycle, k, k - 1, Optional.of("sweep-" + cycle), OptionalDouble.of(8.2)));
            }
        }
        List<ClauseResult> results = Evaluation.evaluate(spec, table, profile, planned);
        Verdict verdict = Evaluation.verdict(results);
        Map<String, Integer> counts = new LinkedHashMap<>();
        for (Outcome outcome : Outcome.values()) {
            int n = (int) shifts.stream().filter(s -> s.outcome() == outcome).count();
            if (n > 0) {
                counts.put(outcome.word(), n);
            }
        }
        String reason = results.stream()
                .filter(r -> r.verdict() == verdict && verdict != Verdict.PASS)
                .findFirst()
                .map(r -> r.clause().id() + ": " + r.reason())
                .orElse(verdict == Verdict.PASS ? "all " + results.size() + " clauses are met" : "nothing to judge");
        return new Judgement(
                verdict,
                reason,
                unit,
                Collections.unmodifiableMap(identity),
                new SourceIdentity("record", sourceName, "9b7e".repeat(16)),
                spec,
                profile,
                new Correction(2051.37, 2040.12, 1.0213, 1.87, 1510.2, 0.31, -0.22, "fit", "fit", 0.052, 0.1),
                table,
                runEnd,
                "the profile's: outboard and inboard limits as nominal, not measured on this unit",
                counts,
                results,
                notices);
    }

    /** A good unit. */
    static Fixture good() {
        return new Fixture(10, 24, 7).sweep().endOfLine();
    }

    /** The same clause, decided otherwise. */
    static Clause by(Decision rule, Clause c) {
        return new Clause(
                c.id(),
                c.measure(),
                c.outcome(),
                c.where(),
                c.statistic(),
                c.per(),
                c.bound(),
                c.needs(),
                c.mayMiss(),
                rule,
                c.because(),
                c.line());
    }

    /** Each clause by the guarded rule; no budget is known. */
    Fixture guarded() {
        Decision rule = new Decision(Decision.Rule.GUARDED, Decision.Claim.OBSERVED, 0.95, OptionalDouble.empty());
        clauses.replaceAll(clause -> by(rule, clause));
        return this;
    }

    /** Several clauses broken: overtravel lacking, landings far off, one shift missed, one unseen. */
    static Fixture faulty() {
        Fixture f = new Fixture(10, 24, 11).sweep().endOfLine();
        for (int cycle = 3; cycle < 24; cycle += 4) {
            f.change((cycle - 1) * 18 + 3, Fixture::withoutOvertravel);
        }
        f.change(200, s -> farOff(s, -71));
        f.change(311, s -> farOff(s, 48));
        f.change(120, Fixture::unseen);
        f.change(250, s -> with(s, Outcome.STALLED, Evidence.COMPLETE, Map.of()));
        return f;
    }

    /** A run that a cut ended. */
    static Fixture endedEarly() {
        Fixture f = new Fixture(10, 24, 5);
        f.madeSweeps = 6;
        f.sweep().endOfLine();
        f.runEnd = Optional.of("stopped by stop-when: outcome stalled, in cycle 6, shift 108");
        f.change(108, s -> with(s, Outcome.STALLED, Evidence.COMPLETE, Map.of()));
        return f;
    }
}
