package org.shiftstand.cli;

import java.io.PrintWriter;
import java.util.Locale;
import org.shiftstand.rig.RunMonitor;

/** A run on a terminal: how far it is, how long it will take; what a person should read stays on the screen. */
final class RunProgress implements RunMonitor {
    private final String unit;
    private final org.shiftstand.cli.Progress line;
    private final PrintWriter err;

    RunProgress(String unit, org.shiftstand.cli.Progress line, PrintWriter err) {
        this.unit = unit;
        this.line = line;
        this.err = err;
    }

    @Override
    public void progress(RunMonitor.Progress p) {
        String left = p.leftS().isEmpty() ? "" : ", " + duration(p.leftS().getAsDouble()) + " left";
        line.show(String.format(
                Locale.ROOT,
                "%s  %s  shift %d of %d, cycle %d  (%.0f %%%s)",
                unit,
                p.phase(),
                p.shifts(),
                p.planned(),
                p.cycle(),
                p.percent(),
                left));
    }

    @Override
    public void notice(String text) {
        line.clear();
        err.println(unit + ": " + text);
    }

    private static String duration(double seconds) {
        long s = Math.round(seconds);
        return s >= 3600
                ? String.format(Locale.ROOT, "%d h %02d min", s / 3600, s / 60 % 60)
                : s >= 60 ? String.format(Locale.ROOT, "%d min %02d s", s / 60, s % 60) : s + " s";
    }
}
