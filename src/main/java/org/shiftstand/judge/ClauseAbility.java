package org.shiftstand.judge;

import java.util.OptionalDouble;
import org.shiftstand.spec.Clause;

/**
 * Whether a rig can judge one clause, by what a gauge study found of it.
 *
 * @param clause on the measure that was studied
 * @param gauge standard deviation that the rig adds to the clause's value, in the measure's unit; empty where the study does
 *     not tell it
 * @param expanded its expanded uncertainty at 95 %, half an interval; likewise
 * @param width what the gauge is held against, in the measure's unit; empty where the clause leaves none
 * @param held what that width is, in words
 * @param share gauge's part of the width: six standard deviations, of a spread the spread of the gauge alone
 */
public record ClauseAbility(
        Clause clause,
        OptionalDouble gauge,
        OptionalDouble expanded,
        OptionalDouble width,
        String held,
        OptionalDouble share,
        Word word) {
    /** Up to this share a rig can judge (common practice, no published source). */
    public static final double CAN = 0.10;

    /** Up to this share it can do so marginally (common practice, no published source). */
    public static final double MARGINAL = 0.30;

    /** The answer. */
    public enum Word {
        CAN("can"),
        MARGINAL("marginal"),
        CANNOT("cannot"),
        /** The study does not tell. */
        NOT_TOLD("not told");

        private final String word;

        Word(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    static Word word(double share, boolean noRoom) {
        if (noRoom || share > MARGINAL) {
            return Word.CANNOT;
        }
        return share > CAN ? Word.MARGINAL : Word.CAN;
    }
}
