package org.shiftstand.learn;

/**
 * How many sprockets there are, and how sure that is. A capture shows no sprocket that was never asked for.
 *
 * @param seen sprockets landed on
 * @param turnsOutboard how often the sweep turned back at sprocket 1
 * @param turnsInboard how often it turned back at sprocket N
 * @param refusedOutboard requests beyond sprocket 1 that moved nothing: there the cassette ends
 * @param refusedInboard requests beyond sprocket N that moved nothing
 * @param confidence with which a further sprocket, were it used in half of the turns, would have been seen on both sides:
 *     1 − 0.5^turns of the side with fewer; 1 where both ends refused
 */
public record SprocketCount(
        int seen, int turnsOutboard, int turnsInboard, int refusedOutboard, int refusedInboard, double confidence) {}
