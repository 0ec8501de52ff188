package org.shiftstand.bench;

import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Dates;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;
import org.shiftstand.quantity.Quantity;

/** Reads probe files: every problem of a file at once. */
public final class ProbeReportReader {
    /** What a file has where a rig says nothing. */
    static final String UNSAID = "not said";

    private static final String VALUE = "a number with its unit such as '4.2 ms'";

    private final Problems problems;
    private final Table root;

    private ProbeReportReader(TextFile file) {
        this.problems = new Problems(file.name());
        this.root = Yaml.read(file, problems, "a probe file");
    }

    /**
     * Reads a probe file.
     *
     * @throws BadInput with everything that is wrong
     */
    public static ProbeReport read(TextFile file) {
        return new ProbeReportReader(file).report();
    }

    private ProbeReport report() {
        root.only("rig", "firmware", "unit", "unit-firmware", "drive", "at", "tool", "findings");
        Optional<String> rig = text("rig", "the rig's name");
        Optional<String> firmware = text("firmware", "the rig's firmware");
        Optional<String> unit =
                root.need("unit", "the unit's id, such as 'TD-0107'").flatMap(Node::identifier);
        Optional<String> unitFirmware = text("unit-firmware", "the unit's firmware");
        Optional<String> drive = root.need("drive", "'requests' or 'direct'")
                .flatMap(node -> node.oneOf("drive", List.of("requests", "direct")));
        Optional<Instant> at = root.need("at", "when the probe began").flatMap(Dates::instant);
        Optional<String> tool = text("tool", "program and version that probed");
        List<Finding> findings = findings();
        problems.check();
        return new ProbeReport(
                rig.orElseThrow(),
                heard(firmware),
                unit.orElseThrow(),
                heard(unitFirmware),
                drive.orElseThrow(),
                at.orElseThrow(),
                tool.orElseThrow(),
                findings);
    }

    private static String heard(Optional<String> text) {
        return text.orElseThrow().equals(UNSAID) ? "" : text.get();
    }

    private Optional<String> text(String key, String expected) {
        return root.need(key, expected).flatMap(node -> node.text(expected));
    }

    private List<Finding> findings() {
        List<Finding> read = new ArrayList<>();
        root.need("findings", "a list of findings")
                .map(node -> node.items("a list of findings"))
                .orElse(List.of())
                .forEach(item -> item.table("{ check: identity, result: pass, text: … }")
                        .flatMap(ProbeReportReader::finding)
                        .ifPresent(finding -> add(finding, item, read)));
        return read;
    }

    private static void add(Finding finding, Node item, List<Finding> read) {
        if (read.stream().anyMatch(f -> f.check() == finding.check())) {
            item.problem("check " + finding.check().word() + " is there twice; expected each check once");
        }
        read.add(finding);
    }

    private static Optional<Finding> finding(Table table) {
        table.only("check", "result", "text", "at", "values");
        Optional<Check> check = table.need("check", "what was looked at")
                .flatMap(node -> node.oneOf("check", Check.words()))
                .flatMap(Check::of);
        Optional<Result> result = table.need("result", "'pass', 'attention' or 'not measured'")
                .flatMap(node -> node.oneOf("result", Result.words()))
                .flatMap(Result::of);
        Optional<String> text = table.need("text", "what was found").flatMap(node -> node.text("what was found"));
        Optional<Instant> at = table.find("at").flatMap(Dates::instant);
        Map<String, Quantity> values = table.find("values")
                .flatMap(node -> node.table("{ name: 4.2 ms }"))
                .map(ProbeReportReader::values)
                .orElse(Map.of());
        return check.isEmpty() || result.isEmpty() || text.isEmpty()
                ? Optional.empty()
                : Optional.of(new Finding(check.get(), result.get(), text.get(), at, values));
    }

    private static Map<String, Quantity> values(Table table) {
        Map<String, Quantity> values = new LinkedHashMap<>();
        for (String name : table.keys()) {
            Node node = table.find(name).orElseThrow();
            if (!name.matches("[a-z][a-z0-9-]{0,63}")) {
                node.problem("a value's name is '" + name + "'; expected letters a-z, digits and '-'");
            }
            node.quantity(VALUE).ifPresent(value -> values.put(name, value));
        }
        return values;
    }
}
