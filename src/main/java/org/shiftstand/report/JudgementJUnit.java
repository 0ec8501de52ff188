package org.shiftstand.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.judge.Judgement;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Verdict;

/**
 * A judged unit as test results: one suite, in it the unit as a whole and then one case for each group of each clause, in the
 * order of the spec. What has no verdict is an {@code error}, so that a build server does not go green over it.
 */
public final class JudgementJUnit {
    private static final int LISTED = 10;

    private final Judgement judgement;
    private final String suite;
    private final List<JUnitXml.Case> cases = new ArrayList<>();

    private JudgementJUnit(Judgement judgement, String suite) {
        this.judgement = judgement;
        this.suite = suite;
    }

    /**
     * The suite of one judged run.
     *
     * @param file as people call it; where the unit is not named it stands for it
     * @param endedEarly why the run was not made to its end, where that is a result of its own
     */
    public static JUnitXml.Suite suite(Judgement judgement, String file, Optional<String> endedEarly) {
        return new JudgementJUnit(judgement, judgement.unit().orElse(file)).all(endedEarly);
    }

    /**
     * The suite of one of many runs, of which several may be of one unit.
     *
     * @param file as people call it
     */
    public static JUnitXml.Suite suiteOfMany(Judgement judgement, String file) {
        String suite = judgement.unit().map(unit -> unit + ", " + file).orElse(file);
        return new JudgementJUnit(judgement, suite).all(Optional.empty());
    }

    /** The suite of a file that could not be judged: one case, an error. */
    public static JUnitXml.Suite notJudged(String file, List<String> problems) {
        String first = problems.stream().findFirst().orElse("could not be judged");
        return new JUnitXml.Suite(
                file,
                Map.of(),
                List.of(new JUnitXml.Case(
                        file,
                        "can be judged",
                        JUnitXml.Ending.UNDECIDED,
                        "not judged",
                        first,
                        String.join("\n", problems))));
    }

    private JUnitXml.Suite all(Optional<String> endedEarly) {
        cases.add(new JUnitXml.Case(
                suite,
                "meets " + spec(),
                ending(judgement.verdict()),
                judgement.verdict().word(),
                plain(judgement.reason())));
        endedEarly.ifPresent(why -> cases.add(
                new JUnitXml.Case(suite, "was run to its end", JUnitXml.Ending.UNDECIDED, "ended early", plain(why))));
        for (ClauseResult clause : judgement.clauses()) {
            if (clause.groups().isEmpty()) {
                cases.add(new JUnitXml.Case(
                        suite + "." + clause.clause().id(),
                        "no group",
                        ending(clause.verdict()),
                        clause.verdict().word(),
                        plain(clause.reason())));
            }
            clause.groups().forEach(group -> cases.add(one(clause, group)));
        }
        return new JUnitXml.Suite(suite, facts(), cases);
    }

    private JUnitXml.Case one(ClauseResult clause, GroupResult group) {
        return new JUnitXml.Case(
                suite + "." + clause.clause().id(),
                plain(Words.group(group)),
                ending(group.verdict()),
                group.verdict().word(),
                plain(group.reason()),
                plain(group.verdict() == Verdict.PASS ? group.reason() : text(clause, group)));
    }

    /** Value, bound and how sure, then what a reader needs to weigh it. */
    private static String text(ClauseResult result, GroupResult group) {
        Clause clause = result.clause();
        Map<String, String> lines = new LinkedHashMap<>();
        lines.put("judged", Words.subject(clause));
        lines.put("bound", Words.bound(clause.bound(), result.unit()));
        lines.put("value", ClauseRows.value(result, group.value(), group.margin()));
        lines.put("margin", ClauseRows.margin(result, group.margin()));
        lines.put("how sure", Certainty.of(result, group.assessment()));
        lines.put("shifts", Figures.runs(group.shifts(), LISTED));
        lines.put("because", clause.because());
        lines.put("note", String.join("; ", result.remarks()));
        StringBuilder text = new StringBuilder(group.reason());
        lines.forEach((name, line) -> {
            if (!line.isEmpty() && !line.equals(Figures.NONE)) {
                text.append('\n').append(name).append(": ").append(line);
            }
        });
        return text.toString();
    }

    private String spec() {
        return judgement.spec().name() + " version " + judgement.spec().version();
    }

    private Map<String, String> facts() {
        Map<String, String> facts = new LinkedHashMap<>();
        facts.put("verdict", judgement.verdict().word());
        facts.put("reason", plain(judgement.reason()));
        judgement.unit().ifPresent(unit -> facts.put("unit", unit));
        facts.put("source", judgement.source().name());
        facts.put("source sha256", judgement.source().sha256());
        facts.put("spec", spec());
        facts.put("spec sha256", judgement.spec().sha256());
        judgement.runEnd().ifPresent(why -> facts.put("run ended early", plain(why)));
        return facts;
    }

    /** For consoles and searches: no sign that only print needs. */
    private static String plain(String text) {
        return text.replace(Figures.NO_BREAK, " ").replace(Figures.MINUS, "-");
    }

    private static JUnitXml.Ending ending(Verdict verdict) {
        return switch (verdict) {
            case PASS -> JUnitXml.Ending.PASSED;
            case FAIL -> JUnitXml.Ending.FAILED;
            case NO_VERDICT -> JUnitXml.Ending.UNDECIDED;
        };
    }
}
