package org.shiftstand.shift;

import java.util.List;
import java.util.function.IntFunction;
import java.util.stream.Stream;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.capture.Ahead;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;

/**
 * One pass over a track: hands good samples to the trace in runs of neighbours, and tells the assembler what happens
 * between them. Insides of long rests are looked at in place and never copied.
 */
final class TrackScan {
    private static final int BLOCK = 4096;
    /** Blocks that are decoded ahead, 240 kB each. */
    private static final int AHEAD = 16;
    /** Samples appended between two looks for a rest; any value gives the same table. */
    private static final int CHUNK = 512;

    /** So many good samples in a row with the sensors off are no chance. */
    private static final int CERTAINLY_GOOD = 16;

    private final AngleTrack track;
    private final IntFunction<ShiftAssembler> parts;
    private final List<SampleSource.Break> breaks;
    private final List<Request> requests;
    private final List<Double> cuts;
    private final boolean gated;
    private final boolean hasCurrent;
    private final double intervalS;

    /** Whether angles are good even where the sensors are said to be off: then bad ones are a fault. */
    private boolean alwaysSampled;

    /** What follows is new behind each break. */
    private Trace trace;

    private ShiftAssembler assembler;
    private RestFinder rests;
    private int part;
    private double breakS;
    private int goodUnpowered;
    private int nextRequest;
    private int nextCut;
    private byte pending = Trace.NONE;
    private boolean windowEnded;
    private boolean any;
    private boolean powered;
    private double lastS;
    private double lastA = Double.NaN;
    private double lastV = Double.NaN;
    private boolean sinceKept;

    /** @param parts gives an assembler with a trace of its own for each part of a run with breaks, from 0 on */
    TrackScan(AngleTrack track, IntFunction<ShiftAssembler> parts) {
        this.track = track;
        this.parts = parts;
        this.breaks = track.breaks();
        this.assembler = parts.apply(0);
        this.trace = assembler.trace();
        this.rests = assembler.rests();
        this.breakS = boundaryS();
        this.requests = track.requests();
        this.cuts = track.supplyCuts();
        this.gated = track.channels().hallPower() || track.channels().window();
        this.hasCurrent = track.channels().current();
        this.intervalS = track.intervalS();
    }

    void run() {
        List<AngleBlock> ring =
                Stream.generate(() -> new AngleBlock(BLOCK)).limit(AHEAD).toList();
        try (AngleReader reader = track.open()) {
            Ahead.run(ring, reader::next, this::scan);
        }
        assembler.end(lastS, part < breaks.size());
    }

    private void scan(AngleBlock block) {
        int n = block.size();
        int i = 0;
        while (i < n) {
            if (block.timeS[i] > breakS) {
                goOnBehindBreak(block.timeS[i]);
            }
            events(block.timeS[i], true);
            int j = i + 1;
            if (special(block, i)) {
                take(block, i, j);
                if (block.state[i] != AngleBlock.GOOD) {
                    j = blindUntil(block, i, n);
                    leaveOutAlso(block, i + 1, j);
                }
            } else {
                j = plainUntil(block, i, n);
                run(block, i, j);
                goodUnpowered = powered ? 0 : goodUnpowered + j - i;
            }
            alwaysSampled |= goodUnpowered >= CERTAINLY_GOOD;
            lastS = block.timeS[j - 1];
            lastA = block.currentA[j - 1];
            lastV = block.supplyV[j - 1];
            i = j;
        }
    }

    /** Nothing is carried over a break: what comes behind it is looked at as if the run began there. */
    private void goOnBehindBreak(double timeS) {
        events(breakS, false);
        assembler.end(lastS, true);
        while (timeS > breakS) {
            part++;
            breakS = boundaryS();
        }
        assembler = parts.apply(part);
        trace = assembler.trace();
        rests = assembler.rests();
        goodUnpowered = 0;
        pending = Trace.NONE;
        windowEnded = false;
        any = false;
        powered = false;
        lastA = Double.NaN;
        lastV = Double.NaN;
        sinceKept = false;
    }

    private double boundaryS() {
        return part < breaks.size() ? breaks.get(part).boundaryS() : Double.POSITIVE_INFINITY;
    }

    /**
     * Requests and cuts up to an instant.
     *
     * @param sampled whether samples go on there; where not, homing that nobody saw interrupts no shift
     */
    private void events(double timeS, boolean sampled) {
        while (nextRequest < requests.size() || nextCut < cuts.size()) {
            double requestS =
                    nextRequest < requests.size() ? requests.get(nextRequest).timeS() : Double.MAX_VALUE;
            double cutS = nextCut < cuts.size() ? cuts.get(nextCut) : Double.MAX_VALUE;
            if (Math.min(requestS, cutS) > timeS) {
                return;
            }
            if (cutS <= requestS) {
                nextCut++;
                assembler.supplyCut();
            } else {
                Request request = requests.get(nextRequest++);
                if (sampled || request.cycle().orElse(1) > 0) {
                    assembler.request(request);
                }
            }
        }
    }

    private double nextEventS() {
        double request =
                nextRequest < requests.size() ? requests.get(nextRequest).timeS() : Double.MAX_VALUE;
        return nextCut < cuts.size() ? Math.min(request, cuts.get(nextCut)) : request;
    }

    private boolean special(AngleBlock block, int i) {
        return !any
                || pending != Trace.NONE
                || block.state[i] != AngleBlock.GOOD
                || block.edge[i] != AngleBlock.NONE
                || block.powered[i] != powered;
    }

    private int plainUntil(AngleBlock block, int from, int n) {
        byte[] state = block.state;
        byte[] edge = block.edge;
        boolean[] power = block.powered;
        int end = beforeNextEvent(block, from, n);
        int j = from + 1;
        while (j < end && (state[j] | edge[j]) == 0 && power[j] == powered) {
            j++;
        }
        return j;
    }

    /** First sample after {@code from} that is not like it: without an angle, for the same cause, its neighbour before. */
    private int blindUntil(AngleBlock block, int from, int n) {
        byte[] state = block.state;
        byte[] edge = block.edge;
        boolean[] power = block.powered;
        byte same = state[from];
        boolean samePower = power[from];
        int end = beforeNextEvent(block, from, n);
        int j = from + 1;
        while (j < end && state[j] == same && edge[j] == AngleBlock.NONE && power[j] == samePower) {
            j++;
        }
        return j;
    }

    /** First sample after {@code from} with an event before it. */
    private int beforeNextEvent(AngleBlock block, int from, int n) {
        double until = Math.min(nextEventS(), breakS);
        if (block.timeS[n - 1] < until) {
            return n;
        }
        int end = from + 1;
        while (end < n && block.timeS[end] < until) {
            end++;
        }
        return end;
    }

    /** A sample with something before it, or without an angle. */
    private void take(AngleBlock block, int i, int j) {
        byte edge = block.edge[i];
        boolean good = block.state[i] == AngleBlock.GOOD;
        boolean missing = edge == AngleBlock.GAP
                || edge == AngleBlock.WINDOW && block.timeS[i] - lastS > 1.5 * intervalS
                || edge == AngleBlock.CLOCK_STOPPED;
        switch (edge) {
            case AngleBlock.WINDOW -> breakBy(Trace.WINDOW);
            case AngleBlock.CLOCK_STOPPED -> breakBy(Trace.CLOCK);
            case AngleBlock.GAP, AngleBlock.AMBIGUOUS -> breakBy(Trace.GAP);
            default -> {}
        }
        goodUnpowered = good && !block.powered[i] ? goodUnpowered + j - i : 0;
        if (block.state[i] == AngleBlock.OFF && !alwaysSampled) {
            breakBy(Trace.WINDOW);
        } else if (!good) {
            // the first samples after a power-up may still be waking
            pending = windowEnded ? pending : (byte) Math.max(pending, Trace.FAULT);
        }
        power(block, i, missing, good);
        if (!good) {
            leaveOut(block, i);
            any = true;
            return;
        }
        if (trace.size > 0 && windowEnded && (pending == Trace.WINDOW || pending == Trace.CLOCK)) {
            rests.windowStarts();
        }
        windowEnded = false;
        byte gap = any && trace.size > 0 ? pending : Trace.NONE;
        if (sinceKept) {
            leaveOut(block, i);
            sinceKept = false;
        }
        any = true;
        pending = Trace.NONE;
        trace.append(block, i, j, gap);
        assembler.look();
    }

    private void breakBy(byte kind) {
        boolean windowEnds = kind == Trace.WINDOW || kind == Trace.CLOCK;
        if (windowEnds && !windowEnded && trace.size > 0) {
            rests.scan();
            boolean rested = rests.windowEnds();
            assembler.windowClosed();
            windowEnded = true;
            if (!rested) {
                // it moved when the sensors went off: nobody saw where to
                pending = (byte) Math.max(pending, Trace.GAP);
            }
        }
        pending = (byte) Math.max(pending, kind);
    }

    private void power(AngleBlock block, int i, boolean missing, boolean good) {
        boolean now = block.powered[i];
        boolean opens = now
                && (!any
                        || !powered
                        || block.edge[i] == AngleBlock.WINDOW
                        || block.edge[i] == AngleBlock.CLOCK_STOPPED);
        if (gated && opens) {
            double before = any && !missing ? block.timeS[i] - lastS : intervalS;
            trace.powerUps.add(new Trace.PowerUp(trace.size, block.timeS[i] - before / 2));
            assembler.poweredUp();
            // after a loss nobody knows whether the shaft still rests
            if (good && trace.size > 0 && block.edge[i] != AngleBlock.GAP) {
                rests.windowStarts();
            }
        } else if (any && powered && !now) {
            assembler.windowClosed();
        }
        powered = now;
    }

    private void leaveOut(AngleBlock block, int i) {
        sinceKept = true;
        if (!hasCurrent || !any || block.edge[i] == AngleBlock.GAP || block.timeS[i] - lastS > 1.5 * intervalS) {
            return;
        }
        trace.leftOutAt(trace.size).add(block.timeS[i] - lastS, lastA, lastV, block.currentA[i], block.supplyV[i]);
    }

    /** Leaves out samples up to {@code to} − 1 that are as the one before {@code from}, which was left out. */
    private void leaveOutAlso(AngleBlock block, int from, int to) {
        if (hasCurrent && to > from) {
            trace.leftOutAt(trace.size).add(block, from, to, 1.5 * intervalS);
        }
    }

    /** Neighbours without anything between them. */
    private void run(AngleBlock block, int from, int to) {
        int i = from;
        while (i < to) {
            i = assembler.skip(block, i, to);
            int end = Math.min(to, i + CHUNK);
            if (end > i) {
                trace.append(block, i, end, Trace.NONE);
                assembler.look();
            }
            i = end;
        }
    }
}
