package org.shiftstand.learn.compare;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.quantity.Unit;
import org.shiftstand.spec.Statistic;
import org.shiftstand.stats.ExactShares;

/** Says in a sentence what a row shows and why it got its verdict. */
final class Telling {
    private final Draft row;
    private final Change change;
    private final boolean shownToDiffer;
    private final OptionalInt more;
    private final RowNumbers figure;
    private final double confidence;

    /**
     * @param shownToDiffer whether the difference is significant among all
     * @param more further shifts a side that would decide
     */
    Telling(Draft row, Unit unit, Change change, boolean shownToDiffer, OptionalInt more) {
        this.row = row;
        this.change = change;
        this.shownToDiffer = shownToDiffer;
        this.more = more;
        this.confidence = row.clause().decision().confidence();
        Unit shown = row.of() == Statistic.Likeness.SPREAD ? Unit.ONE : unit;
        this.figure = new RowNumbers(
                shown, row.tested().map(t -> (t.high() - t.low()) / 2).orElse(0.0));
    }

    String sentence() {
        if (row.tested().isEmpty()) {
            return row.hindered().orElse("nothing to hold side by side");
        }
        Tested tested = row.tested().get();
        return switch (row.of()) {
            case MEAN -> mean(tested) + verdict(tested);
            case SPREAD -> spread(tested) + verdict(tested);
            case PROPORTION -> share(tested, row.shares().orElseThrow()) + verdict(tested);
        };
    }

    private String mean(Tested t) {
        return figure.number(t.base()) + " → " + figure.text(t.candidate()) + ", " + signed(t.difference()) + " ("
                + interval(t) + ")";
    }

    private String signed(double difference) {
        String text = figure.text(difference);
        return difference > 0 ? "+" + text : text;
    }

    private String spread(Tested t) {
        RowNumbers sd =
                new RowNumbers(row.clause().measure().orElseThrow().unit(), Math.min(t.base(), t.candidate()) / 10);
        return "sd " + sd.number(t.base()) + " → " + sd.text(t.candidate()) + ", ratio " + figure.text(t.difference())
                + " (" + interval(t) + ")";
    }

    private String share(Tested t, ExactShares s) {
        String what = row.clause().outcome().isPresent() ? "" : "overtravel came in ";
        String seen = what + s.hitsA() + " of " + s.trialsA() + " against " + s.hitsB() + " of " + s.trialsB();
        boolean all = s.hitsA() == s.trialsA() && s.hitsB() == s.trialsB();
        boolean none = s.hitsA() == 0 && s.hitsB() == 0;
        if (!row.judged() && (all || none)) {
            double unseen = Math.max(unseen(s.trialsA()), unseen(s.trialsB()));
            return seen + "; a share of up to " + RowNumbers.percent(unseen)
                    + " that is otherwise could have gone unseen";
        }
        return seen + ", difference " + signed(t.difference()) + " (" + interval(t) + ")";
    }

    /** Largest share of which none in n says nothing against, with 95 % confidence. */
    private static double unseen(int n) {
        return 1 - Math.pow(0.05, 1.0 / n);
    }

    private String interval(Tested t) {
        return RowNumbers.percent(2 * confidence - 1) + " interval " + figure.number(t.low()) + " to "
                + figure.text(t.high());
    }

    private String verdict(Tested t) {
        String margin = row.margin().isPresent() ? allowed(row.margin().getAsDouble()) : "";
        String follow = t.effective() < 1
                ? " (worth " + RowNumbers.percent(t.effective()) + " of their number, since shifts follow each other)"
                : "";
        return switch (change) {
            case EQUIVALENT -> ": inside " + margin + (shownToDiffer ? ", though not the same" : "") + follow;
            case DIFFERENT ->
                (margin.isEmpty() ? ": shown to differ" : ": shown to differ, and " + beyond(t) + margin) + follow;
            case NOT_DECIDED ->
                row.hindered().map(why -> ": " + why).orElseGet(() -> ": reaches beyond " + margin)
                        + deciding(t)
                        + follow;
            case NO_MARGIN -> (shownToDiffer ? "; moved" : "") + follow;
        };
    }

    private String beyond(Tested t) {
        double margin = row.margin().orElseThrow();
        boolean ratio = row.of() == Statistic.Likeness.SPREAD;
        boolean surely = ratio ? t.low() > margin || t.high() < 1 / margin : t.low() > margin || t.high() < -margin;
        return surely ? "surely beyond " : "not shown to be inside ";
    }

    private String allowed(double margin) {
        return switch (row.of()) {
            case MEAN, PROPORTION -> "± " + figure.margin(margin);
            case SPREAD -> "a ratio of " + figure.margin(margin) + " either way";
        };
    }

    private String deciding(Tested t) {
        if (row.margin().isEmpty() || t.power().isEmpty() || row.hindered().isPresent()) {
            return "";
        }
        double margin = row.margin().getAsDouble();
        boolean outside = row.of() == Statistic.Likeness.SPREAD
                ? t.difference() >= margin || t.difference() <= 1 / margin
                : Math.abs(t.difference()) >= margin;
        String chance = "; where nothing changed, this many shifts show it with "
                + RowNumbers.percent(t.power().getAsDouble()) + " chance";
        if (outside) {
            return chance + "; the difference seen is itself outside: more shifts show whether it is there";
        }
        Optional<String> further = more.isPresent()
                ? Optional.of(
                        more.getAsInt() == 0
                                ? ", so that the same again may well decide"
                                : ", about " + RowNumbers.shifts(more.getAsInt()) + " more a side with 90 %")
                : Optional.of(", and no number of them does with 90 %");
        return chance + further.get();
    }

    static OptionalDouble in(Unit unit, OptionalDouble base) {
        return base.isPresent() ? OptionalDouble.of(unit.fromBase(base.getAsDouble())) : base;
    }
}
