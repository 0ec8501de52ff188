package org.shiftstand.quantity;

/** Direction of motion of the drive: towards the larger (inboard) or the smaller (outboard) sprocket. */
public enum Direction {
    INBOARD(1, "inboard"),
    OUTBOARD(-1, "outboard");

    private final int sign;
    private final String word;

    Direction(int sign, String word) {
        this.sign = sign;
        this.word = word;
    }

    /** +1 inboard, −1 outboard: the sign of an angle change in this direction. */
    public int sign() {
        return sign;
    }

    /** {@code inboard} or {@code outboard}, as in files. */
    public String word() {
        return word;
    }

    public Direction opposite() {
        return this == INBOARD ? OUTBOARD : INBOARD;
    }

    /** The direction of a change; zero counts as inboard. */
    public static Direction of(double change) {
        return change < 0 ? OUTBOARD : INBOARD;
    }
}
