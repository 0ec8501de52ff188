package org.shiftstand.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.learn.compare.Change;
import org.shiftstand.learn.compare.Compared;
import org.shiftstand.learn.compare.Comparison;

/** A comparison as test results: one suite a clause, one case a group. */
public final class ComparisonJUnit {
    private static final String WHOLE = "comparison";

    private ComparisonJUnit() {}

    /** The whole first, with the facts of the comparison, then the clauses in their order. */
    public static List<JUnitXml.Suite> suites(Comparison comparison) {
        Map<String, String> facts = new LinkedHashMap<>();
        facts.put("verdict", comparison.change().word());
        facts.put("reason", comparison.reason());
        facts.put("firmware before", comparison.firmwareBefore());
        facts.put("firmware after", comparison.firmwareAfter());
        Map<String, List<JUnitXml.Case>> cases = new LinkedHashMap<>();
        add(
                cases,
                new JUnitXml.Case(
                        WHOLE,
                        "everything judged is equivalent",
                        ending(comparison.change()),
                        comparison.change().word(),
                        comparison.reason()));
        comparison.judged().forEach(row -> add(cases, one(row.clause().orElse(WHOLE), row)));
        comparison.told().forEach(row -> add(cases, one("without a margin", row)));
        List<JUnitXml.Suite> suites = new ArrayList<>();
        cases.forEach((name, of) -> suites.add(new JUnitXml.Suite(name, suites.isEmpty() ? facts : Map.of(), of)));
        return suites;
    }

    private static void add(Map<String, List<JUnitXml.Case>> cases, JUnitXml.Case one) {
        cases.computeIfAbsent(one.classname(), name -> new ArrayList<>()).add(one);
    }

    private static JUnitXml.Case one(String suite, Compared row) {
        return new JUnitXml.Case(
                suite,
                ComparisonWords.named(row),
                ending(row.change()),
                row.change().word(),
                row.reason());
    }

    private static JUnitXml.Ending ending(Change change) {
        return switch (change) {
            case EQUIVALENT -> JUnitXml.Ending.PASSED;
            case DIFFERENT -> JUnitXml.Ending.FAILED;
            case NOT_DECIDED -> JUnitXml.Ending.UNDECIDED;
            case NO_MARGIN -> JUnitXml.Ending.NOT_JUDGED;
        };
    }
}
