package org.shiftstand.capture;

/** One pass over the samples of a source. Not thread-safe. */
public interface SampleReader extends AutoCloseable {
    /**
     * Fills the block with the next samples, at most {@link SampleBlock#capacity()}.
     *
     * @return false at the end, with {@code block.size() == 0}
     */
    boolean next(SampleBlock block);

    @Override
    void close();
}
