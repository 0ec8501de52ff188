package org.shiftstand.reference;

import java.nio.charset.StandardCharsets;
import java.util.List;
import org.shiftstand.archive.Digest;

/** Tables of messages, how often each is repeated, and their digests. */
final class MessageDigests {
    private static final int SHOWN = 24;

    private MessageDigests() {}

    static void compare(String resource, Comparisons comparisons) {
        Reference table = Reference.csv(resource);
        List<String> messages = table.words("message");
        double[] repeats = table.column("repeat");
        List<String> published = table.words("sha256");
        for (int i = 0; i < messages.size(); i++) {
            int times = (int) repeats[i];
            String message = messages.get(i).repeat(times);
            comparisons.word(
                    named(messages.get(i), times),
                    published.get(i),
                    Digest.hex(message.getBytes(StandardCharsets.US_ASCII)));
        }
    }

    private static String named(String message, int times) {
        String shown = message.length() > SHOWN
                ? message.substring(0, SHOWN) + "… (" + message.length() + " characters)"
                : message.isEmpty() ? "no message" : message;
        return times == 1 ? shown : shown + ", " + times + " times";
    }
}
