package org.shiftstand.faults;

import com.sun.jdi.Bootstrap;
import com.sun.jdi.ThreadReference;
import com.sun.jdi.VirtualMachine;
import com.sun.jdi.connect.AttachingConnector;
import com.sun.jdi.connect.Connector;
import java.time.Duration;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Suspends the thread that runs a procedure, by the debugger's interface, while everything else of its process goes on. */
final class Hang {
    /** For the process that shall hang. */
    static final String[] OPTIONS = {"-agentlib:jdwp=transport=dt_socket,server=y,suspend=n,address=127.0.0.1:0"};

    private static final Pattern PORT = Pattern.compile("Listening for transport dt_socket at address: (\\d+)");

    private Hang() {}

    /** Hangs for so long, then lets go; {@link System#nanoTime} when it hung. */
    static long hang(Child child, Duration time) throws Exception {
        Matcher said = PORT.matcher(child.out());
        if (!said.find()) {
            throw new IllegalStateException("no debugger's port: " + child.said());
        }
        AttachingConnector socket = Bootstrap.virtualMachineManager().attachingConnectors().stream()
                .filter(c -> c.name().equals("com.sun.jdi.SocketAttach"))
                .findFirst()
                .orElseThrow();
        Map<String, Connector.Argument> arguments = socket.defaultArguments();
        argument(arguments, "hostname").setValue("127.0.0.1");
        argument(arguments, "port").setValue(said.group(1));
        VirtualMachine machine = socket.attach(arguments);
        try {
            ThreadReference runner = machine.allThreads().stream()
                    .filter(thread -> thread.name().equals("main"))
                    .findFirst()
                    .orElseThrow();
            runner.suspend();
            long since = System.nanoTime();
            Wait.pause(time);
            runner.resume();
            return since;
        } finally {
            machine.dispose();
        }
    }

    private static Connector.Argument argument(Map<String, Connector.Argument> arguments, String name) {
        return java.util.Objects.requireNonNull(arguments.get(name), name);
    }
}
