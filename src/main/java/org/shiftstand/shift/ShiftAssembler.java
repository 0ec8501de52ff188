package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.capture.Request;

/**
 * Puts rests together to shifts while the samples come, measures each as soon as it is complete, and keeps no more of
 * the trace than the shifts that are still open need.
 *
 * <p>Where requests are known they alone decide what belongs to a shift. Without them a motion that opposes the one
 * before and is less than {@value Chain#RETURN_RATIO} of it is its return; every other motion is a shift. With a profile
 * motions that may belong together are measured in each grouping, and the landings decide later.
 */
final class ShiftAssembler implements RestFinder.Listener {
    /** A chain of more motions than this is cut, so that the ways to group it stay few. */
    private static final int LONGEST_CHAIN = 5;

    /** A shaft that moves longer than this never settled. */
    static final double LONGEST_MOTION_S = 5;
    /** The rest before a motion of which samples are kept, seconds. */
    private static final double TAIL_S = 1;
    /** A capture that ends sooner than this after a landing may have cut its return off. */
    private static final double RETURN_MAY_FOLLOW_S = 2;
    /** A request so close to the capture's end could not show whether it moves. */
    private static final double TOO_LATE_S = 0.5;

    private final Trace trace;
    private final RestFinder finder;
    private final Groups groups;
    private final LongRests longRests;
    private final FinishedShifts finished;
    private final boolean marked;
    private final boolean profiled;
    private final boolean gated;
    private final double bandDeg;
    private final int tailSamples;
    private final int longestTrace;

    /** The rest before the open shift, where there is one, and those reached since. */
    private final List<Rest> rests = new ArrayList<>();

    private boolean startsAtRest;
    private boolean doubtfulOpen;
    private boolean doubtfulNext;
    private boolean open;
    /** How far each further motion of the open shift goes back, relative to the one before. */
    private final List<Double> ratios = new ArrayList<>();

    private int from;
    private Optional<Request> request = Optional.empty();
    private final List<Waiting> waiting = new ArrayList<>();
    private boolean moving;
    private int leftAt;
    private boolean swallowing;
    /** When the supply was cut while the shaft rested in the open shift, or the samples ended; NaN where neither. */
    private double seenUntilS = Double.NaN;

    private boolean cutAtRest;
    private final SensingWindow window = new SensingWindow();

    ShiftAssembler(
            Trace trace,
            ShiftOptions options,
            double intervalS,
            boolean marked,
            boolean profiled,
            boolean gated,
            ShiftMeasurer measurer,
            Consumer<Chain> out) {
        this.trace = trace;
        this.finder = new RestFinder(trace, options.bandDeg(), options.dwellS(), intervalS, this);
        this.groups = new Groups(trace, measurer, options.bandDeg(), profiled);
        this.finished = new FinishedShifts(measurer, out);
        this.marked = marked;
        this.profiled = profiled;
        this.gated = gated;
        this.bandDeg = options.bandDeg();
        this.tailSamples = (int) Math.max(16, Math.min(1 << 20, Math.ceil(TAIL_S / intervalS)));
        this.longRests = new LongRests(trace, finder, window, tailSamples);
        this.longestTrace = (int) Math.max(1 << 15, Math.min(1 << 24, Math.ceil(60 / intervalS)));
    }

    Trace trace() {
        return trace;
    }

    RestFinder rests() {
        return finder;
    }

    // ---- what the scan tells

    /** Samples were appended. */
    void look() {
        finder.scan();
        if (moving
                && !swallowing
                && trace.timeS[trace.size - 1] - trace.timeS[Math.max(0, leftAt)] > LONGEST_MOTION_S) {
            neverRests();
        }
        trim();
    }

    /** Leaves out what lies inside a long rest without copying it; returns where to go on. */
    int skip(AngleBlock block, int from, int to) {
        Rest rest = finder.last();
        boolean worthIt = rest != null && finder.resting() && to - from > tailSamples;
        return rest == null || !worthIt ? from : longRests.skip(block, from, to, rest, headEnd(rest));
    }

    void request(Request next) {
        cutOrRequest(Optional.of(next));
    }

    void supplyCut() {
        cutOrRequest(Optional.empty());
    }

    void poweredUp() {
        window.opens(trace.size, moving);
    }

    void windowClosed() {
        window.closes(trace, gated && !marked && !moving);
    }

    /**
     * No more samples follow.
     *
     * @param lastS the last sample
     * @param broken whether the run was broken off here and goes on later
     */
    void end(double lastS, boolean broken) {
        if (trace.size == 0) {
            return;
        }
        Span.Ending inside = broken ? Span.Ending.BROKEN_OFF : Span.Ending.CAPTURE_END;
        finder.ends();
        if (gated) {
            finder.windowEnds();
        }
        flushWaiting(Integer.MAX_VALUE);
        boolean rested = !moving;
        if (marked) {
            if (open) {
                boolean tooLate = request.isPresent()
                        && rests.size() <= (startsAtRest ? 1 : 0)
                        && lastS - request.get().timeS() < TOO_LATE_S;
                seenUntilS = cutAtRest ? seenUntilS : lastS;
                close(trace.size, rested && !tooLate ? Span.Ending.RESTED : inside);
            }
            return;
        }
        if (moving && !swallowing) {
            closeChain();
            open = true;
            from = Math.max(0, leftAt);
            close(trace.size, inside);
        } else {
            boolean chain = open;
            closeChain();
            if (chain && !rests.isEmpty()) {
                seen(rests.get(0), lastS, true);
            }
            emitStill();
        }
    }

    // ---- what the rest finder tells

    @Override
    public boolean sameRest(Rest before, int first) {
        boolean own = !rests.isEmpty() && rests.get(rests.size() - 1) == before;
        boolean askedSince = marked && open && from > before.last;
        boolean tried = !marked && gated && window.triedSince(trace, before, first, bandDeg);
        boolean same = own && !askedSince && waiting.isEmpty() && !tried;
        if (same) {
            moving = false;
        }
        return same;
    }

    @Override
    public void onLeave(int index) {
        moving = true;
        leftAt = index;
        window.left();
    }

    @Override
    public void onRest(Rest rest) {
        cutAtRest = false; // it went on, so that the cut left out nothing
        boolean first = rests.isEmpty() && !open;
        moving = false;
        boolean cut = flushWaiting(rest.first);
        if (swallowing || cut && !open) {
            swallowing = false;
            rests.clear();
            rests.add(rest);
            startsAtRest = !open;
            openLater();
            return;
        }
        if (first && rest.first > 0 && !marked) {
            // the capture started in a motion
            open = true;
            startsAtRest = false;
            from = 0;
            rests.add(rest);
            return;
        }
        if (marked) {
            restMarked(rest);
        } else {
            restUnmarked(rest, first);
        }
    }

    // ---- with requests

    private void cutOrRequest(Optional<Request> next) {
        if (next.isPresent() && !marked) {
            return;
        }
        finder.scan();
        if (moving) {
            waiting.add(new Waiting(next, trace.size));
        } else if (next.isPresent()) {
            if (open) {
                close(trace.size, Span.Ending.RESTED);
            }
            open(next, trace.size);
        } else if (marked && open && !cutAtRest && trace.size > 0) {
            cutAtRest = true;
            seenUntilS = trace.timeS[trace.size - 1];
        }
    }

    private void restMarked(Rest rest) {
        if (!open && rests.isEmpty()) {
            rests.add(rest);
            startsAtRest = true;
            if (rest.first > 0) {
                // a motion before the first request: the capture starts inside a shift
                rests.clear();
                open = true;
                startsAtRest = false;
                from = 0;
                request = Optional.empty();
                rests.add(rest);
            }
        } else if (!open) {
            // moved without being asked: a shift whose request is not known
            open = true;
            from = Math.max(0, leftAt);
            request = Optional.empty();
            rests.add(rest);
        } else {
            startsAtRest |= rests.isEmpty() && rest.first <= from;
            rests.add(rest);
        }
        openLater();
    }

    /** Requests that came after the rest had begun, before the dwell was over. */
    private void openLater() {
        while (!waiting.isEmpty()) {
            Waiting next = waiting.remove(0);
            if (next.request.isPresent()) {
                if (open) {
                    close(next.index, Span.Ending.RESTED);
                }
                open(next.request, next.index);
            }
        }
    }

    /** Ends shifts that were interrupted before sample {@code restFirst}; whether one was by a cut. */
    private boolean flushWaiting(int restFirst) {
        boolean cut = false;
        while (!waiting.isEmpty() && waiting.get(0).index <= restFirst) {
            Waiting next = waiting.remove(0);
            boolean byCut = next.request.isEmpty();
            if (!marked) {
                closeChain();
                open = true;
                from = Math.max(0, leftAt);
            }
            if (open && !swallowing) {
                close(next.index, byCut ? Span.Ending.SUPPLY_CUT : Span.Ending.NEXT_REQUEST);
            }
            open = false;
            rests.clear();
            startsAtRest = false;
            swallowing = false;
            cut = byCut;
            if (next.request.isPresent()) {
                open(next.request, next.index);
                startsAtRest = false;
            }
        }
        return cut;
    }

    private void open(Optional<Request> next, int index) {
        open = true;
        request = next;
        from = index;
        if (moving) {
            startsAtRest = false;
            rests.clear();
        } else {
            keepLastRest();
        }
    }

    // ---- without requests

    private void restUnmarked(Rest rest, boolean first) {
        if (first) {
            rests.add(rest);
            startsAtRest = true;
            return;
        }
        int n = rests.size();
        Rest before = rests.get(n - 1);
        double motion = rest.levelDeg - before.levelDeg;
        boolean returns = false;
        if (open && n >= 2) {
            double ratio = -motion / (before.levelDeg - rests.get(n - 2).levelDeg);
            boolean mayReturn = ratio > 0 && Math.abs(motion) >= bandDeg;
            returns = mayReturn && ratio < Chain.RETURN_RATIO
                    || mayReturn && ratio < 1 && profiled && startsAtRest && n <= LONGEST_CHAIN;
            if (returns) {
                ratios.add(ratio);
            } else if (mayReturn && ratio <= Chain.DOUBTFUL_TO && !profiled) {
                doubtfulNext = true;
            }
        }
        if (!returns) {
            boolean landed = open;
            closeChain();
            if (landed) {
                groups.mayHideReturn(finished.latest(), before, rest);
            }
            emitStill();
            open = true;
            doubtfulOpen = doubtfulNext;
            doubtfulNext = false;
            from = Math.max(0, Math.min(leftAt, rest.first));
        }
        window.forgetStill();
        rests.add(rest);
    }

    private void closeChain() {
        if (open) {
            int end = moving ? Math.max(0, leftAt) : trace.size;
            Rest last = rests.isEmpty() ? null : rests.get(rests.size() - 1);
            int to = last == null ? end : Math.min(end, groups.quietEnd(last));
            if (ratios.isEmpty() || !startsAtRest || rests.size() < 3) {
                close(to, Span.Ending.RESTED);
            } else {
                closeGroups(to);
            }
        }
        keepLastRest();
    }

    private void closeGroups(int to) {
        finished.add(groups.measure(rests, ratios, to), doubtful());
        ratios.clear();
        open = false;
        request = Optional.empty();
    }

    private void emitStill() {
        Optional<Span> still = window.takeStill(rests);
        still.ifPresent(this::emit);
    }

    // ---- closing

    private void close(int to, Span.Ending ending) {
        Rest before = startsAtRest && !rests.isEmpty() ? rests.get(0) : null;
        List<Rest> reached = new ArrayList<>(before == null ? rests : rests.subList(1, rests.size()));
        double requestS =
                request.map(Request::timeS).orElseGet(() -> before == null ? Double.NaN : groups.powerUpBefore(before));
        int begin = request.isPresent() || before == null ? from : Math.max(0, before.last);
        emit(new Span(before, reached, begin, to, request, requestS, ending));
        if (marked && ending == Span.Ending.RESTED && !reached.isEmpty()) {
            seen(reached.get(reached.size() - 1), seenUntilS, false);
        }
        seenUntilS = Double.NaN;
        cutAtRest = false;
        open = false;
        doubtfulOpen = false;
        ratios.clear();
        request = Optional.empty();
    }

    /** Says how long a landing was seen, where a return may have been missed after it. */
    private void seen(Rest landing, double untilS, boolean atCaptureEnd) {
        double seenS = untilS - trace.timeS[Math.max(0, landing.first)];
        if (seenS < RETURN_MAY_FOLLOW_S) {
            finished.seen(seenS, atCaptureEnd, cutAtRest);
        }
    }

    private boolean doubtful() {
        return !profiled && (doubtfulOpen || ratios.stream().anyMatch(r -> r >= Chain.DOUBTFUL_FROM));
    }

    private void emit(Span span) {
        finished.add(span, doubtful());
    }

    private void neverRests() {
        if (!marked) {
            closeChain();
            open = true;
            from = Math.max(0, leftAt);
        }
        if (!flushWaiting(trace.size) && open) {
            close(trace.size, Span.Ending.NEVER_RESTED);
        }
        rests.clear();
        startsAtRest = false;
        swallowing = true;
    }

    private void keepLastRest() {
        if (rests.size() > 1) {
            Rest last = rests.get(rests.size() - 1);
            rests.clear();
            rests.add(last);
        }
        startsAtRest = !rests.isEmpty();
    }

    // ---- memory

    /** Where the samples end that are kept of a rest's beginning. */
    private int headEnd(Rest rest) {
        boolean askedInIt = open && from > Math.max(0, rest.first) && from < trace.size && rests.size() == 1;
        return askedInIt ? from : longRests.headEnd(rest);
    }

    private void trim() {
        if (trace.size < 4 * tailSamples) {
            return;
        }
        Rest rest = finder.last();
        if (finder.resting() && rest != null) {
            int head = headEnd(rest);
            if (trace.size - head > 3 * tailSamples) {
                longRests.elide(rest, head, trace.size - tailSamples);
            }
        }
        int first = oldestNeeded();
        if (first > trace.size / 2) {
            drop(first);
        }
        if (trace.size > longestTrace && finder.resting() && open && rests.size() > 1) {
            close(trace.size, Span.Ending.RESTED);
            keepLastRest();
        }
    }

    private int oldestNeeded() {
        if (swallowing) {
            return Math.max(0, trace.size - 2 * tailSamples);
        }
        if (rests.isEmpty()) {
            return open ? Math.max(0, from - 1) : 0;
        }
        int first = Math.max(0, rests.get(0).first);
        // one that was moving at its request begins before its first rest
        return open && !startsAtRest ? Math.max(0, Math.min(first, from - 1)) : first;
    }

    private void drop(int n) {
        trace.drop(n);
        finder.drop(n);
        for (Rest r : rests) {
            r.first -= n;
            r.last -= n;
        }
        waiting.forEach(w -> w.index -= n);
        from -= n;
        leftAt -= n;
        window.drop(n);
    }
}
