package org.shiftstand.report;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.planning.cassette.CassettePlan;
import org.shiftstand.planning.cassette.PlannedCassette;
import org.shiftstand.planning.cassette.Room;
import org.shiftstand.planning.cassette.RoomCheck;
import org.shiftstand.quantity.Unit;

/** A cassette plan as text for a terminal of 100 columns: the verdicts first, then each cassette, then what is assumed. */
public final class CassetteText {
    private static final String INDENT = "   ";
    private static final String ROW = "%-10s %10s %8s   %10s  %10s  %10s   %s";
    /** More places than these are counted, not named. */
    private static final int MOST_NAMED = 6;

    private final Wrapped out = new Wrapped();
    private final CassettePlan plan;

    private CassetteText(CassettePlan plan) {
        this.plan = plan;
    }

    /** The whole text, lines ended by LF. */
    public static String of(CassettePlan plan) {
        var text = new CassetteText(plan);
        text.head();
        text.table();
        plan.planned().forEach(text::cassette);
        text.assumptions();
        return text.out.text();
    }

    private void head() {
        var profile = plan.profile();
        out.line(
                "",
                "Cassettes over the travel of " + profile.name() + " version " + profile.version() + ": "
                        + Figures.of(plan.line().travelDeg(), Unit.DEG) + " from sprocket 1 to " + profile.sprockets()
                        + ".");
        out.gap();
    }

    private void table() {
        row("sprockets", "pitch", "", "landing", "overtravel", "limits", "verdict");
        row(plan.present(), plan.present().sprockets() + " now");
        plan.planned().forEach(cassette -> row(cassette, String.valueOf(cassette.sprockets())));
        out.gap();
        out.line(
                "",
                "Least that is left, in degrees of the shaft: where a landing falls short of its sprocket, where a shift goes"
                        + " past it, and towards the mechanical limits. Negative is too tight"
                        + (plan.present()
                                        .tightest()
                                        .filter(RoomCheck::needsKnown)
                                        .isPresent()
                                ? "."
                                : "; < means at most so much, since spread, ringing or an overtravel is not known."));
        if (plan.present().room() == Room.NO_ROOM) {
            out.line(
                    "",
                    "The present cassette has no room by this rule either. If it shifts well, the rule or the figures of"
                            + " spread are too strict for this drive: see the assumptions below.");
        }
    }

    private void row(PlannedCassette cassette, String count) {
        row(
                count,
                Figures.of(cassette.pitchDeg(), Unit.DEG),
                millimetres(cassette.pitchMm()),
                left(cassette, RoomCheck.Side.BACK),
                left(cassette, RoomCheck.Side.NEXT),
                left(cassette, RoomCheck.Side.LIMIT),
                CassetteWords.verdict(cassette.room()));
    }

    private static String left(PlannedCassette cassette, RoomCheck.Side side) {
        List<RoomCheck> checks =
                cassette.checks().stream().filter(check -> check.side() == side).toList();
        if (checks.isEmpty()) {
            return Figures.NONE; // two sprockets have no third to go past to
        }
        if (checks.stream().anyMatch(check -> check.gapDeg().isEmpty())) {
            return "not known";
        }
        RoomCheck tightest = PlannedCassette.tightest(checks).orElseThrow();
        return (tightest.needsKnown() ? "" : "< ")
                + Figures.bare(tightest.marginDeg().orElseThrow(), 1);
    }

    private void row(Object... cells) {
        // columns are laid out already: nothing here may be wrapped
        out.line("", String.format(Locale.ROOT, ROW, cells).replace(" ", Figures.NO_BREAK));
    }

    private static String millimetres(OptionalDouble mm) {
        return mm.isPresent() ? Figures.of(mm.getAsDouble(), Unit.MM) : "";
    }

    private void cassette(PlannedCassette cassette) {
        out.gap();
        out.line("", cassette.sprockets() + " sprockets: " + CassetteWords.verdict(cassette.room()) + lies(cassette));
        cassette.tightest()
                .ifPresent(check -> out.line(
                        INDENT, "Tightest: " + CassetteWords.place(check) + ". " + CassetteWords.sum(check, plan)));
        switch (cassette.room()) {
            case NO_ROOM -> noRoom(cassette);
            case NOT_DECIDED -> open(cassette);
            case ROOM -> {}
        }
        values("Positions, deg: ", cassette.positionsDeg());
        values("Overtravel inboard, deg, 1" + Words.ARROW + "2 first: ", cassette.overtravelInboardDeg());
        values(
                "Overtravel outboard, deg, " + cassette.sprockets() + Words.ARROW + (cassette.sprockets() - 1)
                        + " first: ",
                cassette.overtravelOutboardDeg());
    }

    private String lies(PlannedCassette cassette) {
        if (!cassette.fixedPitch()) {
            return "; ends kept";
        }
        String pitch = "; pitch " + millimetres(cassette.pitchMm());
        return cassette.beyondDeg() > 0
                ? pitch + ", last sprocket " + CassetteWords.both(cassette.beyondDeg(), plan.line())
                        + " past the present one"
                : pitch;
    }

    private void noRoom(PlannedCassette cassette) {
        RoomCheck tightest = cassette.tightest().orElseThrow();
        List<String> remedies = CassetteWords.remedies(tightest, plan);
        if (!remedies.isEmpty()) {
            out.line(
                    INDENT,
                    (tightest.needsKnown()
                                    ? "Any one of these would do there: "
                                    : "Needed there, and more once spread and ringing are known: ")
                            + Words.list(remedies, "or") + ".");
        }
        List<String> tight = cassette.checks().stream()
                .filter(check -> check.room() == Room.NO_ROOM)
                .map(CassetteWords::way)
                .distinct()
                .toList();
        int all = 2 * (cassette.sprockets() - 1);
        out.line(
                INDENT,
                "Too tight in " + tight.size() + " of " + all + " shifts: "
                        + String.join(", ", tight.subList(0, Math.min(MOST_NAMED, tight.size())))
                        + (tight.size() > MOST_NAMED ? " and " + (tight.size() - MOST_NAMED) + " more" : "") + ".");
        cassette.tightestLanding()
                .filter(landing -> landing.room() != Room.NO_ROOM)
                .ifPresent(landing -> out.line(
                        INDENT,
                        "Landings without overtravel have room: "
                                + CassetteWords.both(landing.marginDeg().orElseThrow(), plan.line()) + " left at "
                                + CassetteWords.place(landing) + "."));
    }

    private void open(PlannedCassette cassette) {
        out.line(INDENT, "Not known: " + Words.list(CassetteWords.open(cassette, plan), "and") + ".");
        if (plan.wish().spread().landingSdDeg().isEmpty()) {
            cassette.tightest()
                    .flatMap(check -> check.spreadAtMostDeg().stream().boxed().findFirst())
                    .ifPresent(sd -> out.line(
                            INDENT,
                            "What is known leaves room for landings that scatter by less than "
                                    + Figures.of(sd, Unit.DEG) + "."));
        }
    }

    private void values(String name, List<Double> degrees) {
        out.line(
                INDENT,
                INDENT + INDENT,
                name
                        + degrees.stream()
                                .map(deg -> Double.isNaN(deg) ? "unknown" : Figures.bare(deg, 1))
                                .collect(Collectors.joining(", ")));
    }

    private void assumptions() {
        out.gap();
        out.line("", "What this takes for granted");
        int number = 0;
        for (String sentence : CassetteWords.assumptions(plan)) {
            number++;
            out.line(String.format(Locale.ROOT, "%2d  ", number), "    ", sentence);
        }
        out.gap();
        out.line(
                "",
                "Every position and overtravel of a planned cassette is to be proven by learning on that cassette.");
    }
}
