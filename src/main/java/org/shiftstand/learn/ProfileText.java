package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.quantity.Unit;

/**
 * The text of a profile that says what was learned, with comments that say from what and how sure it is.
 *
 * <p>Positions and overtravel are the programmed ones, to a tenth of a degree. A row that was not seen, and one that
 * overtravels in some shifts only, is {@code unknown}; without a sprocket's position there is no profile. Mechanical limits and
 * tooth counts no capture shows: they are left out.
 */
public final class ProfileText {
    private final Learned learned;
    private final StringBuilder text = new StringBuilder();

    private ProfileText(Learned learned) {
        this.learned = learned;
    }

    /** The profile, version 1, under the name of the options; withheld where a sprocket's position is not known. */
    public static Written of(Learned learned) {
        List<String> reasons = new ArrayList<>();
        List<LearnedPosition> positions = learned.positions();
        if (positions.size() < 2) {
            reasons.add("only " + positions.size() + " sprocket was seen; a profile needs two");
        }
        for (int i = 0; i < positions.size(); i++) {
            LearnedPosition position = positions.get(i);
            if (!Double.isFinite(position.programmedDeg())) {
                reasons.add("the position of sprocket " + position.sprocket() + " is not known: " + why(position));
            } else if (i > 0 && !(rounded(position) > rounded(positions.get(i - 1)))) {
                reasons.add("sprocket " + position.sprocket() + " at " + Figure.deg(position.programmedDeg())
                        + " is not inboard of sprocket " + (position.sprocket() - 1));
            }
        }
        return reasons.isEmpty() ? new Written.Text(new ProfileText(learned).written()) : new Written.Withheld(reasons);
    }

    private static double rounded(LearnedPosition position) {
        double deg = position.programmedDeg();
        return Double.isFinite(deg) ? Figure.profileDeg(deg) : Double.NEGATIVE_INFINITY;
    }

    private static String why(LearnedPosition position) {
        return position.outboard().match(new Estimated.Cases<>() {
            @Override
            public String estimate(Estimated.Estimate estimate) {
                return "its landings do not tell it";
            }

            @Override
            public String notEstimated(String reason) {
                return reason;
            }
        });
    }

    private String written() {
        text.append(Provenance.yaml(Provenance.lines(learned)));
        line("profile: " + learned.options().name());
        line("version: 1");
        line("sprockets: " + learned.positions().size());
        screwLead();
        positions();
        comment("mechanical-limits and cassette: no capture shows them; add them where they are known");
        hold();
        overtravel();
        return text.toString();
    }

    private void screwLead() {
        OptionalDouble lead = screwLeadMm();
        if (lead.isPresent()) {
            line("screw-lead: " + Decimal.text(lead.getAsDouble(), 6) + " mm    # as stated, not measured");
        } else {
            comment("screw-lead: not stated");
        }
    }

    /** The lead that the pitches in millimetres were made with. */
    private OptionalDouble screwLeadMm() {
        List<LearnedPosition> positions = learned.positions();
        for (int i = 0; i + 1 < positions.size(); i++) {
            OptionalDouble mm = positions.get(i).pitchMm();
            if (mm.isPresent()) {
                double deg =
                        positions.get(i + 1).programmedDeg() - positions.get(i).programmedDeg();
                return OptionalDouble.of(mm.getAsDouble() * 360 / deg);
            }
        }
        return OptionalDouble.empty();
    }

    private void positions() {
        line("positions:    # where the firmware aims, from sprocket 1");
        for (LearnedPosition position : learned.positions()) {
            String sure = position.sprocket() == 1
                    ? "the origin"
                    : Figure.plusMinus(position.halfWidthDeg(), Unit.DEG) + seen(position);
            line("  - " + Figure.deg(position.programmedDeg()) + "    # sprocket " + position.sprocket() + ": " + sure);
        }
    }

    private static String seen(LearnedPosition position) {
        int inboard = position.inboard().estimate().map(Estimated.Estimate::n).orElse(0);
        int outboard = position.outboard().estimate().map(Estimated.Estimate::n).orElse(0);
        return ", " + inboard + " landings inboard, " + outboard + " outboard";
    }

    private void hold() {
        Dwell hold = learned.hold();
        hold.overall()
                .estimate()
                .ifPresentOrElse(
                        estimate -> {
                            comment("hold: time after arrival within " + Figure.deg(hold.withinDeg()) + ", "
                                    + Figure.plusMinus(estimate.halfWidth(), Unit.S) + ", sd "
                                    + Figure.fine(estimate.sd(), Unit.S) + ", "
                                    + Provenance.shifts(estimate.n()) + "; " + common(hold) + restHold());
                            line("hold: " + Figure.of(estimate.mean(), Unit.S));
                        },
                        () -> comment("hold: not learned, no shift rested at a plateau"));
    }

    static String common(Dwell hold) {
        return switch (hold.common()) {
            case COMMON -> "the same in all rows within " + Figure.of(hold.toleranceS(), Unit.S);
            case DIFFERENT -> "not the same in all rows: apart are " + String.join(", ", hold.apart());
            case NOT_DECIDED -> "whether it is the same in all rows is not decided";
        };
    }

    private String restHold() {
        return learned.restHold()
                .overall()
                .estimate()
                .map(rest -> "; within " + Figure.deg(learned.restHold().withinDeg()) + " it is "
                        + Figure.of(rest.mean(), Unit.S))
                .orElse("");
    }

    private void overtravel() {
        line("overtravel:    # past the landing, in the direction of motion");
        line("  inboard:");
        int n = learned.positions().size();
        for (int k = 1; k < n; k++) {
            row(learned.step(k, k + 1));
        }
        line("  outboard:");
        for (int k = n; k > 1; k--) {
            row(learned.step(k, k - 1));
        }
    }

    private void row(LearnedStep step) {
        String deg = TableValue.of(step).map(Figure::deg).orElse("unknown");
        line("    - " + deg + "    # " + step.name() + ": " + step.overtravel().match(new RowWords(learned.options())));
    }

    private void comment(String words) {
        line("# " + words);
    }

    private void line(String line) {
        text.append(Provenance.plain(line)).append('\n');
    }
}
