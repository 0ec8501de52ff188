package org.shiftstand.record;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;

/** What a header must hold, for writer and reader alike. */
final class HeaderCheck {
    // A unit id names folders and files of reports: nothing that leads out of them.
    private static final Pattern UNIT = Pattern.compile("[A-Za-z0-9._-]{1,64}");
    private static final long LONGEST_INTERVAL_NANOS = 10_000_000_000L;

    private HeaderCheck() {}

    /** Everything that is wrong, in words; empty where nothing is. */
    static List<String> problems(RunHeader header) {
        List<String> wrong = new ArrayList<>();
        if (!UNIT.matcher(header.unit()).matches() || header.unit().contains("..")) {
            wrong.add("unit id '" + shown(header.unit())
                    + "' cannot be; expected 1 to 64 of A-Z a-z 0-9 . _ - and no '..'");
        }
        if (header.sampleIntervalNanos() <= 0 || header.sampleIntervalNanos() > LONGEST_INTERVAL_NANOS) {
            wrong.add("sampling interval of " + header.sampleIntervalNanos()
                    + " ns cannot be; expected 1 ns to 10 s, such as 1953125 ns for 512 Hz");
        }
        scale("current", "A", header.currentAPerCount(), wrong);
        scale("supply", "V", header.supplyVPerCount(), wrong);
        return wrong;
    }

    private static void scale(String channel, String unit, double scale, List<String> wrong) {
        if (!(scale >= 0 && scale < Double.POSITIVE_INFINITY)) { // also refuses NaN
            wrong.add("scale of the " + channel + " channel of " + scale + " " + unit
                    + " a count cannot be; expected a positive number, or 0 where the rig does not measure it");
        }
    }

    private static String shown(String text) {
        String line = text.replaceAll("\\p{Cntrl}", "?");
        return line.length() <= 80 ? line : line.substring(0, 80) + "…";
    }
}
