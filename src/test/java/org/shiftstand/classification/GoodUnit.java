package org.shiftstand.classification;

import java.util.List;

/**
 * Draws a unit as a line turns them out: none alike, none beyond the spec. What the simulator has to vary is varied: spread
 * of landings, noise, shape of the Hall outputs, error after power-up, sensors gated or not, where the unit stands at first;
 * and each fault that a sound unit has a little of, one time in three, at up to about two thirds of what the spec allows.
 */
final class GoodUnit {
    private final Draw draw;
    private final StringBuilder rig = new StringBuilder();

    private GoodUnit(long seed) {
        draw = new Draw(seed);
    }

    /** The unit as options of a simulated rig. */
    static String rig(long seed) {
        GoodUnit unit = new GoodUnit(seed);
        unit.rig.append("seed=").append(seed);
        unit.sensorsAndSpread();
        unit.traces();
        return unit.rig.toString();
    }

    private void sensorsAndSpread() {
        rig.append(",start=").append(draw.whole(1, 10));
        rig.append(",gated=").append(draw.chance(0.8));
        rig.append(",landing-sd=").append(Draw.text(draw.between(5, 11)));
        rig.append(",noise=").append(Draw.text(draw.between(0.5, 4)));
        rig.append(",third-harmonic=").append(Draw.text(draw.between(0, 1)));
        rig.append(",wake-up=").append(Draw.text(draw.between(0, 15)));
    }

    private void traces() {
        trace("bias", draw.sign() * draw.between(0, 18), anywhere());
        trace("drift", draw.sign() * draw.between(0, 80), anywhere());
        trace("overtravel-short", draw.between(0, 20), outboardSmall());
        trace("overtravel-long", draw.between(0, 20), outboardSmall());
        trace("short-hold", draw.between(0, 55), anywhere());
        trace("slow", draw.between(0, 25), anywhere());
        trace("ringing", draw.between(1, 15), anywhere());
        trace("creep", draw.sign() * draw.between(0, 16), anywhere());
    }

    private void trace(String fault, double amount, String where) {
        if (draw.chance(1 / 3.0)) {
            rig.append(",fault=")
                    .append(fault)
                    .append(",amount=")
                    .append(Draw.text(amount))
                    .append(where);
            if (draw.chance(0.5)) {
                rig.append(",rate=").append(Draw.text(draw.between(0.05, 1)));
            }
        }
    }

    private String anywhere() {
        return draw.one(List.of("", ",direction=inboard", ",direction=outboard"));
    }

    /** Steps that have overtravel to vary, 30 deg or more from the bounds. */
    private String outboardSmall() {
        int from = draw.whole(2, 6);
        return ",pair=" + from + "-" + (from - 1);
    }
}
