package org.shiftstand.archive.run;

/**
 * One thing that judging again gives otherwise than the archive has it.
 *
 * @param where clause and group, or member of the result; or a file of the bag
 * @param archived what the archive says
 * @param again what the samples give
 */
public record Difference(String where, String archived, String again) {
    /** {@code clause landing-spread, sprocket 4 inboard, value: archived 12.1, from the samples 15.8}. */
    @Override
    public String toString() {
        return where + ": archived " + archived + ", from the samples " + again;
    }
}
