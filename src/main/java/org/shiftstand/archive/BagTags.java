package org.shiftstand.archive;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The tag files of a bag, RFC 8493 2.1.1 and 2.2.2. They name no date: the same input gives the same bytes. */
final class BagTags {
    static final String BAGIT = "bagit.txt";
    static final String INFO = "bag-info.txt";

    /** Tag files that the tag manifest lists. */
    static final List<String> ALL = List.of(INFO, BAGIT, Manifest.NAME);

    static final int FORMAT = 1;

    private static final Pattern FORMAT_LINE = Pattern.compile("(?m)^Shiftstand-Bag-Format: (\\d{1,6})$");

    private BagTags() {}

    static byte[] bagit() {
        return "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n".getBytes(StandardCharsets.UTF_8);
    }

    static byte[] info(String unit, String software, long octets, int files) {
        return ("External-Identifier: " + unit + "\nBag-Software-Agent: " + software + "\nShiftstand-Bag-Format: "
                        + FORMAT + "\nPayload-Oxum: " + octets + "." + files + "\n")
                .getBytes(StandardCharsets.UTF_8);
    }

    static Optional<Integer> format(byte[] info) {
        Matcher line = FORMAT_LINE.matcher(new String(info, StandardCharsets.UTF_8));
        return line.find() ? Optional.of(Integer.valueOf(line.group(1))) : Optional.empty();
    }
}
