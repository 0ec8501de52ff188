package org.shiftstand.planning;

import org.shiftstand.spec.Verdict;

/** Verdicts counted. */
public record Tally(int pass, int fail, int noVerdict) {
    static final Tally NONE = new Tally(0, 0, 0);

    Tally plus(Verdict verdict) {
        return switch (verdict) {
            case PASS -> new Tally(pass + 1, fail, noVerdict);
            case FAIL -> new Tally(pass, fail + 1, noVerdict);
            case NO_VERDICT -> new Tally(pass, fail, noVerdict + 1);
        };
    }

    Tally plus(Tally other) {
        return new Tally(pass + other.pass, fail + other.fail, noVerdict + other.noVerdict);
    }

    public int repetitions() {
        return pass + fail + noVerdict;
    }

    /** To pass. */
    public Chance passes() {
        return new Chance(pass, repetitions());
    }

    /** To fail. */
    public Chance fails() {
        return new Chance(fail, repetitions());
    }

    /** To end without a verdict. */
    public Chance undecided() {
        return new Chance(noVerdict, repetitions());
    }
}
