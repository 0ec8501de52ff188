package org.shiftstand.reference;

import org.shiftstand.stats.SuccessRun;

/** How many faultless trials prove what. */
final class FaultlessTrials implements Published {
    @Override
    public Source source() {
        return new Source("REF-BIN-03", "success-run theorem, 1 − C = Rⁿ", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        Reference table = Reference.csv("reference/stats/success_run.csv");
        for (int i = 0; i < table.size(); i++) {
            double confidence = table.column("confidence")[i];
            double reliability = table.column("reliability")[i];
            int failures = (int) table.column("failures")[i];
            int n = (int) table.column("n")[i];
            String of = "confidence " + confidence + ", reliability " + reliability + ", " + failures + " failures";
            comparisons.count(of + ", trials", n, SuccessRun.trials(reliability, confidence, failures));
            comparisons.figure(
                    of + ", shown",
                    table.column("reliability_shown")[i],
                    SuccessRun.reliability(n, failures, confidence),
                    0.5e-8 + 1e-12);
        }
    }
}
