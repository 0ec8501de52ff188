package org.shiftstand.classification;

import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.shiftstand.sim.FaultKind;

/**
 * Draws a unit with one fault: how bad, in which shifts, how often. How bad begins just beyond the bound that the kind can
 * break and goes to gross; sizes are drawn evenly over their logarithm, so that most faults are slight.
 *
 * <p>A fault strikes everywhere, in one direction or in one pair; always, by chance, or in one cycle only.
 */
final class FaultyUnit {
    /** Times that the end-of-line procedure sweeps the cassette. */
    private static final int SWEEPS = 24;

    private final Demands demands;
    private final Draw draw;
    private final FaultKind kind;

    private FaultyUnit(FaultKind kind, long seed, Demands demands) {
        this.kind = kind;
        this.demands = demands;
        draw = new Draw(seed);
    }

    /** The unit as options of a simulated rig. */
    static String rig(FaultKind kind, long seed, Demands demands) {
        return "seed=" + seed + ",fault=" + kind.word() + new FaultyUnit(kind, seed, demands).drawn();
    }

    private String drawn() {
        return switch (kind) {
            case SPREAD -> amount(demands.atMost("landing-spread") + draw.logarithmic(1, 60)) + anywhere() + always();
            case BIAS -> bias();
            case DRIFT -> amount(draw.sign() * draw.logarithmic(250, 1500)) + anywhere() + always();
            case OVERTRAVEL_SHORT -> overtravelShort();
            case OVERTRAVEL_LONG -> overtravelLong();
            case OVERTRAVEL_MISSING -> overtravelMissing();
            case SHORT_HOLD ->
                amount(1000 * (nominalHold() - demands.atLeast("hold")) + draw.logarithmic(5, 400))
                        + anywhere()
                        + anyTime();
            case SLOW -> amount(draw.logarithmic(60, 400)) + anywhere() + always();
            case RINGING -> amount(demands.atMost("ringing") + draw.logarithmic(2, 75)) + anywhere() + anyTime();
            case LIMIT_CLOSE ->
                amount(Math.max(0, demands.atLeast("clearance") - draw.logarithmic(1, 60)))
                        + draw.one(List.of("", ",direction=inboard", ",direction=outboard"))
                        + oftenOrAlways();
            case MISSED -> anywhere() + anyTime();
            case DOUBLE ->
                amount(draw.whole(1, 2))
                        + pair(draw.one(
                                pairs().filter(p -> p[1] > 1 && p[1] < n()).toList()))
                        + anyTime();
            case SENSOR_DROPOUT -> amount(draw.whole(1, 60)) + anywhere() + anyTime();
            case LOST_FRAMES -> amount(draw.whole(1, 6)) + anywhere() + anyTime();
            case JAM -> amount(draw.between(5, 97)) + anywhere() + anyTime();
            case CREEP ->
                amount(draw.sign() * (demands.atMost("creep") + draw.logarithmic(1, 400))) + anywhere() + anyTime();
        };
    }

    /** A place that was taught wrongly, or a landing that is now and then far off. */
    private String bias() {
        if (draw.chance(0.7)) {
            return amount(draw.sign() * (demands.atMost("landing-bias") + draw.logarithmic(1, 120)))
                    + anywhere()
                    + always();
        }
        return amount(draw.sign() * (demands.atMost("landing-error") + draw.logarithmic(5, 150)))
                + anywhere()
                + oftenOrAlways();
    }

    private String overtravelShort() {
        // the simulator leaves 40 deg at least
        int[] pair = draw.one(pairs().filter(p -> demands.overtravelToLose(p[0], p[1]) > 1
                        && demands.profile().overtravelDeg(p[0], p[1]) - demands.overtravelToLose(p[0], p[1]) > 41)
                .toList());
        return amount(demands.overtravelToLose(pair[0], pair[1]) + draw.logarithmic(1, 150)) + pair(pair) + anyTime();
    }

    private String overtravelLong() {
        int[] pair = draw.one(pairs().toList());
        return amount(demands.overtravelToGain(pair[0], pair[1]) + draw.logarithmic(1, 120)) + pair(pair) + anyTime();
    }

    private String overtravelMissing() {
        int[] pair = draw.one(pairs().filter(p -> demands.overtravelToLose(p[0], p[1]) > 1
                        && demands.profile().overtravelDeg(p[0], p[1]) > 0)
                .toList());
        double nominal = demands.profile().overtravelDeg(pair[0], pair[1]);
        double percent = (demands.overtravelToLose(pair[0], pair[1]) + draw.logarithmic(1, nominal)) / nominal * 100;
        return amount(Math.min(100, percent)) + pair(pair) + anyTime();
    }

    private double nominalHold() {
        return demands.profile().holdS().orElseThrow();
    }

    private int n() {
        return demands.profile().sprockets();
    }

    private Stream<int[]> pairs() {
        return IntStream.range(1, n()).boxed().flatMap(i -> Stream.of(new int[] {i, i + 1}, new int[] {i + 1, i}));
    }

    private static String amount(double value) {
        return ",amount=" + Draw.text(value);
    }

    private static String pair(int[] pair) {
        return ",pair=" + pair[0] + "-" + pair[1];
    }

    private String anywhere() {
        return switch (draw.whole(1, 4)) {
            case 1 -> "";
            case 2 -> ",direction=" + draw.one(List.of("inboard", "outboard"));
            default -> pair(draw.one(pairs().toList()));
        };
    }

    private static String always() {
        return "";
    }

    private String oftenOrAlways() {
        return draw.chance(0.4) ? always() : ",rate=" + Draw.text(draw.logarithmic(0.02, 1));
    }

    /** Always, by chance, or in one cycle. */
    private String anyTime() {
        if (draw.chance(0.3)) {
            int cycle = draw.whole(1, SWEEPS);
            return ",from-cycle=" + cycle + ",to-cycle=" + cycle;
        }
        return oftenOrAlways();
    }
}
