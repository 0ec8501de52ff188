package org.shiftstand.report;

import java.io.IOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.learn.compare.Change;
import org.shiftstand.learn.compare.Compared;
import org.shiftstand.learn.compare.Comparison;

/** A comparison as test results: one suite a clause, one case a group. */
public final class ComparisonJUnit {
    private ComparisonJUnit() {}

    /** Writes the document; does not close the writer. */
    public static void write(Comparison comparison, Writer out) throws IOException {
        Map<String, String> facts = new LinkedHashMap<>();
        facts.put("verdict", comparison.change().word());
        facts.put("reason", comparison.reason());
        facts.put("firmware before", comparison.firmwareBefore());
        facts.put("firmware after", comparison.firmwareAfter());
        List<JUnitXml.Case> cases = new ArrayList<>();
        cases.add(new JUnitXml.Case(
                "comparison",
                "everything judged is equivalent",
                ending(comparison.change()),
                comparison.change().word(),
                comparison.reason()));
        comparison.judged().forEach(row -> cases.add(one(row.clause().orElse("comparison"), row)));
        comparison.told().forEach(row -> cases.add(one("without a margin", row)));
        JUnitXml.write("shiftstand compare", facts, cases, out);
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
