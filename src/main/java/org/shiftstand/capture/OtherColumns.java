package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.capture.HeaderWord.Meaning;

/** Finds what a capture may hold beside time and Hall pair. What its values do not bear out is asked, or left aside and said. */
final class OtherColumns {
    private final Recogniser all;

    OtherColumns(Recogniser all) {
        this.all = all;
    }

    void find() {
        one(Column.POWER, Meaning.POWER);
        one(Column.WINDOW, Meaning.WINDOW);
        one(Column.CURRENT, Meaning.CURRENT);
        one(Column.SUPPLY, Meaning.SUPPLY);
        one(Column.REQUEST, Meaning.REQUEST);
    }

    private void one(Column column, Meaning meaning) {
        OptionalInt said = all.said(column);
        if (said.isPresent()) {
            read(column, said.getAsInt(), "as told with --column", true);
            return;
        }
        List<Integer> named = new ArrayList<>(all.named(meaning, false));
        named.removeIf(i -> !fits(column, all.all().get(i)));
        if (named.size() == 1) {
            read(column, named.get(0), "its header is a word for it", false);
        } else if (named.size() > 1) {
            all.ask(
                    "which column is " + column.header() + ": "
                            + String.join(
                                    ", ",
                                    named.stream()
                                            .map(i -> "'" + all.all().get(i).name + "'")
                                            .toList())
                            + " all have a word for it",
                    all.choices(column, named));
        }
    }

    private static boolean fits(Column column, ColumnSurvey survey) {
        if (!survey.isNumeric() || survey.blanks > 0) {
            return false;
        }
        return switch (column) {
            case POWER -> survey.isTwoLevel() || survey.isConstant();
            case WINDOW -> survey.whole;
            case REQUEST ->
                survey.isMarks() && (survey.least < 0 || survey.name.strip().equals(Column.REQUEST.header()));
            case CURRENT, SUPPLY -> !survey.byOne;
            case TIME, SIN, COS -> false;
        };
    }

    private void read(Column column, int i, String because, boolean told) {
        ColumnSurvey survey = all.all().get(i);
        ColumnFrom from = ColumnFrom.of(survey.name);
        OptionalInt minus = all.saidMinus(column);
        if (minus.isPresent()) {
            from = from.minus(all.all().get(minus.getAsInt()).name);
            all.found(minus.getAsInt(), column.header() + ", subtracted", "as told with --minus");
        }
        Double scale = all.answers().scales().get(column.header());
        if (scale != null) {
            take(
                    column,
                    i,
                    from.times(scale),
                    because + "; times " + ColumnSurvey.plain(scale) + " as told with --scale");
            return;
        }
        switch (column) {
            case CURRENT -> electric(column, i, from, because, "a", "ma", 0.2, 30, 200, 30_000);
            case SUPPLY -> electric(column, i, from, because, "v", "mv", 2, 60, 2000, 60_000);
            case POWER -> level(i, from, because, told);
            case WINDOW -> take(column, i, from, because + "; whole numbers from " + survey.range());
            case REQUEST -> take(column, i, from, because + "; only -1, 0 and 1");
            case TIME, SIN, COS -> throw new IllegalStateException("found elsewhere: column=" + column.header());
        }
    }

    private void take(Column column, int i, ColumnFrom from, String because) {
        all.take(column, from);
        all.found(i, column.header(), because);
    }

    private void level(int i, ColumnFrom from, String because, boolean told) {
        ColumnSurvey survey = all.all().get(i);
        if (survey.isMarks() && survey.least >= 0) {
            take(Column.POWER, i, from, because + "; only 0 and 1");
        } else if (survey.isConstant()) {
            take(
                    Column.POWER,
                    i,
                    from.above(0),
                    because + "; it is " + ColumnSurvey.plain(survey.least) + " in all rows, on where that is above 0");
        } else if (survey.isTwoLevel() || told) {
            double middle = survey.least + (survey.most - survey.least) / 2;
            take(
                    Column.POWER,
                    i,
                    from.above(middle),
                    because + "; " + (survey.isTwoLevel() ? "only " : "from ") + survey.range()
                            + ", taken for on above the middle, " + ColumnSurvey.plain(middle));
        }
    }

    /** Current or voltage: the unit as written; else told by a size that only one of the two units allows. */
    private void electric(
            Column column,
            int i,
            ColumnFrom from,
            String because,
            String unit,
            String milli,
            double least,
            double most,
            double leastMilli,
            double mostMilli) {
        ColumnSurvey survey = all.all().get(i);
        Optional<String> written = survey.word.unit();
        String base = unit.toUpperCase(Locale.ROOT);
        String range = "; from " + survey.range();
        if (written.filter(unit::equals).isPresent()) {
            take(column, i, from, because + "; in " + base + " as the header says" + range);
        } else if (written.filter(milli::equals).isPresent()) {
            take(column, i, from.times(0.001), because + "; in m" + base + " as the header says, times 0.001" + range);
        } else if (written.isEmpty() && survey.decimals > 0 && survey.most >= least && survey.most <= most) {
            take(
                    column,
                    i,
                    from,
                    because + "; in " + base + ", since in m" + base + " it would be next to nothing" + range);
        } else if (written.isEmpty() && survey.decimals > 0 && survey.most >= leastMilli && survey.most <= mostMilli) {
            take(
                    column,
                    i,
                    from.times(0.001),
                    because + "; in m" + base + ", since in " + base + " it would be beyond any such drive, times 0.001"
                            + range);
        } else {
            all.found(i, "not read", "its unit is not told");
            all.ask(
                    "the unit of '" + survey.name + "', which by its header is " + column.header() + ": "
                            + (written.isPresent()
                                    ? "'" + written.get() + "' is neither " + base + " nor m" + base
                                    : "the header says none, and its values, " + survey.range() + ", may be " + base
                                            + ", m" + base + " or counts"),
                    List.of(
                            "--scale " + column.header() + "=1 for " + base,
                            "--scale " + column.header() + "=0.001 for m" + base,
                            "--scale " + column.header() + "=FACTOR for counts"));
        }
    }

    /** Why a column is left aside. */
    String whyNot(int i) {
        ColumnSurvey column = all.all().get(i);
        if (column.isStamped()) {
            return "dates or times of day; the time is another";
        }
        if (!column.isNumeric()) {
            return column.numbers + column.stamps == 0
                    ? "text"
                    : "only " + column.numbers + " of " + column.rows + " fields are numbers";
        }
        if (column.isConstant()) {
            return "it is " + ColumnSurvey.plain(column.least) + " in all rows";
        }
        return switch (column.word.meaning()) {
            case POWER -> "its header is a word for a switch, but it has more than two levels: " + column.range();
            case REQUEST ->
                "its header is a word for a request, but its values, " + column.range()
                        + ", do not say which way; if they do, add --column request=HEADER";
            case UNKNOWN -> "its header is no word that is known; numbers from " + column.range();
            case TIME, COUNT, SIN, COS, HALL_FIRST, HALL_SECOND, WINDOW, CURRENT, SUPPLY ->
                "numbers from " + column.range() + "; another column is read for it, or it cannot be used";
        };
    }
}
