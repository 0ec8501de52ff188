package org.shiftstand.report;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Measure;

/**
 * The number of a report: twelve hexadecimal digits, from everything that its content depends on.
 *
 * <p>The same samples, files, settings and version give the same number on every machine, since they give the same report
 * but for its date; another spec, setting or statement gives another. Among a million reports the chance of two with one
 * number is 0.2 % (birthday bound, 48 bits).
 */
final class ReportNumber {
    private static final int BYTES = 6;

    private ReportNumber() {}

    /** {@code 3f09-a17c-52de}: in fours, so that people can read it to each other. */
    static String of(Judgement judgement) {
        MessageDigest digest = sha256();
        for (String part : parts(judgement)) {
            byte[] bytes = part.getBytes(StandardCharsets.UTF_8);
            digest.update((bytes.length + ":").getBytes(StandardCharsets.UTF_8)); // no part runs into the next
            digest.update(bytes);
        }
        String hex = HexFormat.of().formatHex(digest.digest(), 0, BYTES);
        return hex.substring(0, 4) + "-" + hex.substring(4, 8) + "-" + hex.substring(8);
    }

    private static List<String> parts(Judgement judgement) {
        List<String> parts = new ArrayList<>();
        parts.add(Tool.NAME_AND_VERSION);
        parts.add(judgement.source().sha256());
        parts.add(judgement.spec().sha256());
        parts.add(judgement.profile().map(Profile::sha256).orElse(""));
        parts.add(judgement.circumstances().procedure().map(p -> p.sha256()).orElse(""));
        parts.add(judgement.circumstances().stated().sha256().orElse(""));
        parts.addAll(judgement.circumstances().departures());
        for (Measure measure : Measure.values()) { // a fixed order
            judgement.budgets().flatMap(budgets -> budgets.of(measure.key())).ifPresent(b -> parts.add(b.toString()));
        }
        parts.add(judgement.unit().orElse(""));
        parts.add(Double.toString(judgement.table().bandDeg()));
        parts.add(judgement.table().sense());
        parts.add(judgement.table().numbering());
        parts.add(judgement.limitsFrom());
        parts.add(judgement.verdict().word());
        parts.add(judgement.reason());
        return parts;
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
