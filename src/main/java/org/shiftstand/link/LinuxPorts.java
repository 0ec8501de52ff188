package org.shiftstand.link;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.nio.file.attribute.PosixFilePermission;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.shiftstand.link.SerialPorts.Port;

/**
 * Serial ports as Linux describes them: below {@code sys/class/tty} a folder a port, whose {@code device} leads to the adapter,
 * and {@code dev/serial/by-id} with lasting names. Reads names and short texts, opens no port. Blocks for milliseconds.
 */
final class LinuxPorts {
    static final Path CLASSES = Path.of("/sys/class/tty");

    /** A chip that the kernel looked for and did not find. */
    private static final String NO_CHIP = "0";

    private static final int DEEPEST = 12; // from a port to its adapter are four folders

    private final Path dev;
    private final Path classes;
    private final Path groups;

    /** @param root where {@code dev}, {@code sys} and {@code etc} are: the real ones, or a likeness of them */
    LinuxPorts(Path root) {
        dev = root.resolve("dev");
        classes = root.resolve("sys/class/tty");
        groups = root.resolve("etc/group");
    }

    List<Port> list() {
        Map<String, String> lasting = lasting();
        try (Stream<Path> all = Files.list(classes)) {
            return all.filter(this::isThere)
                    .map(folder -> port(folder, lasting))
                    .sorted(Comparator.comparing(Port::path, SerialPorts::byNumber))
                    .toList();
        } catch (IOException e) {
            return List.of(); // a system without that folder has no ports that we could name
        }
    }

    /** With a device behind it and a file to open; consoles and terminals have none. */
    private boolean isThere(Path folder) {
        return Files.exists(folder.resolve("device"))
                && Files.exists(dev.resolve(folder.getFileName().toString()))
                && !text(folder.resolve("type")).equals(Optional.of(NO_CHIP));
    }

    private Port port(Path folder, Map<String, String> lasting) {
        String name = folder.getFileName().toString();
        Path file = dev.resolve(name);
        Optional<Path> adapter = adapter(folder);
        return new Port(
                file.toString(),
                adapter.map(usb -> text(usb.resolve("product")).orElse("USB adapter"))
                        .orElse("serial port of this computer"),
                adapter.flatMap(usb -> text(usb.resolve("serial"))),
                Optional.ofNullable(lasting.get(name)),
                adapter.isPresent(),
                access(file));
    }

    /** The USB device above a port. */
    private static Optional<Path> adapter(Path folder) {
        try {
            Path at = folder.resolve("device").toRealPath();
            for (int i = 0; i < DEEPEST && at != null; i++) {
                if (Files.exists(at.resolve("idVendor"))) {
                    return Optional.of(at);
                }
                at = at.getParent();
            }
        } catch (IOException e) {
            return Optional.empty(); // unplugged while we looked
        }
        return Optional.empty();
    }

    /** By the port's name the link that leads to it; of several the first. */
    private Map<String, String> lasting() {
        Map<String, String> found = new HashMap<>();
        try (Stream<Path> links = Files.list(dev.resolve("serial/by-id"))) {
            for (Path link : links.sorted().toList()) {
                Path to = link.toRealPath().getFileName();
                if (to != null) {
                    found.putIfAbsent(to.toString(), link.toString());
                }
            }
        } catch (IOException e) {
            return found; // no adapter with a name of its own, or just unplugged
        }
        return found;
    }

    private Optional<PortAccess> access(Path file) {
        try {
            PosixFileAttributes all = Files.readAttributes(file, PosixFileAttributes.class);
            return Optional.of(new PortAccess(
                    all.owner().getName(),
                    all.group().getName(),
                    all.permissions().contains(PosixFilePermission.GROUP_READ)
                            && all.permissions().contains(PosixFilePermission.GROUP_WRITE),
                    Files.isReadable(file) && Files.isWritable(file),
                    isMember(all.group().getName(), System.getProperty("user.name", ""))));
        } catch (IOException e) {
            return Optional.empty();
        }
    }

    /** {@code group:x:20:user,user}, as group(5) has it. */
    private boolean isMember(String group, String user) {
        try (Stream<String> lines = Files.lines(groups)) {
            return lines.map(line -> line.split(":", -1))
                    .anyMatch(line -> line.length > 3
                            && line[0].equals(group)
                            && List.of(line[3].split(",", -1)).contains(user));
        } catch (IOException | java.io.UncheckedIOException e) {
            return false; // groups are kept elsewhere
        }
    }

    private static Optional<String> text(Path file) {
        try {
            return Optional.of(Files.readString(file).strip()).filter(text -> !text.isEmpty());
        } catch (IOException e) {
            return Optional.empty(); // most devices lack most of these
        }
    }
}
