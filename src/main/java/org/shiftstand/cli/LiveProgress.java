package org.shiftstand.cli;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Clock;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.shiftstand.procedure.Course;
import org.shiftstand.record.RunWriter;
import org.shiftstand.rig.RunMonitor;

/**
 * A run while it goes on: one line on a terminal, and a plain line a minute in {@code progress.log} beside the record, also
 * where there is no terminal. Phase, shift, cycle, time left; outcomes so far and the worst clause, which are provisional.
 *
 * <p>The run's thread only leaves word here. A thread of this class prints and writes, so that neither a terminal that was
 * halted nor a slow disk holds up the run; a third one judges, see {@link LiveFigures}.
 */
final class LiveProgress implements RunMonitor, AutoCloseable {
    /** The log's name in the run's folder. */
    static final String LOG = "progress.log";

    private static final long LONGEST_STOP_MS = 2000;

    /**
     * How often what is done.
     *
     * @param tickMs the line on the terminal
     * @param logS a line in the log, seconds of the run
     * @param firstFiguresMs the first judging: soon, so that a wrong spec or a swapped channel shows while somebody still
     *     stands there
     * @param figuresMs from one judging to the next, at least
     */
    record Cadence(long tickMs, double logS, long firstFiguresMs, long figuresMs) {
        static final Cadence USUAL = new Cadence(250, 60, 15_000, 60_000);
    }

    /** What the run said last, and when. */
    private record Word(RunMonitor.Progress progress, long atNanos) {}

    private final String unit;
    private final boolean realTime;
    private final org.shiftstand.cli.Progress line;
    private final PrintWriter err;
    private final Clock clock;
    private final Cadence cadence;
    private final TimeLeft left;
    private final Queue<String> notices = new ConcurrentLinkedQueue<>();
    private final Thread thread;
    private volatile @Nullable Word word;
    private volatile @Nullable Path log;
    private volatile @Nullable LiveFigures figures;
    private volatile double shareLeft = 1;
    private volatile boolean cutConfirmed = true;
    private final CountDownLatch over = new CountDownLatch(1);

    // of the printing thread alone
    private @Nullable Word taken;
    private double loggedAtS = Double.NEGATIVE_INFINITY;
    private boolean logBroken;

    /**
     * Begins to print.
     *
     * @param realTime false in simulated time, in which the clock on the wall says nothing
     * @param line of the terminal, used by this class alone until it is closed
     */
    LiveProgress(
            String unit,
            Course course,
            boolean realTime,
            org.shiftstand.cli.Progress line,
            PrintWriter err,
            Clock clock) {
        this(unit, course, realTime, line, err, clock, Cadence.USUAL);
    }

    LiveProgress(
            String unit,
            Course course,
            boolean realTime,
            org.shiftstand.cli.Progress line,
            PrintWriter err,
            Clock clock,
            Cadence cadence) {
        this.cadence = cadence;
        this.unit = unit;
        this.realTime = realTime;
        this.line = line;
        this.err = err;
        this.clock = clock;
        this.left = new TimeLeft(course);
        thread = new Thread(this::work, "live-progress");
        thread.setDaemon(true);
        thread.start();
    }

    /**
     * The record has been made: from now on there is a log beside it, and it is judged now and then.
     *
     * @return what the run is to write by; it lets go of the record before that is closed
     */
    RunWriter recording(Path record, RunWriter writer) {
        log = record.resolveSibling(LOG);
        LiveFigures judging = new LiveFigures(record, cadence.firstFiguresMs(), cadence.figuresMs());
        figures = judging;
        return new WatchedWriter(writer, judging::close);
    }

    /** Share of the script that is left, 0 to 1, for whoever plans ahead; safe from any thread. */
    double shareLeft() {
        return shareLeft;
    }

    @Override
    public void progress(RunMonitor.Progress p) {
        word = new Word(p, System.nanoTime());
    }

    @Override
    public void notice(String text) {
        notices.add(text);
    }

    @Override
    public void cutNotConfirmed(String text) {
        cutConfirmed = false;
        notice(text);
    }

    /** False once the run has ended without the rig's word that the supply is off; safe from any thread. */
    boolean cutConfirmed() {
        return cutConfirmed;
    }

    private void work() {
        try {
            while (!over.await(cadence.tickMs(), TimeUnit.MILLISECONDS)) { // not interrupted: that would tear the log
                tick();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt(); // nobody does; the last words are said all the same
        }
        tick();
        Word last = word;
        if (last != null) {
            write(last, last.progress().phase().equals("done") ? "done" : "over");
        }
        line.clear();
    }

    private void tick() {
        for (String text = notices.poll(); text != null; text = notices.poll()) {
            line.clear();
            err.println(unit + ": " + text);
            writeLine(text);
        }
        Word now = word;
        if (now == null) {
            return;
        }
        if (now != taken) {
            taken = now;
            left.over(now.progress().shifts(), now.progress().elapsedS());
            shareLeft = left.share();
        }
        line.show(terminalLine(now));
        double at = realTime ? System.nanoTime() / 1e9 : left.doneS();
        if (at - loggedAtS >= cadence.logS()) {
            loggedAtS = at;
            write(now, now.progress().phase());
        }
    }

    private String terminalLine(Word now) {
        return unit + "  " + where(now, now.progress().phase()) + "  " + provisional(false);
    }

    private void write(Word now, String phase) {
        writeLine(where(now, phase) + "; " + provisional(true));
    }

    private String where(Word now, String phase) {
        RunMonitor.Progress p = now.progress();
        boolean goesOn = !phase.equals("done") && !phase.equals("over");
        return String.format(Locale.ROOT, "%s, shift %d of %d, cycle %d", phase, p.shifts(), p.planned(), p.cycle())
                + (goesOn ? ", " + duration(leftS(now)) + " left" : "");
    }

    private double leftS(Word now) {
        double since = realTime ? (System.nanoTime() - now.atNanos()) / 1e9 : 0;
        return Math.max(0, left.seconds() - since);
    }

    private String provisional(boolean whole) {
        LiveFigures judging = figures;
        Optional<Provisional> latest = judging == null ? Optional.empty() : judging.latest();
        if (judging == null || latest.isEmpty()) {
            return whole ? "provisional outcomes: not known now" : "provisional: not known now";
        }
        return latest.get() + (whole ? String.format(Locale.ROOT, " (%.0f s ago)", judging.ageS()) : "");
    }

    private void writeLine(String text) {
        Path file = log;
        if (file == null || logBroken) {
            return;
        }
        try (BufferedWriter out = Files.newBufferedWriter(
                file, StandardCharsets.UTF_8, StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
            out.write(clock.instant().truncatedTo(ChronoUnit.SECONDS) + " " + unit + ": " + text + "\n");
        } catch (IOException e) {
            logBroken = true; // the record is what matters; a full disk is told elsewhere
            line.clear();
            err.println(
                    unit + ": " + file + " cannot be written (" + Output.cause(e) + "); the run goes on without it");
        }
    }

    private static String duration(double seconds) {
        long s = Math.round(seconds);
        return s >= 3600
                ? String.format(Locale.ROOT, "%d h %02d min", s / 3600, s / 60 % 60)
                : s >= 60 ? String.format(Locale.ROOT, "%d min %02d s", s / 60, s % 60) : s + " s";
    }

    /** Prints what is still to be said, clears the line, and leaves it to others. Waits 2 s at most. */
    @Override
    public void close() {
        LiveFigures judging = figures;
        if (judging != null) {
            judging.close();
        }
        over.countDown();
        boolean interrupted = false;
        try {
            thread.join(LONGEST_STOP_MS);
        } catch (InterruptedException e) {
            interrupted = true;
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
