package org.shiftstand.archive;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * {@code bag-info.txt} (RFC 8493, 2.2.2): four lines, always these. No date, so that the same input gives the same bytes.
 *
 * @param unit what was measured
 * @param software name and version of what wrote the bag
 * @param octets of all payload files
 * @param files number of payload files
 */
record BagInfo(String unit, String software, long octets, int files) {
    static final String FILE = "bag-info.txt";
    static final int FORMAT = 1;

    /** RFC 8493, 2.1.1. */
    static final String DECLARATION_FILE = "bagit.txt";

    private static final String DECLARATION = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";
    private static final Pattern SHAPE = Pattern.compile("External-Identifier: (.{1,200})\n"
            + "Bag-Software-Agent: (.{1,200})\n"
            + "Shiftstand-Bag-Format: 1\n"
            + "Payload-Oxum: (0|[1-9][0-9]{0,17})\\.(0|[1-9][0-9]{0,8})\n");
    private static final Pattern FORMAT_LINE = Pattern.compile("(?m)^Shiftstand-Bag-Format: *([^\\r\\n]{0,40})");

    static byte[] declaration() {
        return DECLARATION.getBytes(StandardCharsets.US_ASCII);
    }

    byte[] bytes() {
        String text = "External-Identifier: " + unit + "\nBag-Software-Agent: " + software + "\nShiftstand-Bag-Format: "
                + FORMAT + "\nPayload-Oxum: " + octets + "." + files + "\n";
        return text.getBytes(StandardCharsets.UTF_8);
    }

    /** Whether a value fits on one line and shows as what it is. */
    static boolean fits(String value) {
        return !value.isBlank()
                && value.equals(value.strip())
                && value.length() <= 200
                && value.codePoints().noneMatch(BagInfo::unprintable);
    }

    private static boolean unprintable(int c) {
        return switch (Character.getType(c)) {
            case Character.CONTROL,
                    Character.FORMAT,
                    Character.SURROGATE,
                    Character.LINE_SEPARATOR,
                    Character.PARAGRAPH_SEPARATOR -> true;
            default -> false;
        };
    }

    /** @return empty where it is anything but the four lines, and a finding says so */
    static Optional<BagInfo> read(byte[] bytes, FindingList findings) {
        String text = new String(bytes, StandardCharsets.UTF_8);
        Matcher parts = SHAPE.matcher(text);
        if (parts.matches()) {
            var info = new BagInfo(
                    parts.group(1), parts.group(2), Long.parseLong(parts.group(3)), Integer.parseInt(parts.group(4)));
            if (java.util.Arrays.equals(info.bytes(), bytes)) {
                return Optional.of(info);
            }
        }
        Matcher format = FORMAT_LINE.matcher(text);
        boolean other = format.find() && !format.group(1).equals("1");
        findings.add(
                FILE,
                Finding.Kind.FORM,
                other
                        ? "states bag format " + MemberPath.shown(format.group(1)) + "; this program knows format 1"
                        : "is not the four lines External-Identifier, Bag-Software-Agent, Shiftstand-Bag-Format: 1 and"
                                + " Payload-Oxum: OCTETS.FILES");
        return Optional.empty();
    }
}
