package org.shiftstand.link;

import com.fazecast.jSerialComm.SerialPort;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** The serial ports that the operating system knows. */
public final class SerialPorts {
    private static final Path ROOT = Path.of("/");

    private SerialPorts() {}

    /**
     * One port.
     *
     * @param path as {@code serial:PATH} takes it
     * @param description what the adapter says of itself, else what sort of port it is; never empty
     * @param serialNumber of the adapter, where it has one
     * @param lasting a path that stays the same whatever is plugged in first
     * @param usb whether it is an adapter that can be unplugged
     * @param access who may open it; empty where the system does not say
     */
    public record Port(
            String path,
            String description,
            Optional<String> serialNumber,
            Optional<String> lasting,
            boolean usb,
            Optional<PortAccess> access) {}

    /** All ports, by path, numbers as numbers; none are opened. Pseudo-terminals are never listed, but can be opened. */
    public static List<Port> list() {
        return Files.isDirectory(LinuxPorts.CLASSES) ? linux(ROOT) : ofLibrary();
    }

    /** The ports of a Linux system whose {@code dev}, {@code sys} and {@code etc} lie there, by path. */
    public static List<Port> linux(Path root) {
        return new LinuxPorts(root).list();
    }

    /** The rig's probable port: the only USB adapter there is, by its lasting path where it has one. */
    public static Optional<String> onlyUsb() {
        List<Port> usb = Files.isDirectory(LinuxPorts.CLASSES)
                ? linux(ROOT).stream().filter(Port::usb).toList()
                : List.of(); // the library takes its time to say
        return usb.size() == 1
                ? usb.get(0).lasting().or(() -> Optional.of(usb.get(0).path()))
                : Optional.empty();
    }

    private static List<Port> ofLibrary() {
        return Arrays.stream(SerialPort.getCommPorts())
                .map(p -> new Port(
                        p.getSystemPortPath(),
                        p.getDescriptivePortName(),
                        Optional.of(p.getSerialNumber()).filter(text -> !text.isBlank() && !text.equals("Unknown")),
                        Optional.empty(),
                        p.getVendorID() >= 0,
                        Optional.empty()))
                .sorted(Comparator.comparing(Port::path, SerialPorts::byNumber))
                .toList();
    }

    /** Text by text and number by number: {@code ttyUSB2} before {@code ttyUSB10}. */
    static int byNumber(String a, String b) {
        String[] left = a.split("(?<=\\D)(?=\\d)|(?<=\\d)(?=\\D)", -1);
        String[] right = b.split("(?<=\\D)(?=\\d)|(?<=\\d)(?=\\D)", -1);
        for (int i = 0; i < Math.min(left.length, right.length); i++) {
            boolean numbers = left[i].matches("\\d{1,9}") && right[i].matches("\\d{1,9}");
            int order = numbers
                    ? Integer.compare(Integer.parseInt(left[i]), Integer.parseInt(right[i]))
                    : left[i].compareTo(right[i]);
            if (order != 0) {
                return order;
            }
        }
        return Integer.compare(left.length, right.length);
    }
}
