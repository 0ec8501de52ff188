package org.shiftstand.spec;

/** Pass, fail, or no verdict: the evidence does not decide, always with the reason. */
public enum Verdict {
    PASS("pass"),
    FAIL("fail"),
    NO_VERDICT("no-verdict");

    private final String word;

    Verdict(String word) {
        this.word = word;
    }

    /** As in files. */
    public String word() {
        return word;
    }

    /** Any fail is a fail, else any no verdict is no verdict, else pass. */
    public Verdict and(Verdict other) {
        if (this == FAIL || other == FAIL) {
            return FAIL;
        }
        return this == NO_VERDICT || other == NO_VERDICT ? NO_VERDICT : PASS;
    }
}
