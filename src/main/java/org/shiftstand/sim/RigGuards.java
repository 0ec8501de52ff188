package org.shiftstand.sim;

import java.util.ArrayDeque;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.FaultCode;
import org.shiftstand.link.HostMessage.Limits;

/**
 * The guards that a rig enforces by itself, sample by sample while the supply is on: current for a time, mean current over a
 * time, supply window, on-time in the last hour, temperature. A limit of 0 is not asked for.
 */
final class RigGuards {
    private static final int USUAL_DECI_C = 250;
    private static final long MOST_DECI_C = 950;
    private static final long NANOS_PER_DECI_C = 10_000_000; // 10 degC a second

    /** The supply must be outside its window for so long: a dip at the start of motion is no fault. */
    private static final long WINDOW_NANOS = 20_000_000;

    private static final long HOUR_NANOS = 3_600_000_000_000L;
    private static final int MOST_AVERAGED = 1 << 20; // samples

    private final long hotFromNanos;
    private @Nullable Limits limits;
    private long aboveSinceNanos = Long.MAX_VALUE;
    private long outsideSinceNanos = Long.MAX_VALUE;
    private int[] averaged = new int[0]; // milliampere, a ring
    private int averagedAt;
    private int averagedCount;
    private long averagedSum;
    private final ArrayDeque<long[]> onTimes = new ArrayDeque<>(); // from, to; the last may be open
    private int valueAtFault;

    /** @param overheat from the first of these on it gets hot, for good */
    RigGuards(Due overheat) {
        hotFromNanos = overheat.nanos();
    }

    private int temperatureDeciC(long nanos) {
        return nanos < hotFromNanos
                ? USUAL_DECI_C
                : (int) Math.min(MOST_DECI_C, USUAL_DECI_C + (nanos - hotFromNanos) / NANOS_PER_DECI_C);
    }

    void forget() {
        limits = null;
    }

    boolean set() {
        return limits != null;
    }

    void set(Limits limits) {
        this.limits = limits;
    }

    /** Whether a supply may be set. */
    boolean allowsSupply(int milliVolts) {
        Limits l = limits;
        return l == null || !outside(l, milliVolts);
    }

    private static boolean outside(Limits l, int milliVolts) {
        boolean low = l.supplyMinMv() > 0 && milliVolts < l.supplyMinMv();
        boolean high = l.supplyMaxMv() > 0 && milliVolts > l.supplyMaxMv();
        return low || high;
    }

    void supplyOn(long nanos, long intervalNanos) {
        onTimes.add(new long[] {nanos, Long.MAX_VALUE});
        aboveSinceNanos = Long.MAX_VALUE;
        outsideSinceNanos = Long.MAX_VALUE;
        Limits l = limits;
        long samples = l == null ? 0 : l.averageMs() * 1_000_000L / intervalNanos;
        averaged = new int[(int) Math.min(MOST_AVERAGED, samples)];
        averagedAt = 0;
        averagedCount = 0;
        averagedSum = 0;
    }

    void supplyOff(long nanos) {
        long[] last = onTimes.peekLast();
        if (last != null) {
            last[1] = nanos;
        }
    }

    /** The value that goes with the fault found last: milliampere, 0.1 degC or 0. */
    int valueAtFault() {
        return valueAtFault;
    }

    /** The guard that this sample breaks, or null. */
    @Nullable
    FaultCode check(long nanos, int milliAmps, int milliVolts) {
        Limits l = limits;
        if (l == null) {
            return null;
        }
        boolean above = l.currentMa() > 0 && milliAmps > l.currentMa();
        aboveSinceNanos = !above ? Long.MAX_VALUE : Math.min(aboveSinceNanos, nanos);
        boolean tooLong = above && nanos - aboveSinceNanos >= l.currentMs() * 1_000_000L;
        if (tooMuchOnAverage(l, milliAmps) || tooLong) {
            valueAtFault = milliAmps;
            return FaultCode.OVER_CURRENT;
        }
        boolean outside = outside(l, milliVolts);
        outsideSinceNanos = !outside ? Long.MAX_VALUE : Math.min(outsideSinceNanos, nanos);
        valueAtFault = 0;
        if (outside && nanos - outsideSinceNanos >= WINDOW_NANOS) {
            return FaultCode.SUPPLY_WINDOW;
        }
        return standing(nanos);
    }

    /** What also holds without a sample, and may outlast a cut: on-time and temperature; null for neither. */
    @Nullable
    FaultCode standing(long nanos) {
        Limits l = limits;
        if (l == null) {
            return null;
        }
        if (l.temperatureDeciC() != 0 && temperatureDeciC(nanos) > l.temperatureDeciC()) {
            valueAtFault = temperatureDeciC(nanos);
            return FaultCode.TEMPERATURE;
        }
        return l.onTimeS() > 0 && onNanos(nanos) > l.onTimeS() * 1_000_000_000L ? FaultCode.ON_TIME : null;
    }

    private boolean tooMuchOnAverage(Limits l, int milliAmps) {
        if (l.averageMa() == 0 || averaged.length == 0) {
            return false;
        }
        averagedSum += milliAmps - averaged[averagedAt];
        averaged[averagedAt] = milliAmps;
        averagedAt = averagedAt + 1 == averaged.length ? 0 : averagedAt + 1;
        averagedCount = Math.min(averaged.length, averagedCount + 1);
        return averagedCount == averaged.length && averagedSum > (long) l.averageMa() * averaged.length;
    }

    private long onNanos(long nanos) {
        long from = nanos - HOUR_NANOS;
        while (!onTimes.isEmpty() && onTimes.peekFirst()[1] <= from) {
            onTimes.removeFirst();
        }
        long sum = 0;
        for (long[] on : onTimes) {
            sum += Math.min(nanos, on[1]) - Math.max(from, on[0]);
        }
        return sum;
    }
}
