package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.judge.Measurement;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Shift;

/**
 * Traces of shifts, aligned at their requests: for overlays and for the signature of the current. Reads each track once;
 * memory follows the number of rows, not of shifts.
 */
public final class Traces {
    /** Spacing of a trace. */
    static final double STEP_S = 0.010;
    /** Traces end here, whatever the shift. */
    private static final double LONGEST_S = 3.0;
    /** After the shaft settled. */
    private static final double AFTER_S = 0.2;
    /** More strands of a row than this hide each other. */
    private static final int MOST_STRANDS = 24;

    private static final int POINTS = (int) Math.round(LONGEST_S / STEP_S) + 1;

    private final Map<List<Integer>, Row> rows = new LinkedHashMap<>();
    private final Map<String, Current> currents = new LinkedHashMap<>();

    private Traces() {}

    /** What is drawn. */
    public record Drawn(List<Overlay> overlays, List<CurrentSignature> signatures) {
        public Drawn {
            overlays = List.copyOf(overlays);
            signatures = List.copyOf(signatures);
        }
    }

    /**
     * Reads the tracks.
     *
     * @param inputs as learned from; their sources still open
     * @param learned what was learned from them
     */
    public static Drawn of(List<LearningInput> inputs, Learned learned) {
        Traces traces = new Traces();
        for (int i = 0; i < inputs.size(); i++) {
            int lift = learned.sources().get(i).firstSprocket() - 1;
            traces.read(i, lift, inputs.get(i).measured());
        }
        List<Overlay> overlays = traces.rows.values().stream()
                .map(row -> new Overlay(row.from, row.to, STEP_S, row.strands, row.more))
                .toList();
        List<CurrentSignature> signatures = traces.currents.values().stream()
                .filter(current -> current.shifts > 1)
                .map(Current::signature)
                .toList();
        return new Drawn(overlays, signatures);
    }

    private static final class Row {
        private final int from;
        private final int to;
        private final List<Overlay.Strand> strands = new ArrayList<>();
        private int more;

        Row(int from, int to) {
            this.from = from;
            this.to = to;
        }
    }

    /** Running means over shifts, Welford. */
    private static final class Current {
        private final Direction direction;
        private final boolean past;
        private final int[] n = new int[POINTS];
        private final double[] mean = new double[POINTS];
        private final double[] squares = new double[POINTS];
        private int shifts;

        Current(Direction direction, boolean past) {
            this.direction = direction;
            this.past = past;
        }

        void add(double[] trace) {
            shifts++;
            for (int i = 0; i < POINTS; i++) {
                if (!Double.isNaN(trace[i])) {
                    n[i]++;
                    double off = trace[i] - mean[i];
                    mean[i] += off / n[i];
                    squares[i] += off * (trace[i] - mean[i]);
                }
            }
        }

        CurrentSignature signature() {
            int last = POINTS;
            while (last > 0 && n[last - 1] < 2) {
                last--;
            }
            double[] means = new double[last];
            double[] sds = new double[last];
            for (int i = 0; i < last; i++) {
                means[i] = n[i] < 2 ? Double.NaN : mean[i];
                sds[i] = n[i] < 2 ? Double.NaN : Math.sqrt(squares[i] / (n[i] - 1));
            }
            return new CurrentSignature(direction, past, shifts, STEP_S, means, sds);
        }
    }

    private void read(int source, int lift, Measurement measured) {
        List<Shift> shifts = measured.table().shifts().stream()
                .filter(s -> s.cycle() > 0
                        && s.from() != s.to()
                        && s.get(Measure.REQUEST).number().isPresent())
                .toList();
        if (shifts.isEmpty()) {
            return;
        }
        double sign = measured.table().sense().equals("reversed") ? -1 : 1;
        double offset = measured.table().alignmentDeg().orElse(0);
        AngleBlock block = new AngleBlock(4096);
        int next = 0;
        Filling filling = null;
        try (AngleReader reader = measured.track().open()) {
            while (reader.next(block)) {
                for (int i = 0; i < block.size(); i++) {
                    double at = block.timeS[i];
                    while (next < shifts.size() && at >= request(shifts.get(next))) {
                        close(source, lift, filling);
                        filling = new Filling(shifts.get(next++));
                    }
                    if (filling != null) {
                        filling.add(block, i, sign * block.angleDeg[i] + offset);
                    }
                }
            }
        }
        close(source, lift, filling);
    }

    private static double request(Shift shift) {
        return shift.get(Measure.REQUEST).number().orElseThrow();
    }

    private void close(int source, int lift, @org.jspecify.annotations.Nullable Filling filling) {
        if (filling == null) {
            return;
        }
        Shift shift = filling.shift;
        int from = shift.from() + lift;
        int to = shift.to() + lift;
        Row row = rows.computeIfAbsent(List.of(from, to), key -> new Row(from, to));
        if (row.strands.size() < MOST_STRANDS) {
            row.strands.add(new Overlay.Strand(
                    source, shift.number(), SeenShift.heldBack(shift), Arrays.copyOf(filling.angle, filling.last + 1)));
        } else {
            row.more++;
        }
        SeenShift seen = new SeenShift(source, 0, from, to, shift);
        if (seen.learned() && filling.hasCurrent) {
            boolean past = seen.wentPast();
            currents.computeIfAbsent(shift.direction().word() + past, key -> new Current(shift.direction(), past))
                    .add(filling.current);
        }
    }

    /** One shift being read; the last sample in a step stands for it. */
    private static final class Filling {
        private final Shift shift;
        private final double requestS;
        private final double untilS;
        private final double startDeg;
        private final float[] angle = new float[POINTS];
        private final double[] current = new double[POINTS];
        private boolean ended;
        private boolean hasCurrent;
        private int last;

        Filling(Shift shift) {
            this.shift = shift;
            this.requestS = request(shift);
            OptionalDouble settled = number(shift.get(Measure.SETTLED));
            this.untilS = Math.min(LONGEST_S, settled.orElse(requestS + LONGEST_S) + AFTER_S - requestS);
            this.startDeg = number(shift.get(Measure.START)).orElse(Double.NaN);
            Arrays.fill(angle, Float.NaN);
            Arrays.fill(current, Double.NaN);
        }

        private static OptionalDouble number(Measured measured) {
            return measured.number();
        }

        void add(AngleBlock block, int i, double deg) {
            double since = block.timeS[i] - requestS;
            byte edge = block.edge[i];
            // where the clock stood still, nothing after it has a time since the request
            ended |= since > untilS || edge == AngleBlock.BREAK || (edge == AngleBlock.CLOCK_STOPPED && since > 0.05);
            if (ended || since < 0) {
                return;
            }
            int at = (int) Math.round(since / STEP_S);
            if (at >= POINTS) {
                return;
            }
            if (block.state[i] == AngleBlock.GOOD && !Double.isNaN(startDeg)) {
                angle[at] = (float) ((deg - startDeg) * shift.direction().sign());
                last = Math.max(last, at);
            }
            if (!Double.isNaN(block.currentA[i])) {
                current[at] = block.currentA[i];
                hasCurrent = true;
            }
        }
    }
}
