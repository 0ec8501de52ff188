package org.shiftstand.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import org.shiftstand.bench.ProbeReport;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.report.JsonWriter;

/** A probe on a terminal, or for a program: a line a check, told by word and shape. */
final class ProbeTable {
    private ProbeTable() {}

    static void print(ProbeReport report, PrintWriter out) {
        for (Finding finding : report.findings()) {
            out.println(String.format(
                    Locale.ROOT,
                    "  %s %-12s  %-16s  %s",
                    shape(finding.result()),
                    finding.result().word(),
                    finding.check().word(),
                    finding.text()));
        }
        out.println();
        out.println(report.findings().size() + " checks of rig " + report.rig() + ": "
                + report.with(Result.PASS).size() + " pass, "
                + report.with(Result.ATTENTION).size() + " attention, "
                + report.with(Result.NOT_MEASURED).size() + " not measured.");
        List<String> lacking = report.findings().stream()
                .filter(f -> f.check().needed() && f.result() != Result.PASS)
                .map(f -> f.check().word())
                .toList();
        out.println(
                lacking.isEmpty()
                        ? "A run that nobody attends may use this probe for 24 hours from the press of the emergency stop."
                        : "A run that nobody attends may not use this probe: it needs a pass of "
                                + String.join(", ", lacking) + ".");
    }

    /** Tick, triangle and ring: apart without colour, and in print. */
    private static String shape(Result result) {
        return switch (result) {
            case PASS -> "\u2713";
            case ATTENTION -> "\u25B2";
            case NOT_MEASURED -> "\u25CB";
        };
    }

    static void json(ProbeReport report, Appendable out) {
        JsonWriter json = new JsonWriter(out)
                .object()
                .field("format", 1)
                .field("rig", report.rig())
                .field("firmware", report.firmware())
                .field("unit", report.unit())
                .field("unit_firmware", report.unitFirmware())
                .field("drive", report.drive())
                .field("at", report.at().toString())
                .array("findings");
        for (Finding finding : report.findings()) {
            json.object()
                    .field("check", finding.check().word())
                    .field("result", finding.result().word())
                    .field("text", finding.text())
                    .field("at", finding.at().map(Object::toString))
                    .field("needed_unattended", finding.check().needed())
                    .array("values");
            finding.values()
                    .forEach((name, value) -> json.object()
                            .field("name", name)
                            .field("value", value.value())
                            .field("unit", value.unit().symbol())
                            .endObject());
            json.endArray().endObject();
        }
        json.endArray().endObject().end();
    }

    /** 0 where everything that a run without a person needs has passed; 1 for attention, 3 for what was not measured. */
    static int exitCode(ProbeReport report) {
        boolean attention = needs(report, Result.ATTENTION);
        boolean open = needs(report, Result.NOT_MEASURED);
        return attention ? ExitCode.FAIL : open ? ExitCode.NO_VERDICT : ExitCode.DONE;
    }

    private static boolean needs(ProbeReport report, Result result) {
        return report.with(result).stream().anyMatch(f -> f.check().needed());
    }
}
