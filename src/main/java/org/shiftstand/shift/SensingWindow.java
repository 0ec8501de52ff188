package org.shiftstand.shift;

import java.util.List;
import java.util.Optional;

/**
 * The sensing window that is open, and the last one in which the shaft stood still: without marks that is a shift that
 * was tried and missed.
 */
final class SensingWindow {
    private int opened = -1;
    private boolean left;
    private int stillFrom = -1;
    private int stillTo;
    private double stillS;

    /** The sensors are powered up just before sample {@code index}. */
    void opens(int index, boolean moving) {
        opened = index;
        left = moving;
    }

    /** The shaft leaves its rest. */
    void left() {
        left = true;
    }

    /** Whether it opened at this rest and the shaft went out of it by more than b before sample {@code first}: it tried to shift. */
    boolean triedSince(Trace trace, Rest rest, int first, double bandDeg) {
        if (opened < rest.first || opened < 0) {
            return false;
        }
        for (int i = rest.last + 1; i < first; i++) {
            if (Math.abs(trace.deg[i] - rest.levelDeg) > bandDeg) {
                return true;
            }
        }
        return false;
    }

    /** The sensors are off from the trace's end on; {@code counts} where a window without motion is to be told. */
    void closes(Trace trace, boolean counts) {
        if (counts && opened >= 0 && !left && trace.size > opened) {
            for (Trace.PowerUp p : trace.powerUps) {
                if (p.index == opened) {
                    stillFrom = opened;
                    stillTo = trace.size;
                    stillS = p.atS;
                }
            }
        }
        opened = -1;
    }

    void forgetStill() {
        stillFrom = -1;
    }

    /** The window without motion, as a span of its own; empty where there was none. */
    Optional<Span> takeStill(List<Rest> rests) {
        int from = stillFrom;
        forgetStill();
        if (from < 0 || rests.isEmpty() || stillTo <= from) {
            return Optional.empty();
        }
        Rest rest = rests.get(rests.size() - 1);
        return Optional.of(new Span(
                new Rest(Math.max(rest.first, from), stillTo - 1, rest.levelDeg),
                List.of(),
                from,
                stillTo,
                Optional.empty(),
                stillS,
                Span.Ending.RESTED));
    }

    void elided(int from, int to) {
        opened = shifted(opened, from, to);
        stillTo = shifted(stillTo, from, to);
        stillFrom = shifted(stillFrom, from, to);
    }

    private static int shifted(int index, int from, int to) {
        return index >= to ? index - (to - from) : Math.min(index, from);
    }

    void drop(int n) {
        opened = opened < 0 ? -1 : Math.max(0, opened - n);
        stillTo -= n;
        stillFrom = stillFrom < 0 ? -1 : Math.max(0, stillFrom - n);
    }
}
