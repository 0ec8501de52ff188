package org.shiftstand.learn;

import org.shiftstand.quantity.Unit;

/** A row of the table in words, for comments. */
final class RowWords implements OvertravelPattern.Cases<String> {
    private final LearnOptions options;

    RowWords(LearnOptions options) {
        this.options = options;
    }

    @Override
    public String programmed(OvertravelPattern.Programmed row) {
        Estimated.Estimate achieved = row.achieved();
        return Figure.plusMinus(row.programmedHalfWidthDeg(), Unit.DEG) + "; achieved " + Figure.deg(achieved.mean())
                + ", sd " + Figure.fine(achieved.sd(), Unit.DEG) + ", in all of " + Provenance.shifts(achieved.n())
                + unseen("without it", row.largestUnseenRate());
    }

    @Override
    public String none(OvertravelPattern.None row) {
        return "none in all of " + Provenance.shifts(row.n()) + unseen("with it", row.largestUnseenRate());
    }

    @Override
    public String irregular(OvertravelPattern.Irregular row) {
        return "irregular: " + row.with() + " of " + Provenance.shifts(row.with() + row.without())
                + " with overtravel, of " + Figure.deg(row.achieved().mean()) + " achieved; "
                + row.follows().map(what -> "it follows " + what).orElse("what it follows is not decided");
    }

    @Override
    public String gap(OvertravelPattern.Gap row) {
        return "gap: " + row.reason();
    }

    private String unseen(String what, double rate) {
        return "; up to " + Figure.percent(rate) + " " + what + " could have gone unseen ("
                + Figure.percent(options.confidence()) + ")";
    }
}
