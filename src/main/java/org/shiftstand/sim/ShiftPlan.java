package org.shiftstand.sim;

import java.util.EnumSet;
import java.util.Set;
import org.shiftstand.quantity.Direction;

/**
 * What the unit's controller is about to do in one shift, faults already in it. Filled by {@link ShiftPlanner}.
 */
final class ShiftPlan {
    final int number; // 1-based, in order of requests
    final int cycle;
    final int from;
    final int to;
    final Direction direction;

    int goesTo; // sprocket that the unit really makes for
    double landingDeg; // where it will aim to rest
    double overtravelDeg; // past the landing, in the direction of motion; 0 for none
    double holdS;
    double speedPart = 1; // of the supply that the bridge may use
    double overshootDeg; // beyond each stop, of a loop that rings
    double blockedPart = Double.NaN; // of the way, where the shaft is blocked; NaN for free
    boolean responds = true;
    int dropoutSamples;
    int lostFrames;
    double creepDeg; // positive inboard
    final Set<FaultKind> struck = EnumSet.noneOf(FaultKind.class);

    ShiftPlan(int number, int cycle, int from, int to, Direction direction) {
        this.number = number;
        this.cycle = cycle;
        this.from = from;
        this.to = to;
        this.direction = direction;
        goesTo = to;
    }
}
