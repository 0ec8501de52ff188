package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.planning.Chance;
import org.shiftstand.planning.ClauseExplanation;
import org.shiftstand.planning.ClauseNeeds;
import org.shiftstand.planning.Explanation;
import org.shiftstand.planning.OperatingCurve;
import org.shiftstand.planning.Power;
import org.shiftstand.planning.WholeSpec;
import org.shiftstand.spec.Clause;

/** An explained spec as text for a terminal of 100 columns. */
public final class ExplanationText {
    private static final int WIDTH = 98;
    private static final String BARS = "\u2581\u2582\u2583\u2584\u2585\u2586\u2587\u2588";

    private final StringBuilder out = new StringBuilder();
    private final Explanation explained;

    private ExplanationText(Explanation explained) {
        this.explained = explained;
    }

    /**
     * The whole text, lines ended by LF.
     *
     * @param procedure what the procedure is called, or says that none is named
     */
    public static String of(Explanation explained, String procedure) {
        var text = new ExplanationText(explained);
        text.head(procedure);
        text.demands();
        explained.whole().ifPresent(text::worth);
        return Words.clean(text.out.toString());
    }

    private void head(String procedure) {
        var spec = explained.spec();
        line("", (spec.title().isEmpty() ? "" : spec.title() + ": ") + spec.name() + " version " + spec.version());
        explained
                .profile()
                .ifPresentOrElse(
                        profile -> line(
                                "", "Profile " + profile.name() + " version " + profile.version() + ". " + procedure),
                        () -> line(
                                "",
                                "No profile is named: what shifts take, and what a verdict is worth, is not known."
                                        + " Add --profile."));
        line("", ruling(spec.rule(), spec.claim()));
    }

    private static String ruling(String rule, String claim) {
        String held = rule.equals("simple")
                ? "a value is held against its bound as it is"
                : "the bound is moved by the uncertainty of measurement, and between pass and fail is no verdict";
        String claimed = claim.equals("observed")
                ? "a verdict is about the shifts that were seen"
                : "a verdict is about the unit in the long run, of which the shifts seen are a sample";
        return "Rule " + rule + ": " + held + ". Claim " + claim + ": " + claimed + ".";
    }

    private void demands() {
        out.append("\nWhat is demanded, and what it takes\n");
        int number = 0;
        for (ClauseExplanation clause : explained.clauses()) {
            number++;
            out.append('\n');
            line("", number + "  " + clause.clause().id());
            line("   ", ExplanationWords.demand(clause.clause()));
            if (!clause.clause().because().isEmpty()) {
                line("   ", "Why: " + clause.clause().because() + ".");
            }
            line("   ", takes(clause));
            if (!clause.clause().decision().equals(explained.spec().decision())) {
                var decision = clause.clause().decision();
                line("   ", ruling(decision.rule().word(), decision.claim().word()));
            }
        }
        if (!explained.neverSupplied().isEmpty()) {
            out.append('\n');
            line("", "No length of this procedure supplies: " + String.join(", ", explained.neverSupplied()) + ".");
        }
        explained.cyclesForAll().ifPresent(cycles -> {
            out.append('\n');
            line(
                    "",
                    (explained.neverSupplied().isEmpty() ? "All clauses together take " : "All others together take ")
                            + cycles(cycles, explained.schedule().orElseThrow().seconds(cycles)) + ".");
        });
    }

    private static String takes(ClauseExplanation clause) {
        if (clause.needs().isEmpty()) {
            return "Takes " + Figures.count(clause.each(), "shift") + " in each group.";
        }
        ClauseNeeds needs = clause.needs().get();
        if (needs.never().isPresent()) {
            return "The procedure can never supply it: " + needs.never().get() + ".";
        }
        String many = needs.groups() == 1
                ? Figures.count(needs.each(), "shift")
                : Figures.count(needs.each(), "shift") + " in each of " + needs.groups() + " groups, " + needs.inAll()
                        + " in all";
        String gives = needs.supplied()
                ? " The procedure gives " + (needs.groups() == 1 ? "" : "each at least ") + needs.given() + "."
                : " The procedure gives " + (needs.groups() == 1 ? "" : "some ") + "only " + needs.given()
                        + ": it can pass nothing.";
        return "Takes " + many + ": "
                + cycles(needs.cycles().orElseThrow(), needs.seconds().orElseThrow()) + "." + gives;
    }

    private static String cycles(int cycles, double seconds) {
        return Figures.count(cycles, "cycle") + ", about " + duration(seconds);
    }

    /** {@code 54 s}, {@code 19 min}, {@code 2.4 h}. */
    static String duration(double seconds) {
        if (seconds < 90) {
            return Math.round(seconds) + " s";
        }
        return seconds < 5400
                ? Math.round(seconds / 60) + " min"
                : String.format(Locale.ROOT, "%.1f h", seconds / 3600);
    }

    private void worth(WholeSpec whole) {
        out.append("\nWhat a verdict is worth\n\n");
        ExplanationWords.assumptions(explained).forEach(sentence -> line("", sentence));
        int number = 0;
        for (ClauseExplanation clause : explained.clauses()) {
            number++;
            out.append('\n');
            String id = number + "  " + clause.clause().id();
            clause.curve()
                    .ifPresentOrElse(
                            curve -> curve(id, clause, curve),
                            () -> line(
                                    "", id + ": no curve, " + clause.noCurve().orElse("") + "."));
        }
        out.append("\nThe whole spec\n\n");
        whole(whole);
    }

    private void curve(String id, ClauseExplanation explanation, OperatingCurve curve) {
        Clause clause = explanation.clause();
        List<OperatingCurve.Point> swept =
                curve.points().subList(1, curve.points().size());
        line("", id + ", at " + explanation.place());
        line(
                "   ",
                WorseningWords.axis(clause, curve) + " "
                        + WorseningWords.figure(curve, swept.get(0).quality()) + " " + bars(swept) + " "
                        + WorseningWords.figure(
                                curve, swept.get(swept.size() - 1).quality()));
        line("   ", falls(curve));
        line("   ", "Sound units that do not pass: " + chance(curve.producersRisk()) + ".");
        line(
                "   ",
                "Bad ones (" + WorseningWords.quality(curve, curve.bad()) + ") that pass: "
                        + chance(curve.consumersRisk()) + ".");
        explanation.power().ifPresent(power -> line("   ", power(power)));
    }

    private static String bars(List<OperatingCurve.Point> points) {
        return points.stream()
                .map(point -> point.verdicts().passes().share())
                .map(p -> String.valueOf(BARS.charAt((int) Math.round(p * (BARS.length() - 1)))))
                .collect(Collectors.joining());
    }

    private static String falls(OperatingCurve curve) {
        List<String> parts = new ArrayList<>();
        for (int percent : new int[] {95, 50, 5}) {
            OptionalDouble quality = curve.qualityAt(percent / 100.0);
            parts.add(percent + " % at "
                    + (quality.isPresent() ? WorseningWords.figure(curve, quality.getAsDouble()) : "no quality seen"));
        }
        return "Chance to pass: " + String.join(", ", parts) + ".";
    }

    private static String chance(Chance chance) {
        return ExplanationWords.chance(chance);
    }

    private static String power(Power power) {
        String wanted = ExplanationWords.percent(power.wanted());
        return power.cycles().isPresent()
                ? "Both right with " + wanted + ": "
                        + cycles(power.cycles().getAsInt(), power.seconds().orElseThrow()) + "."
                : "Both right with " + wanted + ": no number of cycles; "
                        + power.why().orElse("") + ".";
    }

    private void whole(WholeSpec whole) {
        var good = whole.ofGood();
        line(
                "",
                "Sound units that fail: " + chance(good.fails()) + "; that get no verdict: " + chance(good.undecided())
                        + ".");
        List<String> wider = whole.points().stream()
                .map(point -> ExplanationWords.percent(point.verdicts().passes().share()) + " at "
                        + Figures.asWritten(point.quality()))
                .toList();
        line("", "Chance to pass where everything scatters so many times wider: " + String.join(", ", wider) + ".");
        explained
                .weakest()
                .ifPresent(clause -> line(
                        "",
                        "A unit that is bad in one clause passes at most as often as that clause lets it: likeliest by "
                                + clause.clause().id() + ", "
                                + chance(clause.curve().orElseThrow().consumersRisk()) + "."));
    }

    /** Wrapped, with the plain spaces and minus signs of terminals. */
    private void line(String indent, String sentence) {
        String plain = sentence.replace(Figures.NO_BREAK, "\u0001").replace(Figures.MINUS, "-");
        StringBuilder line = new StringBuilder(indent);
        boolean empty = true;
        for (String word : plain.split(" ", -1)) {
            if (!empty && line.length() + 1 + word.length() > WIDTH) {
                flush(line);
                line.append(indent);
                empty = true;
            }
            line.append(empty ? "" : " ").append(word);
            empty = false;
        }
        flush(line);
    }

    private void flush(StringBuilder line) {
        out.append(line.toString().replace('\u0001', ' ').stripTrailing()).append('\n');
        line.setLength(0);
    }
}
