package org.shiftstand.planning.cassette;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/** Lays cassettes over the travel of a profile and checks the room of every shift. */
public final class CassettePlanner {
    private final Profile profile;
    private final CassetteWish wish;
    private final SprocketLine line;
    private final CarriedOvertravel inboard;
    private final CarriedOvertravel outboard;
    private final double factor;

    private CassettePlanner(Profile profile, CassetteWish wish) {
        this.profile = profile;
        this.wish = wish;
        this.line = SprocketLine.of(profile, wish.presentPitchMm(), wish.spacing());
        this.inboard = CarriedOvertravel.of(profile, Direction.INBOARD);
        this.outboard = CarriedOvertravel.of(profile, Direction.OUTBOARD);
        this.factor = wish.spread().factor(wish.rule());
    }

    /**
     * Plans.
     *
     * @throws IllegalArgumentException where a pitch is wanted and neither the screw lead nor the present pitch is known
     */
    public static CassettePlan plan(Profile profile, CassetteWish wish) {
        return new CassettePlanner(profile, wish).plan();
    }

    private CassettePlan plan() {
        return new CassettePlan(
                profile,
                wish,
                line,
                factor,
                present(),
                wish.cassettes().stream().map(this::planned).toList());
    }

    private PlannedCassette present() {
        return checked(
                new Laid(profile.positionsDeg(), profile.overtravelInboardDeg(), profile.overtravelOutboardDeg()),
                false);
    }

    private PlannedCassette planned(CassetteWish.Wanted wanted) {
        double[] steps = steps(wanted);
        List<Double> positions = IntStream.range(0, steps.length)
                .mapToObj(j -> line.degAt(steps[j]))
                .toList();
        int last = steps.length - 1;
        double scale = scale((positions.get(last) - positions.get(0)) / last);
        List<Double> in = IntStream.rangeClosed(1, last)
                .mapToObj(j -> inboard.at(steps[j]) * scale)
                .toList();
        List<Double> out = IntStream.rangeClosed(1, last)
                .mapToObj(j -> outboard.at(steps[last - j]) * scale)
                .toList();
        return checked(new Laid(positions, in, out), wanted.pitchMm().isPresent());
    }

    private double scale(double pitchDeg) {
        return switch (wish.overtravel()) {
            case KEPT -> 1;
            case SCALED -> pitchDeg / line.pitchDeg();
        };
    }

    /** Where each sprocket is, in steps of the present cassette. */
    private double[] steps(CassetteWish.Wanted wanted) {
        int last = wanted.sprockets() - 1;
        if (wanted.pitchMm().isEmpty()) {
            return IntStream.rangeClosed(0, last)
                    .mapToDouble(j -> (double) j * line.lastStep() / last)
                    .toArray();
        }
        double stepMm = line.stepMm()
                .orElseThrow(() -> new IllegalArgumentException("millimetres are not known: screwLeadMm="
                        + profile.screwLeadMm() + ", presentPitchMm=" + wish.presentPitchMm()));
        double pitch = wanted.pitchMm().getAsDouble() / stepMm;
        return IntStream.rangeClosed(0, last).mapToDouble(j -> j * pitch).toArray();
    }

    private PlannedCassette checked(Laid laid, boolean fixedPitch) {
        List<Double> at = laid.positionsDeg();
        int n = at.size();
        double pitchDeg = (at.get(n - 1) - at.get(0)) / (n - 1);
        return new PlannedCassette(
                n,
                line.mm(pitchDeg),
                fixedPitch,
                at,
                laid.inboardDeg(),
                laid.outboardDeg(),
                Math.max(0, at.get(n - 1) - profile.positionDeg(profile.sprockets())),
                checks(laid));
    }

    private List<RoomCheck> checks(Laid laid) {
        List<RoomCheck> checks = new ArrayList<>();
        int n = laid.positionsDeg().size();
        for (int from = 1; from < n; from++) {
            both(checks, laid, from, from + 1);
        }
        for (int from = n; from > 1; from--) {
            both(checks, laid, from, from - 1);
        }
        return checks;
    }

    private void both(List<RoomCheck> checks, Laid laid, int from, int to) {
        List<Double> at = laid.positionsDeg();
        int next = 2 * to - from;
        if (next < 1 || next > at.size()) {
            OptionalDouble limit = next < 1 ? profile.outboardLimitDeg() : profile.inboardLimitDeg();
            OptionalDouble gap = limit.isPresent()
                    ? OptionalDouble.of((limit.getAsDouble() - at.get(to - 1)) * (to - from))
                    : OptionalDouble.empty();
            OptionalDouble available = gap.isPresent()
                    ? OptionalDouble.of(gap.getAsDouble() - wish.rule().leastClearanceDeg())
                    : gap;
            checks.add(check(from, to, RoomCheck.Side.LIMIT, gap, available, laid.overtravelDeg(from, to)));
        } else {
            checks.add(between(laid, from, to, RoomCheck.Side.NEXT, next, laid.overtravelDeg(from, to)));
        }
        checks.add(between(laid, from, to, RoomCheck.Side.BACK, from, OptionalDouble.of(0)));
    }

    private RoomCheck between(
            Laid laid, int from, int to, RoomCheck.Side side, int neighbour, OptionalDouble overtravelDeg) {
        double gap = Math.abs(
                laid.positionsDeg().get(neighbour - 1) - laid.positionsDeg().get(to - 1));
        return check(
                from,
                to,
                side,
                OptionalDouble.of(gap),
                OptionalDouble.of(gap * wish.rule().border()),
                overtravelDeg);
    }

    private RoomCheck check(
            int from,
            int to,
            RoomCheck.Side side,
            OptionalDouble gap,
            OptionalDouble available,
            OptionalDouble overtravelDeg) {
        ObservedSpread spread = wish.spread();
        OptionalDouble scatter = spread.landingSdDeg().isPresent()
                ? OptionalDouble.of(factor * spread.landingSdDeg().getAsDouble())
                : OptionalDouble.empty();
        return new RoomCheck(
                from,
                to,
                side,
                gap,
                available,
                overtravelDeg,
                scatter,
                factor,
                spread.ringingMaxDeg(),
                spread.offsetDeg(),
                spread.uncertaintyDeg());
    }

    /** Positions and table of one cassette, laid out as a profile has them. */
    private record Laid(List<Double> positionsDeg, List<Double> inboardDeg, List<Double> outboardDeg) {
        OptionalDouble overtravelDeg(int from, int to) {
            double deg = to > from ? inboardDeg.get(to - 2) : outboardDeg.get(positionsDeg.size() - to - 1);
            return Double.isNaN(deg) ? OptionalDouble.empty() : OptionalDouble.of(deg);
        }
    }
}
