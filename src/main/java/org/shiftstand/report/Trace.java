package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
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

    /** Stretches without an angle, in time order; neighbours with one reason are one stretch. */
    List<Absence> absences() {
        List<Absence> found = new ArrayList<>();
        for (int i = 0; i < size; i++) {
            if (i > 0 && !breakBefore(i).isEmpty()) {
                join(found, new Absence(timeS[i - 1], timeS[i], breakBefore(i)));
            }
            if (!good(i)) {
                double from = i > 0 ? timeS[i - 1] : timeS[i];
                double to = i + 1 < size ? timeS[i + 1] : timeS[i];
                join(found, new Absence(from, to, state[i] == AngleBlock.FAULT ? "sensor fault" : "sensors off"));
            }
        }
        return found;
    }

    private static void join(List<Absence> found, Absence next) {
        int last = found.size() - 1;
        if (last >= 0
                && found.get(last).reason().equals(next.reason())
                && next.fromS() <= found.get(last).toS()) {
            double to = Math.max(found.get(last).toS(), next.toS());
            found.set(last, new Absence(found.get(last).fromS(), to, next.reason()));
        } else {
            found.add(next);
        }
    }

    /**
     * A stretch without an angle.
     *
     * @param fromS last good instant before it, seconds
     * @param toS first good instant after it, seconds
     * @param reason why, in two words
     */
    record Absence(double fromS, double toS, String reason) {}

    /** What stands between this sample and the one before it; empty for neighbours. */
    String breakBefore(int i) {
        return switch (edge[i]) {
            case AngleBlock.GAP -> "samples missing";
            case AngleBlock.WINDOW -> "sensors off";
            case AngleBlock.CLOCK_STOPPED -> "clock stopped";
            case AngleBlock.AMBIGUOUS -> "turn not known";
            case AngleBlock.BREAK -> "run broken off";
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
