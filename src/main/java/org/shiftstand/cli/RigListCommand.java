package org.shiftstand.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.concurrent.Callable;
import org.shiftstand.link.SerialPorts;
import org.shiftstand.report.JsonWriter;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Serial ports of this machine. */
@Command(
        name = "list",
        sortOptions = false,
        description = "Lists the serial ports of this machine; opens none of them.",
        footer = {"", "Examples:", "  shiftstand rig list", "  shiftstand rig list --json"})
final class RigListCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Option(names = "--json", description = "Print JSON.")
    private boolean json;

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        List<SerialPorts.Port> ports = SerialPorts.list();
        if (json) {
            JsonWriter document =
                    new JsonWriter(out).object().field("format", 1).array("ports");
            ports.forEach(port -> document.object()
                    .field("path", port.path())
                    .field("description", port.description())
                    .endObject());
            document.endArray().endObject().end();
            return ExitCode.DONE;
        }
        ports.forEach(port -> out.println("serial:" + port.path() + "  " + port.description()));
        if (ports.isEmpty()) {
            spec.commandLine()
                    .getErr()
                    .println("No serial ports. Is the rig plugged in, and may this user open ports (group dialout)?");
        }
        return ExitCode.DONE;
    }
}
