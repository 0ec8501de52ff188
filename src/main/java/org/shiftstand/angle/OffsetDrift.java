package org.shiftstand.angle;

import java.util.ArrayList;
import java.util.List;

/**
 * How the offsets of a Hall pair drift over a long record, beyond those of the correction: straight lines between the
 * centres of blocks, so that the angle has no steps. Before the first centre and behind the last the nearest line goes on
 * for half a block, and then stays.
 *
 * @param centres in time order; empty where the offsets stay
 * @param scatterBeforeDeg root mean square across the circle, taken for degrees of the electrical angle, of what one fit
 *     leaves of the motion; NaN where the offsets stay
 * @param scatterAfterDeg the same with the drift taken out
 */
public record OffsetDrift(List<Centre> centres, double scatterBeforeDeg, double scatterAfterDeg) {
    public static final OffsetDrift NONE = new OffsetDrift(List.of(), Double.NaN, Double.NaN);

    /**
     * Offsets at the centre of a block.
     *
     * @param timeS mean time of its motion
     * @param cosOffset to be added to that of the correction, counts or volts
     * @param sinOffset the same
     */
    public record Centre(double timeS, double cosOffset, double sinOffset) {}

    public OffsetDrift {
        centres = List.copyOf(centres);
    }

    public boolean isLearned() {
        return !centres.isEmpty();
    }

    /** Widest range of an offset over the record, counts or volts; 0 where they stay. */
    public double range() {
        var cos = centres.stream().mapToDouble(Centre::cosOffset).summaryStatistics();
        var sin = centres.stream().mapToDouble(Centre::sinOffset).summaryStatistics();
        return isLearned() ? Math.max(cos.getMax() - cos.getMin(), sin.getMax() - sin.getMin()) : 0;
    }

    OffsetDrift withScatter(double beforeDeg, double afterDeg) {
        return new OffsetDrift(centres, beforeDeg, afterDeg);
    }

    /** Takes the drift out of samples that come in time order. */
    Leveller leveller() {
        return new Leveller(withEnds());
    }

    private List<Centre> withEnds() {
        if (centres.size() < 2) {
            return centres;
        }
        var ends = new ArrayList<>(centres);
        int n = centres.size();
        ends.add(0, beyond(centres.get(1), centres.get(0)));
        ends.add(beyond(centres.get(n - 2), centres.get(n - 1)));
        return ends;
    }

    /** Half as far beyond {@code end} as {@code inner} is before it. */
    private static Centre beyond(Centre inner, Centre end) {
        return new Centre(
                end.timeS() + (end.timeS() - inner.timeS()) / 2,
                end.cosOffset() + (end.cosOffset() - inner.cosOffset()) / 2,
                end.sinOffset() + (end.sinOffset() - inner.sinOffset()) / 2);
    }

    /** Goes along the lines; allocates nothing. */
    static final class Leveller {
        private final double[] timeS;
        private final double[] cosOffset;
        private final double[] sinOffset;
        private int at;

        private Leveller(List<Centre> points) {
            timeS = points.stream().mapToDouble(Centre::timeS).toArray();
            cosOffset = points.stream().mapToDouble(Centre::cosOffset).toArray();
            sinOffset = points.stream().mapToDouble(Centre::sinOffset).toArray();
        }

        /** In place, the first {@code n} samples. */
        void level(double[] times, double[] cos, double[] sin, int n) {
            if (timeS.length < 2) {
                return;
            }
            for (int i = 0; i < n; i++) {
                double t = times[i];
                while (at + 2 < timeS.length && t > timeS[at + 1]) {
                    at++;
                }
                double part = (t - timeS[at]) / (timeS[at + 1] - timeS[at]);
                part = part < 0 ? 0 : part > 1 ? 1 : part;
                cos[i] -= cosOffset[at] + part * (cosOffset[at + 1] - cosOffset[at]);
                sin[i] -= sinOffset[at] + part * (sinOffset[at + 1] - sinOffset[at]);
            }
        }
    }
}
