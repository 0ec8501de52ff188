package org.shiftstand.learn;

/**
 * What the captures do not decide.
 *
 * @param what such as {@code overtravel 3→4}
 * @param why a sentence
 * @param moreShifts how many more shifts of that row would decide it; 0 where no number of them would
 */
public record Undecided(String what, String why, int moreShifts) {}
