package org.shiftstand.link;

import com.fazecast.jSerialComm.SerialPort;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/** The serial ports that the operating system knows. */
public final class SerialPorts {
    private SerialPorts() {}

    /**
     * One port.
     *
     * @param path as {@code serial:PATH} takes it
     * @param description as the system has it; equal to the path's last part where it has none
     */
    public record Port(String path, String description) {}

    /** All ports, by path; none are opened. Pseudo-terminals are never listed, but can be opened by path. */
    public static List<Port> list() {
        return Arrays.stream(SerialPort.getCommPorts())
                .map(p -> new Port(p.getSystemPortPath(), p.getDescriptivePortName()))
                .sorted(Comparator.comparing(Port::path))
                .toList();
    }
}
