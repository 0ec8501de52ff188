package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.Decision.Claim;
import org.shiftstand.spec.Decision.Rule;
import org.shiftstand.spec.Statistic.Kind;

class DecisionWordsTest {
    private static DecisionWords of(Decision... decisions) {
        Fixture fixture = new Fixture(3, 2, 1).sweep();
        for (int i = 0; i < decisions.length; i++) {
            fixture.clause("c" + i, Measure.RINGING, Kind.MAXIMUM, List.of(), Double.NaN, 25, "");
            fixture.clauses.add(Fixture.by(decisions[i], fixture.clauses.remove(i)));
        }
        return DecisionWords.of(fixture.judged());
    }

    @Test
    void simple_acceptance_leaves_a_risk_of_a_half_at_the_bound() {
        assertThat(of(Decision.USUAL).risk()).startsWith("false accept or false reject of up to 50 %");
    }

    @Test
    void a_guard_band_of_the_expanded_uncertainty_leaves_half_of_what_its_confidence_leaves() {
        Decision guarded = new Decision(Rule.GUARDED, Claim.OBSERVED, 0.95, OptionalDouble.empty());

        assertThat(of(guarded).rule()).contains("the expanded uncertainty at 95 %");
        assertThat(of(guarded).risk()).startsWith("false accept and false reject of at most 2.5 %");
    }

    @Test
    void a_guard_band_from_a_wanted_risk_leaves_that_risk() {
        Decision wanted = new Decision(Rule.GUARDED, Claim.OBSERVED, 0.95, OptionalDouble.of(0.01));

        assertThat(of(wanted).rule()).contains("a wanted false-accept risk of 1 %");
        assertThat(of(wanted).risk()).startsWith("false accept and false reject of at most 1 %");
    }

    @Test
    void a_claim_on_the_process_leaves_what_its_confidence_limits_leave() {
        Decision process = new Decision(Rule.SIMPLE, Claim.PROCESS, 0.9, OptionalDouble.empty());

        assertThat(of(process).claim()).contains("long-run value", "confidence limit at 90 %");
        assertThat(of(process).risk()).startsWith("false accept and false reject of at most 10 % a clause");
    }

    @Test
    void clauses_with_other_rules_are_named_with_theirs() {
        Decision process = new Decision(Rule.SIMPLE, Claim.PROCESS, 0.9, OptionalDouble.empty());

        DecisionWords words = of(Decision.USUAL, process, Decision.USUAL);

        assertThat(words.claim())
                .contains("in the long run [for c0, c2]; process: ")
                .endsWith("[for c1]");
        assertThat(words.rule()).doesNotContain("[for");
    }
}
