package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.NominalShift;

/** The clauses of a draft spec, and comments where there is none. */
final class DraftClauses {
    private final Learned learned;
    private final Profile profile;
    private final List<Remeasured> sources;
    private final List<String> written = new ArrayList<>();

    DraftClauses(Learned learned, Profile profile, List<Remeasured> sources) {
        this.learned = learned;
        this.profile = profile;
        this.sources = List.copyOf(sources);
    }

    /** Each ends its last line. */
    List<String> written() {
        add(new DraftClause(
                "all-land",
                "outcome",
                Optional.empty(),
                "count",
                Optional.empty(),
                "is-not: landed\n    at-most: 0",
                Optional.empty(),
                "a shift that does not land is a shift that was not made"));
        learned.steps().forEach(this::overtravel);
        for (Direction direction : Direction.values()) {
            for (RowKind kind : RowKind.values()) {
                landing(direction, kind);
            }
        }
        LandingSpread.of(learned, sources, this::add, this::comment);
        hold();
        byWay(Measure.TRAVEL_TIME);
        byWay(Measure.SETTLE_TIME);
        byDirection(Measure.RINGING);
        byDirection(Measure.RETURN_RINGING);
        overall(Measure.CREEP);
        overall(Measure.WAKE_UP_ERROR);
        byDirection(Measure.PEAK_CURRENT);
        clearance();
        return written;
    }

    private void overtravel(LearnedStep step) {
        String where = "from: " + step.from() + ", to: " + step.to();
        String id = "overtravel-" + step.from() + "-" + step.to();
        Optional<String> none = step.overtravel().match(new OvertravelPattern.Cases<>() {
            @Override
            public Optional<String> programmed(OvertravelPattern.Programmed row) {
                return bothSides(id, Measure.OVERTRAVEL, Optional.of(where), Optional.of("pair"), of(step), true);
            }

            @Override
            public Optional<String> none(OvertravelPattern.None row) {
                add(withoutOvertravel(id, where, row));
                return Optional.empty();
            }

            @Override
            public Optional<String> irregular(OvertravelPattern.Irregular row) {
                return Optional.of(new RowWords(learned.options()).irregular(row));
            }

            @Override
            public Optional<String> gap(OvertravelPattern.Gap row) {
                return Optional.of(new RowWords(learned.options()).gap(row));
            }
        });
        none.ifPresent(why -> comment("no bound for overtravel " + step.name() + ": " + why));
    }

    private DraftClause withoutOvertravel(String id, String where, OvertravelPattern.None row) {
        double margin = margin(Measure.OVERTRAVEL);
        return new DraftClause(
                id,
                Measure.OVERTRAVEL.key(),
                Optional.of(where),
                "every",
                Optional.of("pair"),
                DraftBound.atMost(margin, 0, Unit.DEG).line(),
                Optional.empty(),
                Provenance.shifts(row.n()) + units() + " without overtravel, and up to "
                        + Figure.percent(row.largestUnseenRate()) + " with it could have gone unseen; margin "
                        + Figure.deg(margin) + ofOthers());
    }

    /** Landing errors differ by direction (play) and by the way of the last motion (stopping short). */
    private void landing(Direction direction, RowKind kind) {
        List<LearnedStep> steps = RowKind.steps(learned, direction, kind);
        if (steps.isEmpty()) {
            return;
        }
        if (kind == RowKind.GAP) {
            comment("no bound for landings " + names(steps) + ": not seen");
            return;
        }
        String id = "landing-error-" + direction.word() + kind.suffix();
        String where = "direction: " + direction.word() + ", to: " + RowKind.sprockets(steps);
        bothSides(
                        id,
                        Measure.LANDING_ERROR,
                        Optional.of(where),
                        Optional.of("sprocket"),
                        landingOn(direction, steps),
                        false)
                .ifPresent(why -> comment("no bound for " + id + ": " + why));
    }

    private void hold() {
        if (learned.hold().common() != Dwell.Common.DIFFERENT) {
            overall(Measure.HOLD);
            return;
        }
        comment("hold is not the same in all rows ("
                + String.join(", ", learned.hold().apart()) + " are apart): each row has its own bound");
        for (LearnedStep step : learned.steps()) {
            if (step.get(Measure.HOLD).estimate().isPresent()) {
                String id = "hold-" + step.from() + "-" + step.to();
                String where = "from: " + step.from() + ", to: " + step.to();
                bothSides(id, Measure.HOLD, Optional.of(where), Optional.of("pair"), of(step), false)
                        .ifPresent(why -> comment("no bound for " + id + ": " + why));
            }
        }
    }

    /** One bound for all shifts. */
    private void overall(Measure measure) {
        bothSides(measure.key(), measure, Optional.empty(), Optional.empty(), shift -> true, false)
                .ifPresent(why -> comment("no bound for " + measure.key() + ": " + why));
    }

    /** Adds a clause of two limits; the reason where there is none. */
    private Optional<String> bothSides(
            String id,
            Measure measure,
            Optional<String> where,
            Optional<String> per,
            Predicate<Shift> takes,
            boolean own) {
        RowValues values = RowValues.of(sources, measure, takes, measure == Measure.LANDING_ERROR);
        Optional<Tolerance> found = tolerance(measure, values, Tolerance.Sides.BOTH);
        if (found.isEmpty()) {
            return Optional.of(why(values));
        }
        Tolerance t = found.get();
        double margin = margin(measure);
        Reach reach = new Reach(t.low() - margin, t.high() + margin)
                .with(values.least(), values.greatest(), "the farthest value learned from");
        for (OptionalDouble nominal : nominals(measure, takes)) {
            reach = reach.with(nominal.orElseThrow(), nominal.orElseThrow(), "the profile's own value");
        }
        add(new DraftClause(
                id,
                measure.key(),
                where,
                "every",
                per,
                DraftBound.between(reach.low(), reach.high(), (t.leastMean() + t.greatestMean()) / 2, measure.unit())
                        .line(),
                Optional.empty(),
                because(t, margin, measure, reach)));
        return Optional.empty();
    }

    /** An upper limit for each direction and kind of approach: a return takes its time. */
    private void byWay(Measure measure) {
        for (Direction direction : Direction.values()) {
            for (RowKind kind : RowKind.values()) {
                List<LearnedStep> steps = RowKind.steps(learned, direction, kind);
                if (!steps.isEmpty() && kind != RowKind.GAP) {
                    atMost(
                            measure.key() + "-" + direction.word() + kind.suffix(),
                            measure,
                            "direction: " + direction.word() + ", to: " + RowKind.sprockets(steps),
                            landingOn(direction, steps));
                }
            }
        }
    }

    private void byDirection(Measure measure) {
        for (Direction direction : Direction.values()) {
            atMost(
                    measure.key() + "-" + direction.word(),
                    measure,
                    "direction: " + direction.word(),
                    shift -> shift.direction() == direction);
        }
    }

    private void atMost(String id, Measure measure, String where, Predicate<Shift> takes) {
        RowValues values = RowValues.of(sources, measure, takes, false);
        Optional<Tolerance> found = tolerance(measure, values, Tolerance.Sides.UPPER);
        if (found.isEmpty()) {
            comment("no bound for " + id + ": " + why(values));
            return;
        }
        Tolerance t = found.get();
        double margin = margin(measure);
        Reach reach = new Reach(Double.NEGATIVE_INFINITY, t.high() + margin)
                .with(0, values.greatest(), "the farthest value learned from");
        add(new DraftClause(
                id,
                measure.key(),
                Optional.of(where),
                "maximum",
                Optional.of("direction"),
                DraftBound.atMost(reach.high(), t.greatestMean(), measure.unit())
                        .line(),
                Optional.empty(),
                because(t, margin, measure, reach)));
    }

    private static Predicate<Shift> landingOn(Direction direction, List<LearnedStep> steps) {
        return shift -> shift.direction() == direction && steps.stream().anyMatch(step -> step.to() == shift.to());
    }

    private void clearance() {
        RowValues values = RowValues.of(sources, Measure.CLEARANCE, shift -> true, false);
        if (values.isEmpty()) {
            comment("no bound for clearance: mechanical limits are not known");
            return;
        }
        tolerance(Measure.CLEARANCE, values, Tolerance.Sides.LOWER).ifPresent(t -> {
            Reach reach = new Reach(Math.max(0, t.low()), Double.POSITIVE_INFINITY)
                    .with(values.least(), values.least(), "the least value learned from");
            for (OptionalDouble nominal : nominals(Measure.CLEARANCE, shift -> true)) {
                reach = reach.with(nominal.orElseThrow(), nominal.orElseThrow(), "the profile's own value");
            }
            add(new DraftClause(
                    "clearance",
                    Measure.CLEARANCE.key(),
                    Optional.empty(),
                    "minimum",
                    Optional.empty(),
                    DraftBound.atLeast(reach.low(), t.leastMean(), Unit.DEG).line(),
                    Optional.empty(),
                    because(t, 0, Measure.CLEARANCE, reach)));
        });
    }

    private Optional<Tolerance> tolerance(Measure measure, RowValues values, Tolerance.Sides sides) {
        Measure scattered = measure == Measure.LANDING_ERROR ? Measure.LANDING : measure;
        Variation variation = learned.variation(scattered)
                .orElseGet(() -> values.pooled(measure, learned.units().size()));
        return values.isEmpty() ? Optional.empty() : Tolerance.of(values, variation, learned.options(), sides);
    }

    private static String why(RowValues values) {
        return values.isEmpty()
                ? "no shift shows it"
                : "too few shifts of one row to tell how it scatters ("
                        + Provenance.shifts(values.count())
                        + (values.rows() == 1 ? ")" : " in " + values.rows() + " rows)");
    }

    /** What a unit that does as the profile says shows in shifts that were learned from. */
    private List<OptionalDouble> nominals(Measure measure, Predicate<Shift> takes) {
        return sources.stream()
                .flatMap(source -> source.learning().stream())
                .filter(takes)
                .map(shift -> new NominalShift(profile, shift.from(), shift.to()))
                .filter(shift -> measure != Measure.HOLD || shift.overtravels().orElse(true))
                .map(shift -> shift.get(measure))
                .filter(OptionalDouble::isPresent)
                .distinct()
                .toList();
    }

    private String because(Tolerance t, double margin, Measure measure, Reach reach) {
        return t.because(learned.units().size())
                + (margin > 0 ? ", margin " + Figure.of(margin, measure.unit()) : "")
                + reach.told()
                + ofOthers();
    }

    private String units() {
        int n = learned.units().size();
        return " of " + n + (n == 1 ? " unit" : " units");
    }

    private String ofOthers() {
        return switch (learned.units().size()) {
            case 1 -> "; one unit: says nothing of others";
            case 2 -> "; two units: says nothing of others";
            default -> "";
        };
    }

    private double margin(Measure measure) {
        return learned.options().margins().getOrDefault(measure, 0.0);
    }

    private static Predicate<Shift> of(LearnedStep step) {
        return shift -> shift.from() == step.from() && shift.to() == step.to();
    }

    private static String names(List<LearnedStep> steps) {
        return steps.stream().map(LearnedStep::name).collect(Collectors.joining(", "));
    }

    private void add(DraftClause clause) {
        written.add(clause.text());
    }

    private void comment(String words) {
        written.add("  # " + Provenance.plain(words) + "\n");
    }

    /** Limits, and what they were widened for. */
    private record Reach(double low, double high, String told) {
        Reach(double low, double high) {
            this(low, high, "");
        }

        Reach with(double least, double greatest, String what) {
            if (least >= low && greatest <= high) {
                return this;
            }
            String also = told.contains(what) ? "" : ", widened to hold " + what;
            return new Reach(Math.min(low, least), Math.max(high, greatest), told + also);
        }
    }
}
