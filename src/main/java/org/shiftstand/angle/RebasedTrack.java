package org.shiftstand.angle;

import java.util.List;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;

/** A track with electrical turns added from some instants on. */
final class RebasedTrack implements AngleTrack {
    private final AngleTrack track;
    private final List<Rebase> rebases;

    /** @param rebases in time order */
    RebasedTrack(AngleTrack track, List<Rebase> rebases) {
        this.track = track;
        this.rebases = rebases;
    }

    @Override
    public AngleReader open() {
        return new Reader(track.open());
    }

    @Override
    public AngleReader open(double fromS) {
        return new Reader(track.open(fromS));
    }

    @Override
    public Correction correction() {
        return track.correction();
    }

    @Override
    public SampleSource.Channels channels() {
        return track.channels();
    }

    @Override
    public double intervalS() {
        return track.intervalS();
    }

    @Override
    public List<Request> requests() {
        return track.requests();
    }

    @Override
    public List<Double> supplyCuts() {
        return track.supplyCuts();
    }

    @Override
    public List<SampleSource.Break> breaks() {
        return track.breaks();
    }

    private final class Reader implements AngleReader {
        private final AngleReader in;
        private final double cycleDeg = cycleDeg();
        private int passed;

        Reader(AngleReader in) {
            this.in = in;
        }

        @Override
        public boolean next(AngleBlock block) {
            boolean more = in.next(block);
            for (int i = 0; i < block.size(); i++) {
                while (passed < rebases.size()
                        && block.timeS[i] > rebases.get(passed).boundaryS()) {
                    passed++;
                }
                block.angleDeg[i] +=
                        passed == 0 ? 0 : cycleDeg * rebases.get(passed - 1).turns();
            }
            return more;
        }

        @Override
        public void close() {
            in.close();
        }
    }
}
