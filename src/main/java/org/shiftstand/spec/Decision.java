package org.shiftstand.spec;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * How a clause's value is held against its bound (JCGM 106:2012, ISO 14253-1).
 *
 * @param rule whether the uncertainty of measurement moves the limits
 * @param claim what is claimed: of the shifts observed, or of the unit in the long run
 * @param confidence of expanded uncertainties (two-sided) and of confidence limits (one-sided), in 0…1
 * @param falseAccept the wanted risk that a value at its limit is accepted, in 0…0.5; sets the guard band in place of the
 *     expanded uncertainty
 */
public record Decision(Rule rule, Claim claim, double confidence, OptionalDouble falseAccept) {
    /** What holds where a spec says nothing. */
    public static final Decision USUAL = new Decision(Rule.SIMPLE, Claim.OBSERVED, 0.95, OptionalDouble.empty());

    public Decision {
        if (!(confidence > 0 && confidence < 1)) { // also refuses NaN
            throw new IllegalArgumentException("a confidence lies between 0 and 1: confidence=" + confidence);
        }
    }

    /** Whether the uncertainty of measurement moves the limits. */
    public enum Rule {
        /** The value decides as it is: the risk of a wrong verdict at the limit is one half. */
        SIMPLE("simple"),
        /** Pass inside the limits by a guard band, fail outside by it, no verdict between. */
        GUARDED("guarded");

        private final String word;

        Rule(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    /** What a verdict claims. */
    public enum Claim {
        /** The stated statistic of the shifts that were observed. */
        OBSERVED("observed"),
        /** The unit's long-run value, of which the observed shifts are a sample. */
        PROCESS("process");

        private final String word;

        Claim(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    static Optional<Rule> rule(String word) {
        return Arrays.stream(Rule.values()).filter(r -> r.word.equals(word)).findFirst();
    }

    static Optional<Claim> claim(String word) {
        return Arrays.stream(Claim.values()).filter(c -> c.word.equals(word)).findFirst();
    }
}
