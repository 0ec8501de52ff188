package org.shiftstand.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.concurrent.Callable;
import org.shiftstand.link.PortAccess;
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
        description = {
            "Lists the serial ports of this computer by their adapters; opens none of them.",
            "",
            "For each port what its adapter says of itself, a name that stays the same whatever is plugged in first, and "
                    + "whether you may open it; where not, what to do. Pseudo-terminals ('rig simulate') are not listed."
        },
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
            json(ports, out);
            return ExitCode.DONE;
        }
        ports.forEach(port -> tell(port, out));
        if (ports.isEmpty()) {
            spec.commandLine()
                    .getErr()
                    .println("No serial ports. Plug the rig in and switch it on; where it then still is not listed, try"
                            + " another cable, since some carry power only.");
        }
        return ExitCode.DONE;
    }

    static void tell(SerialPorts.Port port, PrintWriter out) {
        out.println(PlainText.of("serial:" + port.path() + "  " + port.description()
                + port.serialNumber().map(number -> ", serial number " + number).orElse("")));
        port.lasting()
                .ifPresent(path ->
                        out.println(PlainText.of("    serial:" + path + "  the same port, by a name that stays")));
        port.access().ifPresent(access -> out.println(PlainText.of("    " + said(access))));
    }

    /** Whether this user may open it, and what to do where not. */
    private static String said(PortAccess access) {
        if (access.thisUserMay()) {
            return "group " + access.group() + "; you may open it";
        }
        if (!access.groupMay()) {
            return "you may not open it, and its group " + access.group() + " may not either: only " + access.owner()
                    + " may. Ask whoever looks after this computer to let a group open it (a udev rule)";
        }
        return "you may not open it: its group is " + access.group()
                + (access.memberSince()
                        ? ", which you have been added to. Log out and in again, so that it counts"
                        : ". Type 'sudo usermod -aG " + access.group() + " " + System.getProperty("user.name", "USER")
                                + "', then log out and in again");
    }

    static void json(List<SerialPorts.Port> ports, PrintWriter out) {
        JsonWriter document = new JsonWriter(out).object().field("format", 1).array("ports");
        for (SerialPorts.Port port : ports) {
            document.object().field("path", port.path()).field("description", port.description());
            document.field("serialNumber", port.serialNumber())
                    .field("byId", port.lasting())
                    .field("usb", port.usb());
            port.access()
                    .ifPresent(access -> document.field("owner", access.owner())
                            .field("group", access.group())
                            .field("groupMayOpen", access.groupMay())
                            .field("mayOpen", access.thisUserMay()));
            document.endObject();
        }
        document.endArray().endObject().end();
    }
}
