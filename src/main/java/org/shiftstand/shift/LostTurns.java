package org.shiftstand.shift;

import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;

/** Finds shifts whose whole turns were lost unseen: landings that miss every nominal after the shaft was found elsewhere. */
final class LostTurns {
    private final List<RawShift> raw;
    private final Numbering numbering;
    private final Parts parts;
    private final Turns.Anchored anchored;
    private final double bandDeg;

    /** @param raw all shifts, in time order */
    LostTurns(List<RawShift> raw, Numbering numbering, Parts parts, Turns.Anchored anchored, double bandDeg) {
        this.raw = raw;
        this.numbering = numbering;
        this.parts = parts;
        this.anchored = anchored;
        this.bandDeg = bandDeg;
    }

    /**
     * Indices from the first of two landings in a row that miss every nominal by more than a third of a pitch, after the shaft
     * was found elsewhere than it was left, to the next break: then it may have turned by more than half a turn unseen, or
     * homing may have ended elsewhere than before the break. A landing that was reached in full view from where the last
     * one was is where it is, however far from nominal.
     */
    Set<Integer> indices() {
        Set<Integer> lost = new TreeSet<>();
        int to = 0;
        for (int from = 0; from < raw.size() && numbering.aligned(); from = to) {
            to = endOfPart(from);
            int last = raw.get(to - 1).brokenOff ? to - 1 : to;
            boolean behindBreak = from > 0;
            for (int i = Math.max(1, from); i < last; i++) {
                boolean elsewhere = behindBreak || foundElsewhere(i);
                behindBreak &= parts.homing(raw.get(i));
                if (elsewhere && misses(i) && (i + 1 == last || misses(i + 1)) && misses(last - 1)) {
                    IntStream.range(i, to).forEach(lost::add);
                    break;
                }
            }
        }
        return lost;
    }

    private int endOfPart(int from) {
        int end = from;
        while (end < raw.size() && raw.get(end).part == raw.get(from).part) {
            end++;
        }
        return end;
    }

    private boolean foundElsewhere(int i) {
        return !(Math.abs(raw.get(i).startDeg - raw.get(i - 1).landingDeg) <= bandDeg); // also where unknown
    }

    private boolean misses(int i) {
        RawShift s = raw.get(i);
        if (Double.isNaN(s.landingDeg) || anchored.unplaced(s.landingDeg, s.landingStretch)) {
            return false;
        }
        double landing = numbering.place(s.landingDeg);
        int nearest = numbering.nearest(landing);
        Double position = numbering.positions().get(nearest);
        return position != null
                && Math.abs(landing - position) > numbering.halfPitch(nearest, landing > position ? 1 : -1) * 2 / 3;
    }
}
