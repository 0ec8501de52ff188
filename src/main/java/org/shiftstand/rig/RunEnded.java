package org.shiftstand.rig;

/** Carries the end of a run out of the loop; not an error by itself. */
final class RunEnded extends RuntimeException {
    private static final long serialVersionUID = 1;

    private final transient RunEnd end;

    RunEnded(RunEnd end) {
        super(end.reason(), null, false, false);
        this.end = end;
    }

    RunEnd end() {
        return end;
    }
}
