package org.shiftstand.rig;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.judge.HallTrace;
import org.shiftstand.link.HostMessage;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** Supply as set and as measured, at two voltages and off, while nothing moves. */
final class SupplyProbe {
    // a supply takes so long to come to a new voltage; common practice, no published source
    private static final double SETTLE_S = 0.4;
    private static final double MEAN_S = 0.5;
    // what a drive's controller notices, about two per cent of a usual supply; common practice, no published source
    private static final double MOST_OFF_V = 0.15;
    // off is off once what is left in capacitors moves nothing
    private static final double OFF_V = 1;

    private final ProbeTalks talks;

    SupplyProbe(ProbeTalks talks) {
        this.talks = talks;
    }

    List<Finding> run() {
        if (talks.rig().supplyMicrovoltPerCount() == 0) {
            String why = "the rig states no scale for it: it does not measure the supply";
            return List.of(
                    new Finding(Check.SUPPLY_CHANNEL, Result.NOT_MEASURED, why),
                    new Finding(Check.SUPPLY, Result.NOT_MEASURED, why));
        }
        try (RigSession talk = talks.atRest()) {
            int lowMv = talks.lowMv();
            int highMv = talks.highMv();
            talk.arm(lowMv);
            double low = settled(talk);
            talk.command(new HostMessage.SupplySet(highMv));
            double high = settled(talk);
            talk.command(new HostMessage.Cut());
            double off = settled(talk);
            return List.of(channel(high, off), supply(lowMv / 1e3, low, highMv / 1e3, high));
        }
    }

    private double settled(RigSession talk) {
        talk.listen(SETTLE_S);
        int from = talk.trace().size();
        talk.listen(MEAN_S);
        return meanCounts(talk.trace(), from, 3) * talks.rig().supplyMicrovoltPerCount() / 1e6;
    }

    static double meanCounts(HallTrace trace, int from, int channel) {
        double sum = 0;
        for (int i = from; i < trace.size(); i++) {
            sum += trace.counts(i, channel);
        }
        return sum / (trace.size() - from);
    }

    private static Finding channel(double on, double off) {
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("on", ProbeTalks.rounded(on, Unit.V, 3));
        values.put("off", ProbeTalks.rounded(off, Unit.V, 3));
        boolean follows = Math.abs(off) < OFF_V && on > 2 * OFF_V;
        return ProbeTalks.finding(
                Check.SUPPLY_CHANNEL,
                follows,
                String.format(
                        Locale.ROOT,
                        follows
                                ? "%.2f V with the supply on, %.2f V within 0.9 s after the cut"
                                : "%.2f V with the supply on, %.2f V within 0.9 s after the cut: it does not follow the"
                                        + " supply; check its wiring and scale",
                        on,
                        off),
                values);
    }

    private static Finding supply(double lowSet, double low, double highSet, double high) {
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("set-low", ProbeTalks.rounded(lowSet, Unit.V, 3));
        values.put("measured-low", ProbeTalks.rounded(low, Unit.V, 3));
        values.put("set-high", ProbeTalks.rounded(highSet, Unit.V, 3));
        values.put("measured-high", ProbeTalks.rounded(high, Unit.V, 3));
        double worst = Math.max(Math.abs(low - lowSet), Math.abs(high - highSet));
        boolean near = worst <= MOST_OFF_V; // false for NaN: nothing was measured
        return ProbeTalks.finding(
                Check.SUPPLY,
                near,
                String.format(
                        Locale.ROOT,
                        "set %.2f V, measured %.2f V; set %.2f V, measured %.2f V%s",
                        lowSet,
                        low,
                        highSet,
                        high,
                        near ? "" : String.format(Locale.ROOT, "; at most %.2f V apart are expected", MOST_OFF_V)),
                values);
    }
}
