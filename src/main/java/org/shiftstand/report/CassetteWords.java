package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.planning.cassette.CassettePlan;
import org.shiftstand.planning.cassette.ObservedSpread;
import org.shiftstand.planning.cassette.OvertravelRule;
import org.shiftstand.planning.cassette.PlannedCassette;
import org.shiftstand.planning.cassette.Room;
import org.shiftstand.planning.cassette.RoomCheck;
import org.shiftstand.planning.cassette.RoomRule;
import org.shiftstand.planning.cassette.Spacing;
import org.shiftstand.planning.cassette.SprocketLine;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;

/** A cassette plan in plain words: what it takes for granted, where it is tight, what would help. */
final class CassetteWords {
    private CassetteWords() {}

    /** {@code 12.8 deg (0.09 mm)}; degrees alone where millimetres are not known. */
    static String both(double deg, SprocketLine line) {
        OptionalDouble mm = line.mm(deg);
        String degrees = figure(deg, Unit.DEG);
        return mm.isPresent() ? degrees + Figures.NO_BREAK + "(" + figure(mm.getAsDouble(), Unit.MM) + ")" : degrees;
    }

    /** A margin never reads as zero. */
    private static String figure(double value, Unit unit) {
        return Figures.of(value, unit, Figures.decimals(unit, value));
    }

    static String verdict(Room room) {
        return Words.spaced(room.word());
    }

    /** {@code 3→4 inboard, past sprocket 4 towards 5}. */
    static String place(RoomCheck check) {
        String way = way(check);
        return switch (check.side()) {
            case NEXT -> way + ", past sprocket " + check.to() + " towards " + check.towards();
            case BACK -> way + ", short of sprocket " + check.to();
            case LIMIT -> way + ", past sprocket " + check.to() + " towards the mechanical limit";
        };
    }

    static String way(RoomCheck check) {
        return check.from() + Words.ARROW + check.to() + " " + check.direction().word();
    }

    /** What is there and what takes it up, with the margin. */
    static String sum(RoomCheck check, CassettePlan plan) {
        List<String> needs = new ArrayList<>();
        if (check.overtravelDeg().orElse(0) > 0) {
            needs.add("overtravel " + number(check.overtravelDeg().orElseThrow()));
        }
        check.scatterDeg()
                .ifPresent(deg -> needs.add("scatter " + number(deg) + " ("
                        + number(plan.wish().spread().landingSdDeg().orElseThrow()) + Figures.NO_BREAK + "deg"
                        + " times " + Figures.bare(check.factor(), 2) + ")"));
        check.ringingDeg().ifPresent(deg -> needs.add("ringing " + number(deg)));
        if (check.offsetDeg() > 0) {
            needs.add("offset of landings " + number(check.offsetDeg()));
        }
        needs.add("uncertainty " + number(check.uncertaintyDeg()));
        double margin = check.marginDeg().orElseThrow();
        String left = margin < 0
                ? both(-margin, plan.line()) + " too much" + (check.needsKnown() ? "" : " already")
                : both(margin, plan.line()) + (check.needsKnown() ? " left" : " left at most");
        return Figures.of(check.availableDeg().orElseThrow(), Unit.DEG) + " to use; " + Words.list(needs, "and") + ": "
                + left + ".";
    }

    /** What would make room at a place that has none, each by itself; empty where nothing does. */
    static List<String> remedies(RoomCheck check, CassettePlan plan) {
        List<String> remedies = new ArrayList<>();
        check.overtravelAtMostDeg().ifPresent(deg -> remedies.add("overtravel of at most " + down(deg)));
        if (check.scatterDeg().isPresent()) {
            check.spreadAtMostDeg().ifPresent(deg -> remedies.add("landings that scatter by at most " + down(deg)));
        }
        check.gapAtLeastDeg()
                .ifPresent(deg -> remedies.add(
                        check.side() == RoomCheck.Side.LIMIT
                                ? "a mechanical limit at least " + both(up(deg), plan.line()) + " past the sprocket"
                                : "at least " + both(up(deg), plan.line()) + " from sprocket to sprocket there"));
        return remedies;
    }

    /** Why a cassette is not decided. */
    static List<String> open(PlannedCassette cassette, CassettePlan plan) {
        List<String> open = new ArrayList<>();
        ObservedSpread spread = plan.wish().spread();
        if (spread.landingSdDeg().isEmpty()) {
            open.add("how landings scatter (--spread, or --measured with a capture of such a unit)");
        }
        if (spread.ringingMaxDeg().isEmpty()) {
            open.add("how far a shift rings (--ringing, or --measured)");
        }
        if (cassette.checks().stream().anyMatch(check -> check.overtravelDeg().isEmpty())) {
            open.add("the overtravel of every shift (a gap in the profile's table stays a gap)");
        }
        for (Direction side : Direction.values()) {
            if (cassette.atLimit(side).gapDeg().isEmpty()) {
                open.add("where the mechanical limit " + side.word() + " is (--limits, or the profile)");
            }
        }
        return open;
    }

    /** Everything that a plan takes for granted, a sentence each. */
    static List<String> assumptions(CassettePlan plan) {
        List<String> all = new ArrayList<>();
        all.add(millimetres(plan));
        all.add(
                "The sprockets of every cassette are equally far apart, and its first sprocket sits where the first of the"
                        + " present one does.");
        all.add(places(plan));
        boolean ends = plan.planned().stream().anyMatch(c -> !c.fixedPitch());
        if (ends) {
            all.add("Where no pitch is given, both ends are kept: the new sprockets share the present travel.");
        }
        if (plan.planned().stream().anyMatch(c -> c.beyondDeg() > 0)) {
            all.add(
                    "Past the present last sprocket nothing was learned: there the positions go on with the mean pitch.");
        }
        all.add(overtravel(plan));
        all.addAll(room(plan));
        all.add("The mechanical limits stay where they are with another cassette: outboard "
                + limit(plan.profile().outboardLimitDeg()) + ", inboard "
                + limit(plan.profile().inboardLimitDeg()) + ".");
        all.add(
                "The chain is not in this plan: whether it runs quietly at these positions, and whether an overtravel moves it"
                        + " onto the next sprocket, only learning on that cassette proves.");
        return all;
    }

    private static String millimetres(CassettePlan plan) {
        SprocketLine line = plan.line();
        if (line.stepMm().isEmpty()) {
            return "Neither the screw lead nor the present pitch is known: there are no millimetres, only shares of the present"
                    + " travel.";
        }
        if (plan.wish().presentPitchMm().isEmpty()) {
            boolean pitch = plan.planned().stream().anyMatch(PlannedCassette::fixedPitch);
            return "Millimetres are cage travel by the screw lead ("
                    + Figures.asWritten(plan.profile().screwLeadMm().orElseThrow(), Unit.MM) + " a turn)"
                    + (pitch ? ", and the pitch given is taken as such travel" : "")
                    + ". A linkage makes a millimetre there another one at the sprockets: give --present-pitch, and the"
                    + " mean of its ratio is taken into account.";
        }
        String ratio = line.linkage().isPresent()
                ? " The linkage makes " + Figures.bare(line.linkage().getAsDouble(), 3)
                        + " mm there of 1 mm by the screw lead; that mean is taken to hold everywhere."
                : "";
        return "Millimetres are those from sprocket to sprocket: the present pitch of "
                + Figures.asWritten(plan.wish().presentPitchMm().getAsDouble(), Unit.MM) + " is "
                + Figures.of(line.pitchDeg(), Unit.DEG) + " of the shaft." + ratio;
    }

    private static String places(CassettePlan plan) {
        return plan.wish().spacing() == Spacing.MEASURED
                ? "What is uneven about the present positions comes from linkage and travel, not from single sprockets: the"
                        + " shaft angle is interpolated between them over the place across the cassette (--spacing even"
                        + " lays equal angles instead)."
                : "Equal angles lead from sprocket to sprocket: what is uneven about the present positions is left out.";
    }

    private static String overtravel(CassettePlan plan) {
        String rows =
                "Overtravel is interpolated from the present table over the place of the sprocket shifted to; where"
                        + " there is none at the nearest present sprocket there stays none, and beside a row that is not known nothing is"
                        + " known.";
        return plan.wish().overtravel() == OvertravelRule.KEPT
                ? rows
                        + " Its angles are kept, though the sprockets are nearer or farther (--overtravel scaled scales them)."
                : rows + " Its angles are scaled by new mean pitch over present mean pitch; nothing shows that so much"
                        + " suffices.";
    }

    private static List<String> room(CassettePlan plan) {
        RoomRule rule = plan.wish().rule();
        ObservedSpread spread = plan.wish().spread();
        List<String> all = new ArrayList<>();
        all.add("A shaft may get " + Figures.asWritten(rule.border() * 100) + Figures.NO_BREAK
                + "% of the way to a neighbour, overtravel and ringing included, and must leave "
                + Figures.asWritten(rule.leastClearanceDeg(), Unit.DEG)
                + " to a mechanical limit. Own rule, no published source; everything counts at its worst at once.");
        all.add(
                spread.landingSdDeg().isEmpty()
                        ? "How landings scatter is not known: it counts as nothing, and no plan is called room."
                        : "Landings scatter by "
                                + Figures.asWritten(
                                        rounded(spread.landingSdDeg().getAsDouble()), Unit.DEG)
                                + " (" + spread.from() + "), on another cassette as on the present one. "
                                + factor(plan, rule, spread));
        all.add((spread.ringingMaxDeg().isEmpty()
                        ? "How far a shift rings is not known: it counts as nothing, and no plan is called room."
                        : "Ringing is at most "
                                + Figures.asWritten(
                                        rounded(spread.ringingMaxDeg().getAsDouble()), Unit.DEG)
                                + ", to either side.")
                + " Mean landings lie within "
                + Figures.asWritten(rounded(spread.offsetDeg()), Unit.DEG)
                + " of their positions, and an angle is uncertain by "
                + Figures.asWritten(rounded(spread.uncertaintyDeg()), Unit.DEG) + " (k = 2).");
        return all;
    }

    private static String factor(CassettePlan plan, RoomRule rule, ObservedSpread spread) {
        String holds = Figures.asWritten(rule.coverage() * 100) + Figures.NO_BREAK + "% of them";
        return spread.shifts().isEmpty()
                ? "That figure is taken as exact (--shifts says how many it rests on): " + holds + " lie within "
                        + Figures.bare(plan.factor(), 2) + " times it, if they are normal."
                : "It is worth " + Figures.count(spread.shifts().getAsInt(), "shift") + ": with "
                        + Figures.asWritten(rule.confidence() * 100) + Figures.NO_BREAK + "% confidence " + holds
                        + " lie within " + Figures.bare(plan.factor(), 2) + " times it, if they are normal.";
    }

    private static String limit(OptionalDouble deg) {
        return deg.isPresent() ? Figures.asWritten(deg.getAsDouble(), Unit.DEG) : "not known";
    }

    private static double rounded(double deg) {
        return Math.rint(deg * 100) / 100;
    }

    /** Rounded so that it still fits. */
    private static String down(double deg) {
        return Figures.of(Math.floor(deg * 10) / 10, Unit.DEG);
    }

    private static double up(double deg) {
        return Math.ceil(deg * 10) / 10;
    }

    private static String number(double deg) {
        return Figures.bare(deg, 1);
    }
}
