package org.shiftstand.report;

import java.util.Arrays;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.shift.ShiftTable;

/** The samples of one stretch of a track, turned and shifted to the angles of the shift table. */
final class Trace {
    private static final int BLOCK = 4096;
    /** Longer stretches are cut here: half a minute at 4 kHz. */
    private static final int MOST = 120_000;

    private double[] timeS = new double[BLOCK];
    private double[] angleDeg = new double[BLOCK];
    private double[] currentA = new double[BLOCK];
    private byte[] state = new byte[BLOCK];
    private byte[] edge = new byte[BLOCK];
    private int size;

    private Trace() {}

    /** Samples from {@code fromS} to {@code toS}, both inside, seconds on the track's clock. */
    static Trace read(AngleTrack track, ShiftTable table, double fromS, double toS) {
        Trace trace = new Trace();
        double sign = table.sense().equals("reversed") ? -1 : 1;
        double offset = table.alignmentDeg().orElse(0);
        AngleBlock block = new AngleBlock(BLOCK);
        try (AngleReader reader = track.open(fromS)) {
            while (trace.size < MOST && reader.next(block) && block.timeS[0] <= toS) {
                for (int i = 0; i < block.size(); i++) {
                    if (block.timeS[i] >= fromS && block.timeS[i] <= toS && trace.size < MOST) {
                        trace.add(block, i, sign * block.angleDeg[i] + offset);
                    }
                }
            }
        }
        return trace;
    }

    private void add(AngleBlock block, int i, double deg) {
        if (size == timeS.length) {
            int room = size * 2;
            timeS = Arrays.copyOf(timeS, room);
            angleDeg = Arrays.copyOf(angleDeg, room);
            currentA = Arrays.copyOf(currentA, room);
            state = Arrays.copyOf(state, room);
            edge = Arrays.copyOf(edge, room);
        }
        timeS[size] = block.timeS[i];
        angleDeg[size] = deg;
        currentA[size] = block.currentA[i];
        state[size] = block.state[i];
        edge[size] = block.edge[i];
        size++;
    }

    int size() {
        return size;
    }

    double timeS(int i) {
        return timeS[i];
    }

    double angleDeg(int i) {
        return angleDeg[i];
    }

    /** NaN where not captured. */
    double currentA(int i) {
        return currentA[i];
    }

    boolean good(int i) {
        return state[i] == AngleBlock.GOOD;
    }

    /** Why there is no angle at this sample; empty where there is one. */
    String absence(int i) {
        return state[i] == AngleBlock.FAULT ? "sensor fault" : state[i] == AngleBlock.OFF ? "sensors off" : "";
    }

    /** What stands between this sample and the one before it; empty for neighbours. */
    String breakBefore(int i) {
        return switch (edge[i]) {
            case AngleBlock.GAP -> "samples missing";
            case AngleBlock.WINDOW -> "sensors off";
            case AngleBlock.CLOCK_STOPPED -> "clock stopped";
            case AngleBlock.AMBIGUOUS -> "turn not known";
            default -> "";
        };
    }

    /** Where the longest stay within {@code centre ± half} begins, seconds; NaN where there is none. */
    double stayBegins(double centre, double half) {
        double best = Double.NaN;
        double longest = 0;
        int first = -1;
        for (int i = 0; i < size; i++) {
            boolean inside = good(i) && Math.abs(angleDeg[i] - centre) <= half;
            if (inside && first < 0) {
                first = i;
            }
            if (inside && timeS[i] - timeS[first] > longest) {
                longest = timeS[i] - timeS[first];
                best = timeS[first];
            }
            if (!inside && good(i)) {
                first = -1;
            }
        }
        return best;
    }
}
