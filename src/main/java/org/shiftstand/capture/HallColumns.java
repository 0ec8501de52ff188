package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.capture.HeaderWord.Meaning;

/** Finds the Hall pair: as told, by its words, or as the only two columns that go round an ellipse. */
final class HallColumns {
    private static final int MOST_CANDIDATES = 16;

    private final Recogniser all;

    HallColumns(Recogniser all) {
        this.all = all;
    }

    /** A pair of columns, each with its inverse where there is one. */
    private record Pair(int sin, int cos, OptionalInt sinMinus, OptionalInt cosMinus) {
        static Pair of(int sin, int cos) {
            return new Pair(sin, cos, OptionalInt.empty(), OptionalInt.empty());
        }
    }

    void find() {
        OptionalInt sin = all.said(Column.SIN);
        OptionalInt cos = all.said(Column.COS);
        if (sin.isPresent() && cos.isPresent()) {
            take(
                    new Pair(sin.getAsInt(), cos.getAsInt(), all.saidMinus(Column.SIN), all.saidMinus(Column.COS)),
                    "as told with --column",
                    "as told with --column",
                    false);
            return;
        }
        if (sin.isPresent() || cos.isPresent()) {
            Column missing = sin.isPresent() ? Column.COS : Column.SIN;
            all.ask(
                    "the other column of the Hall pair: only one of the two was told",
                    List.of("--column " + missing.header() + "=HEADER"));
            return;
        }
        if (!byWords(Meaning.SIN, Meaning.COS, false) && !byWords(Meaning.HALL_FIRST, Meaning.HALL_SECOND, true)) {
            byCircle();
        }
    }

    private boolean byWords(Meaning first, Meaning second, boolean mustGoRound) {
        List<Integer> sins = all.named(first, false);
        List<Integer> coss = all.named(second, false);
        List<Integer> sinsMinus = all.named(first, true);
        List<Integer> cossMinus = all.named(second, true);
        if (sins.isEmpty() && coss.isEmpty()) {
            return false;
        }
        if (sins.size() > 1 || coss.size() > 1 || sinsMinus.size() > 1 || cossMinus.size() > 1) {
            List<String> options = new ArrayList<>(all.choices(Column.SIN, sins));
            options.addAll(all.choices(Column.COS, coss));
            all.ask("the Hall pair: several headers have a word for one of its outputs", options);
            return true;
        }
        if (sins.isEmpty() || coss.isEmpty()) {
            return false; // one word alone tells nothing; the circle test may
        }
        boolean differential = sinsMinus.size() == 1 && cossMinus.size() == 1;
        if (sinsMinus.size() != cossMinus.size()) {
            all.note("only one output of the Hall pair has an inverse column; it is not used");
        }
        String word =
                first == Meaning.SIN ? "its header is a word for the " : "its header is a word for the Hall pair's ";
        take(
                new Pair(
                        sins.get(0),
                        coss.get(0),
                        differential ? OptionalInt.of(sinsMinus.get(0)) : OptionalInt.empty(),
                        differential ? OptionalInt.of(cossMinus.get(0)) : OptionalInt.empty()),
                word + (first == Meaning.SIN ? "sine" : "first output"),
                word + (first == Meaning.SIN ? "cosine" : "second output"),
                mustGoRound);
        return true;
    }

    private void byCircle() {
        List<Integer> candidates = new ArrayList<>();
        for (int i = 0; i < all.all().size() && candidates.size() < MOST_CANDIDATES; i++) {
            ColumnSurvey column = all.all().get(i);
            if (!all.isTaken(i)
                    && column.isNumeric()
                    && column.blanks == 0
                    && !column.isConstant()
                    && !column.isTwoLevel()
                    && !column.rises()) {
                candidates.add(i);
            }
        }
        List<Pair> round = new ArrayList<>();
        for (int a = 0; a < candidates.size(); a++) {
            for (int b = a + 1; b < candidates.size(); b++) {
                Pair pair = Pair.of(candidates.get(a), candidates.get(b));
                if (circle(pair).filter(CircleTest::passes).isPresent()) {
                    round.add(pair);
                }
            }
        }
        if (round.size() == 1) {
            String because = "of all pairs of columns only '" + name(round.get(0).sin) + "' and '"
                    + name(round.get(0).cos) + "' go round an ellipse";
            take(
                    round.get(0),
                    because + "; which of the two is the sine only changes the sense, and the first is taken for it",
                    because,
                    true);
            return;
        }
        Optional<Pair> differential = differential(candidates);
        if (differential.isPresent()) {
            String because =
                    "with its inverse it is half of a differential pair, by the signs at the end of the headers";
            take(
                    differential.get(),
                    because + "; which of the two is the sine only changes the sense, and the first is taken for it",
                    because,
                    true);
            return;
        }
        List<String> options = new ArrayList<>();
        round.forEach(p -> options.add(all.choice(Column.SIN, p.sin) + " " + all.choice(Column.COS, p.cos)));
        if (round.isEmpty()) {
            options.add("--column hall_sin=HEADER --column hall_cos=HEADER");
            all.ask(
                    "the Hall pair: no header has a word for it, and no two columns go round an ellipse" + dead(),
                    options);
        } else {
            options.add("for a differential pair also --minus hall_sin=HEADER --minus hall_cos=HEADER");
            all.ask(
                    "the Hall pair: no header has a word for it, and " + round.size()
                            + " pairs of columns go round an ellipse",
                    options);
        }
    }

    /** Four columns with two names, each once with a plus and once with a minus, that go round: S+ S- C+ C-. */
    private Optional<Pair> differential(List<Integer> candidates) {
        List<Integer> plus = new ArrayList<>();
        List<Integer> minus = new ArrayList<>();
        for (int a : candidates) {
            String direct = name(a).strip();
            for (int b : candidates) {
                String inverse = name(b).strip();
                if (direct.endsWith("+")
                        && (inverse.endsWith("-") || inverse.endsWith("−"))
                        && direct.substring(0, direct.length() - 1)
                                .equals(inverse.substring(0, inverse.length() - 1))) {
                    plus.add(a);
                    minus.add(b);
                }
            }
        }
        return plus.size() == 2
                ? Optional.of(new Pair(
                                plus.get(0), plus.get(1), OptionalInt.of(minus.get(0)), OptionalInt.of(minus.get(1))))
                        .filter(pair -> circle(pair).filter(CircleTest::passes).isPresent())
                : Optional.empty();
    }

    private String dead() {
        List<String> constant = all.all().stream()
                .filter(c -> c.isNumeric() && c.isConstant())
                .map(c -> "'" + c.name + "' is " + ColumnSurvey.plain(c.least) + " in all rows")
                .toList();
        return constant.isEmpty() ? "" : " (" + String.join(", ", constant) + ": is a channel lost?)";
    }

    private String name(int i) {
        return all.all().get(i).name;
    }

    private void take(Pair pair, String sinBecause, String cosBecause, boolean mustGoRound) {
        if (!isUsable(pair)) {
            return;
        }
        Optional<CircleTest> circle = circle(pair);
        boolean round = circle.filter(CircleTest::passes).isPresent();
        String test = circle.map(CircleTest::words)
                .map(w -> round ? w : w + ": not confirmed")
                .orElse("circle test: the two make no ellipse: not confirmed");
        if (!round && mustGoRound) {
            all.ask(
                    "the Hall pair: '" + name(pair.sin) + "' and '" + name(pair.cos) + "' are named so, but " + test,
                    List.of("--column hall_sin=HEADER --column hall_cos=HEADER"));
            return;
        }
        describe(Column.SIN, pair.sin, pair.sinMinus, sinBecause, test);
        describe(Column.COS, pair.cos, pair.cosMinus, cosBecause, test);
        if (!round) {
            all.note(
                    "the Hall pair does not go round one ellipse: it may turn less than a full turn, drift, or have lost a"
                            + " channel; see what measuring says of its samples");
        }
        rails(pair);
        all.note(
                "whether the two outputs are swapped or one is inverted cannot be seen in them: it only turns the sense"
                        + " round, which requests or a profile decide, else --sense forward|reversed");
    }

    private boolean isUsable(Pair pair) {
        boolean usable = true;
        for (int i : new int[] {pair.sin, pair.cos}) {
            ColumnSurvey column = all.all().get(i);
            String what = pair.sin == i ? Column.SIN.header() : Column.COS.header();
            if (column.isConstant() && column.numbers > 0) {
                all.ask(
                        what + ": '" + column.name + "' is " + ColumnSurvey.plain(column.least) + " in all "
                                + column.numbers
                                + " rows: this channel is lost, and one alone gives no angle. Check its"
                                + " wiring, or name another",
                        List.of("--column " + what + "=HEADER"));
                usable = false;
            } else if (column.numbers * 2 < column.rows) {
                all.ask(
                        what + ": most fields of '" + column.name + "' are no numbers",
                        List.of("--column " + what + "=HEADER"));
                usable = false;
            }
        }
        return usable;
    }

    private void describe(Column column, int i, OptionalInt minus, String because, String test) {
        ColumnSurvey survey = all.all().get(i);
        ColumnFrom from = ColumnFrom.of(survey.name);
        String range = kind(survey) + " from " + survey.range();
        if (minus.isPresent()) {
            from = from.minus(name(minus.getAsInt()));
            all.found(
                    minus.getAsInt(),
                    column.header() + ", subtracted",
                    "by its header it is the inverse output of '" + survey.name + "'");
            range += "; '" + name(minus.getAsInt()) + "' is subtracted from it";
        }
        Double scale = all.answers().scales().get(column.header());
        if (scale != null) {
            from = from.times(scale);
        }
        all.take(column, from);
        all.found(i, column.header(), because + "; " + range + "; " + test);
    }

    /** Counts or volts, signed or not: said, though the ellipse takes each as it is. */
    private static String kind(ColumnSurvey column) {
        String unit = column.word.unit().orElse("");
        boolean volts = unit.equals("v") || unit.equals("mv");
        return (volts ? unit.equals("v") ? "volts" : "millivolts" : column.whole ? "counts" : "decimal numbers")
                + (column.least < 0 && column.most > 0 ? " with a sign" : " about an offset");
    }

    private void rails(Pair pair) {
        if (pair.sinMinus.isPresent()) {
            return;
        }
        double[] x = all.survey().values(pair.sin);
        double[] y = all.survey().values(pair.cos);
        ColumnSurvey sin = all.all().get(pair.sin);
        ColumnSurvey cos = all.all().get(pair.cos);
        int n = 0;
        for (int k = 0; k < x.length; k++) {
            if (!isAtRail(sin, x[k]) && !isAtRail(cos, y[k])) {
                x[n] = x[k];
                y[n++] = y[k];
            }
        }
        Optional<CircleTest> free = CircleTest.of(x, y, n);
        free.ifPresent(f -> {
            rail(sin, f.low()[0], f.high()[0]);
            rail(cos, f.low()[1], f.high()[1]);
        });
    }

    private boolean isAtRail(ColumnSurvey column, double value) {
        return (value == column.most && isOften(column, column.atMost))
                || (value == column.least && isOften(column, column.atLeast));
    }

    private static boolean isOften(ColumnSurvey column, long times) {
        return times >= Math.max(20, 0.003 * column.numbers);
    }

    private void rail(ColumnSurvey column, double low, double high) {
        double margin = 0.015 * (high - low);
        boolean top = isOften(column, column.atMost) && high > column.most + margin;
        boolean bottom = isOften(column, column.atLeast) && low < column.least - margin;
        if (top || bottom) {
            double share = 100.0 * ((top ? column.atMost : 0) + (bottom ? column.atLeast : 0)) / column.numbers;
            all.note(String.format(
                    Locale.ROOT,
                    "'%s' is clipped: %.1f %% of its samples stand at %s, where the ellipse goes on to %s. Lower the gain:"
                            + " angles are off where it clips",
                    column.name,
                    share,
                    ColumnSurvey.plain(top ? column.most : column.least),
                    ColumnSurvey.plain(top ? high : low)));
        }
    }

    private Optional<CircleTest> circle(Pair pair) {
        double[] x = less(pair.sin, pair.sinMinus);
        double[] y = less(pair.cos, pair.cosMinus);
        int n = 0;
        for (int k = 0; k < x.length; k++) {
            if (!Double.isNaN(x[k]) && !Double.isNaN(y[k])) {
                x[n] = x[k];
                y[n++] = y[k];
            }
        }
        return n < 12 ? Optional.empty() : CircleTest.of(x, y, n);
    }

    private double[] less(int i, OptionalInt minus) {
        double[] values = all.survey().values(i);
        if (minus.isPresent()) {
            double[] other = all.survey().values(minus.getAsInt());
            for (int k = 0; k < values.length; k++) {
                values[k] -= other[k];
            }
        }
        return values;
    }
}
