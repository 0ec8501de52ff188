package org.shiftstand.shift;

/** Whether decoded angles grow inboard (forward) or outboard (reversed). */
enum Sense {
    FORWARD("forward", 1),
    REVERSED("reversed", -1);

    private final String word;
    private final int sign;

    Sense(String word, int sign) {
        this.word = word;
        this.sign = sign;
    }

    String word() {
        return word;
    }

    /** What decoded angles are multiplied by to be positive inboard. */
    int sign() {
        return sign;
    }

    static Sense of(String word) {
        return word.equals(REVERSED.word) ? REVERSED : FORWARD;
    }
}
