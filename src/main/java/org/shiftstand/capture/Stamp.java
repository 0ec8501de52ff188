package org.shiftstand.capture;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.OptionalLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Dates with times (RFC 3339, 5.6; also with a space, and without a zone) and times of day, as nanoseconds. */
final class Stamp {
    private static final Pattern FORM = Pattern.compile("(?:(\\d{4})-(\\d{2})-(\\d{2})[Tt ])?(\\d{2}):(\\d{2}):(\\d{2})"
            + "(?:[.,](\\d{1,9})\\d*)?(Z|z|[+-]\\d{2}:\\d{2})?");

    private static final long SECOND = 1_000_000_000L;

    private Stamp() {}

    /** Nanoseconds since 1970, or since midnight where there is no date; empty where it is no stamp. */
    static OptionalLong nanos(String text) {
        Matcher m = FORM.matcher(text);
        if (!m.matches() || (m.group(1) == null && m.group(8) != null)) {
            return OptionalLong.empty();
        }
        int hour = Integer.parseInt(m.group(4));
        int minute = Integer.parseInt(m.group(5));
        int second = Integer.parseInt(m.group(6));
        if (hour > 23 || minute > 59 || second > 60) { // 60: a leap second
            return OptionalLong.empty();
        }
        long seconds = hour * 3600L + minute * 60L + second - zoneSeconds(m.group(8));
        if (m.group(1) != null) {
            try {
                seconds += 86400L
                        * LocalDate.of(
                                        Integer.parseInt(m.group(1)),
                                        Integer.parseInt(m.group(2)),
                                        Integer.parseInt(m.group(3)))
                                .toEpochDay();
            } catch (DateTimeException e) {
                return OptionalLong.empty();
            }
        }
        if (Math.abs(seconds) > Long.MAX_VALUE / SECOND - 1) {
            return OptionalLong.empty(); // beyond the year 2262
        }
        String fraction = m.group(7) == null ? "" : m.group(7);
        return OptionalLong.of(seconds * SECOND + Long.parseLong((fraction + "000000000").substring(0, 9)));
    }

    private static long zoneSeconds(@org.jspecify.annotations.Nullable String zone) {
        if (zone == null || zone.equalsIgnoreCase("Z")) {
            return 0;
        }
        long size = Integer.parseInt(zone.substring(1, 3)) * 3600L + Integer.parseInt(zone.substring(4, 6)) * 60L;
        return zone.charAt(0) == '-' ? -size : size;
    }
}
