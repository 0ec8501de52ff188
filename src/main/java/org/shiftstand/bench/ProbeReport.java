package org.shiftstand.bench;

import java.time.Instant;
import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.document.YamlText;
import org.shiftstand.quantity.Quantity;

/**
 * What a probe of a rig found.
 *
 * @param rig the rig's name as it says it itself; never empty
 * @param firmware of the rig, likewise; may be empty
 * @param unit id of the unit that was on it
 * @param unitFirmware empty where the rig does not say
 * @param drive {@code requests} or {@code direct}, as the rig says
 * @param at when the probe began, UTC
 * @param tool program and version that probed
 * @param findings one for each check that was made, in the order made
 */
public record ProbeReport(
        String rig,
        String firmware,
        String unit,
        String unitFirmware,
        String drive,
        Instant at,
        String tool,
        List<Finding> findings) {
    public ProbeReport {
        findings = List.copyOf(findings);
    }

    /** What is looked at. */
    public enum Check {
        IDENTITY("identity", true),
        CURRENT_CHANNEL("current-channel", true),
        SUPPLY_CHANNEL("supply-channel", true),
        SUPPLY("supply", true),
        EMERGENCY_STOP("emergency-stop", true),
        HEARTBEAT_CUT("heartbeat-cut", true),
        HALL_CHANNELS("hall-channels", true),
        NOISE("noise", false),
        HALL_ELLIPSE("hall-ellipse", false),
        HARMONIC_RESIDUE("harmonic-residue", false),
        CURRENT_LIMIT("current-limit", true),
        CUT_LATENCY("cut-latency", true),
        COAST("coast", false);

        private final String word;
        private final boolean needed;

        Check(String word, boolean needed) {
            this.word = word;
            this.needed = needed;
        }

        /** As files and tables write it. */
        public String word() {
            return word;
        }

        /** Whether a run that nobody attends needs it to have passed: what protects, and what tells that it does. */
        public boolean needed() {
            return needed;
        }

        static List<String> words() {
            return Arrays.stream(values()).map(Check::word).toList();
        }

        static Optional<Check> of(String word) {
            return Arrays.stream(values()).filter(c -> c.word.equals(word)).findFirst();
        }
    }

    /** How a check came out. */
    public enum Result {
        PASS("pass"),
        /** A person should look at it before the rig is trusted. */
        ATTENTION("attention"),
        /** Not made, or it could not be; the text has the reason. */
        NOT_MEASURED("not measured");

        private final String word;

        Result(String word) {
            this.word = word;
        }

        /** As files and tables write it. */
        public String word() {
            return word;
        }

        static List<String> words() {
            return Arrays.stream(values()).map(Result::word).toList();
        }

        static Optional<Result> of(String word) {
            return Arrays.stream(values()).filter(r -> r.word.equals(word)).findFirst();
        }
    }

    /**
     * One check and what came of it.
     *
     * @param text what was found, or why it was not measured; one line
     * @param at when it happened, UTC, where that matters
     * @param values the figures, by name, in reading order
     */
    public record Finding(Check check, Result result, String text, Optional<Instant> at, Map<String, Quantity> values) {
        public Finding {
            values = Collections.unmodifiableMap(new LinkedHashMap<>(values)); // keeps the order
        }

        public Finding(Check check, Result result, String text) {
            this(check, result, text, Optional.empty(), Map.of());
        }

        public Finding(Check check, Result result, String text, Map<String, Quantity> values) {
            this(check, result, text, Optional.empty(), values);
        }
    }

    /** What came of a check; empty where it was not made. */
    public Optional<Finding> finding(Check check) {
        return findings.stream().filter(f -> f.check() == check).findFirst();
    }

    /** The findings of one result, in their order. */
    public List<Finding> with(Result result) {
        return findings.stream().filter(f -> f.result() == result).toList();
    }

    /** As {@link ProbeReportReader} reads it back. */
    public String toYaml() {
        StringBuilder out =
                new StringBuilder("# What a probe of a rig found. A run that nobody attends asks for it.\n");
        out.append("rig: ").append(YamlText.quoted(rig)).append('\n');
        out.append("firmware: ").append(YamlText.quoted(said(firmware))).append('\n');
        out.append("unit: ").append(YamlText.quoted(unit)).append('\n');
        out.append("unit-firmware: ")
                .append(YamlText.quoted(said(unitFirmware)))
                .append('\n');
        out.append("drive: ").append(drive).append('\n');
        out.append("at: ").append(at).append('\n');
        out.append("tool: ").append(YamlText.quoted(tool)).append('\n');
        out.append("findings:\n");
        findings.forEach(finding -> write(finding, out));
        return out.toString();
    }

    /** A rig may say nothing; a file says that. */
    private static String said(String text) {
        return text.isBlank() ? ProbeReportReader.UNSAID : text;
    }

    private static void write(Finding finding, StringBuilder out) {
        out.append("  - check: ").append(finding.check().word()).append('\n');
        out.append("    result: ").append(finding.result().word()).append('\n');
        out.append("    text: ").append(YamlText.quoted(finding.text())).append('\n');
        finding.at().ifPresent(at -> out.append("    at: ").append(at).append('\n'));
        if (!finding.values().isEmpty()) {
            out.append("    values:\n");
            finding.values()
                    .forEach((name, value) -> out.append("      ")
                            .append(name)
                            .append(": ")
                            .append(value)
                            .append('\n'));
        }
    }
}
