package org.shiftstand.learn.compare;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.SpecReader;

/** Margins as a command takes them: {@code landing=6deg}, {@code landing:spread=1.5}, {@code overtravel:proportion=10%}. */
public final class Margins {
    private static final Pattern FORM = Pattern.compile("([a-z-]+)(?::([a-z-]+))?=([-+.0-9eE]+) *([A-Za-z%]*)");

    private Margins() {}

    /**
     * The clause that a spec would have for it, by sprocket and direction; read and checked as one.
     *
     * @throws BadInput with everything that is wrong
     */
    public static Clause read(String text) {
        Matcher form = FORM.matcher(text.strip());
        String named = "--margin " + text;
        if (!form.matches()) {
            throw new BadInput(new Problem(
                    named,
                    0,
                    0,
                    "is no margin; expected MEASURE=AMOUNT, such as landing=6deg, landing:spread=1.5 or"
                            + " overtravel:proportion=10%"));
        }
        String of = form.group(2) == null ? "equivalent-to" : "{ equivalent-to: " + form.group(2) + " }";
        String clause = "spec: margin\nversion: 1\nclauses:\n  - id: margin-" + form.group(1)
                + (form.group(2) == null ? "" : "-" + form.group(2)) + "\n    measure: " + form.group(1)
                + "\n    statistic: " + of + "\n    per: [sprocket, direction]\n    at-most: "
                + (form.group(3) + " " + form.group(4)).strip() + "\n";
        try {
            return SpecReader.read(TextFile.of(named, clause)).clauses().get(0);
        } catch (BadInput e) {
            // places in a text that nobody wrote would only puzzle
            List<Problem> told = e.problems().stream()
                    .map(problem -> new Problem(named, 0, 0, problem.text()))
                    .toList();
            throw new BadInput(told);
        }
    }
}
