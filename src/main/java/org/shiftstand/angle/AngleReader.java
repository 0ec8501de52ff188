package org.shiftstand.angle;

/** One pass over an angle track. Not thread-safe. */
public interface AngleReader extends AutoCloseable {
    /**
     * Fills the block with the next samples.
     *
     * @return false at the end, with {@code block.size() == 0}
     */
    boolean next(AngleBlock block);

    @Override
    void close();
}
