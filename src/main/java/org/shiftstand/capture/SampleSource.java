package org.shiftstand.capture;

import java.util.List;

/**
 * Samples of one run, in time order, that can be read more than once: a spooled CSV capture, a run record, or an array.
 *
 * <p>Each {@link #open()} starts at the first sample. Memory is independent of the number of samples.
 */
public interface SampleSource extends AutoCloseable {
    SourceIdentity identity();

    /** Which channels the samples carry. */
    Channels channels();

    /** Nominal time between neighbouring samples, seconds: the median difference where nothing states it. */
    double intervalS();

    /** A new pass from the first sample. */
    SampleReader open();

    /**
     * A new pass that starts at a later sample; at the end where there are fewer.
     *
     * <p>Reads and drops the samples before unless the source can do better.
     *
     * @param fromSample samples left out, 0 for the first
     */
    default SampleReader open(long fromSample) {
        SampleReader reader = open();
        var dropped = new SampleBlock((int) Math.max(1, Math.min(4096, fromSample)));
        long left = fromSample;
        while (left >= dropped.capacity() && reader.next(dropped)) {
            left -= dropped.size();
        }
        var single = new SampleBlock(1);
        while (left > 0 && reader.next(single)) {
            left--;
        }
        return reader;
    }

    /** Marked or stamped requests, in time order; empty where the source has none. */
    List<Request> requests();

    /** Instants at which the supply was cut, seconds, in time order; none unless the source knows of some. */
    default List<Double> supplyCuts() {
        return List.of();
    }

    /**
     * What the source knows to be missing or damaged, such as a block that was lost on the link; in time order. Missing
     * rows that only the times tell are not listed here: the angle track finds them. None unless the source knows of some.
     */
    default List<Gap> gaps() {
        return List.of();
    }

    /**
     * Where the run was broken off and gone on with later: the program or the rig was away, and the unit without supply. What
     * the shaft did in between is not known, so that no shift, rest or duration spans a break and the angle after it may be off
     * by whole turns. In time order; listed nowhere among {@link #gaps()}.
     */
    default List<Break> breaks() {
        return List.of();
    }

    /** What a reader should be told once: unknown columns kept aside, a last line cut short. */
    List<String> notices();

    @Override
    void close();

    /**
     * Which channels there are.
     *
     * @param hallPower whether each sample says if the sensors were powered
     * @param window whether each sample carries the number of its sensor power-up
     * @param current whether the supply current is measured
     * @param supply whether the supply voltage is measured
     */
    record Channels(boolean hallPower, boolean window, boolean current, boolean supply) {}

    /**
     * A stretch that should hold samples and holds none.
     *
     * @param fromS last instant before it, seconds
     * @param toS first instant after it, seconds
     * @param samples how many are missing
     * @param cause what is known, such as {@code lost block}
     */
    record Gap(double fromS, double toS, long samples, String cause) {}

    /**
     * A break in a run.
     *
     * @param fromS last sample before it, seconds
     * @param toS first sample after it, seconds
     * @param cause what is known, such as {@code resumed after the program was gone}
     */
    record Break(double fromS, double toS, String cause) {
        /** A sample later than this is behind the break, one not later is before it: the middle, so that no digit decides. */
        public double boundaryS() {
            return fromS + (toS - fromS) / 2;
        }
    }
}
