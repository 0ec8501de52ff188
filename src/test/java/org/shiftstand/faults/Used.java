package org.shiftstand.faults;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * What a process has used so far, by {@code /proc} (Linux).
 *
 * @param cpuS of all its threads, user and system, seconds
 * @param residentMiB most memory that it ever held
 * @param atNanos when this was read
 */
record Used(double cpuS, double residentMiB, long atNanos) {
    // USER_HZ, which Linux fixes at 100 for everything that /proc tells
    private static final double TICKS_A_SECOND = 100;
    private static final int UTIME = 11; // after the name in brackets, proc(5)
    private static final int STIME = 12;

    static Used by(long pid) {
        Path proc = Path.of("/proc", Long.toString(pid));
        try {
            String stat = Files.readString(proc.resolve("stat"));
            String[] fields = stat.substring(stat.lastIndexOf(')') + 2).split(" ", -1);
            double cpuS = (Long.parseLong(fields[UTIME]) + Long.parseLong(fields[STIME])) / TICKS_A_SECOND;
            List<String> status = Files.readAllLines(proc.resolve("status"));
            double kiB = status.stream()
                    .filter(line -> line.startsWith("VmHWM:"))
                    .mapToDouble(line -> Double.parseDouble(line.replaceAll("[^0-9]", "")))
                    .findFirst()
                    .orElseThrow();
            return new Used(cpuS, kiB / 1024, System.nanoTime());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Part of one core since then. */
    double coresSince(Used before) {
        return (cpuS - before.cpuS) / ((atNanos - before.atNanos) / 1e9);
    }
}
