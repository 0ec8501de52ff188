package org.shiftstand.faults;

import java.util.OptionalDouble;
import java.util.OptionalLong;

/**
 * What a trial showed that was survived.
 *
 * @param lost samples that the rig took before the fault and that the record lacks; empty where nobody can know
 * @param onTheWay how many of them were still on their way: in a block that was not yet full, or on the line
 * @param supplyOffS from the fault to the supply being off, by the rig's own log; empty where there is none
 * @param noticedS from the fault to the host's own end of the run; empty where it says nothing
 * @param remark what else is worth a line, by which trials are counted; empty for nothing
 */
record Seen(
        OptionalLong lost, OptionalLong onTheWay, OptionalDouble supplyOffS, OptionalDouble noticedS, String remark) {
    static Seen survived() {
        return new Seen(OptionalLong.empty(), OptionalLong.empty(), OptionalDouble.empty(), OptionalDouble.empty(), "");
    }

    Seen withLost(long samples, long ofThemOnTheWay) {
        return new Seen(OptionalLong.of(samples), OptionalLong.of(ofThemOnTheWay), supplyOffS, noticedS, remark);
    }

    Seen withSupplyOff(double seconds) {
        return new Seen(lost, onTheWay, OptionalDouble.of(seconds), noticedS, remark);
    }

    Seen withNoticed(double seconds) {
        return new Seen(lost, onTheWay, supplyOffS, OptionalDouble.of(seconds), remark);
    }

    Seen withRemark(String text) {
        return new Seen(lost, onTheWay, supplyOffS, noticedS, text);
    }
}
