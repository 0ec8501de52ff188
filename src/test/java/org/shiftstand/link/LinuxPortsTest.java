package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Ports in a folder that looks as {@code /sys/class/tty}, {@code /dev} and {@code /etc} of a Linux system do (kernel 6.1). */
class LinuxPortsTest {
    @TempDir
    private Path root;

    private Path file(String path, String text) throws IOException {
        Path file = root.resolve(path);
        Files.createDirectories(file.getParent());
        return Files.writeString(file, text);
    }

    /** A tty whose {@code device} link leads to the interface of a USB device, as the drivers for adapters lay it. */
    private void usb(String name, String device, String product, String serial) throws IOException {
        String at = "sys/devices/pci0000:00/usb1/" + device;
        file(at + "/idVendor", "1209\n");
        file(at + "/idProduct", "0001\n");
        if (!product.isEmpty()) {
            file(at + "/product", product + "\n");
        }
        if (!serial.isEmpty()) {
            file(at + "/serial", serial + "\n");
        }
        Path tty = root.resolve(at + "/" + device + ":1.0/tty/" + name);
        Files.createDirectories(tty);
        Files.createSymbolicLink(tty.resolve("device"), root.resolve(at + "/" + device + ":1.0"));
        Files.createDirectories(root.resolve("sys/class/tty"));
        Files.createSymbolicLink(root.resolve("sys/class/tty/" + name), tty);
        file("dev/" + name, "");
    }

    private void chip(String name, String type) throws IOException {
        file("sys/class/tty/" + name + "/type", type + "\n");
        Files.createDirectories(root.resolve("sys/devices/platform/serial8250"));
        Files.createSymbolicLink(
                root.resolve("sys/class/tty/" + name + "/device"), root.resolve("sys/devices/platform/serial8250"));
        file("dev/" + name, "");
    }

    private List<SerialPorts.Port> ports() {
        return SerialPorts.linux(root);
    }

    @Test
    void an_adapter_says_what_it_is_and_has_a_lasting_name() throws IOException {
        usb("ttyACM0", "1-2", "Rig controller", "QW-0042");
        Files.createDirectories(root.resolve("dev/serial/by-id"));
        Path link = root.resolve("dev/serial/by-id/usb-Rig_controller_QW-0042-if00");
        Files.createSymbolicLink(link, Path.of("../../ttyACM0"));

        SerialPorts.Port port = ports().get(0);

        assertThat(port.path()).isEqualTo(root.resolve("dev/ttyACM0").toString());
        assertThat(port.description()).isEqualTo("Rig controller");
        assertThat(port.serialNumber()).contains("QW-0042");
        assertThat(port.lasting()).contains(link.toString());
        assertThat(port.usb()).isTrue();
    }

    @Test
    void an_adapter_that_says_nothing_is_still_told_as_one() throws IOException {
        usb("ttyUSB0", "1-3", "", "");

        assertThat(ports().get(0).description()).isEqualTo("USB adapter");
        assertThat(ports().get(0).serialNumber()).isEmpty();
        assertThat(ports().get(0).lasting()).isEmpty();
    }

    @Test
    void terminals_chips_that_are_not_there_and_ports_without_a_file_are_no_ports() throws IOException {
        Files.createDirectories(root.resolve("sys/class/tty/tty0"));
        file("dev/tty0", "");
        chip("ttyS0", "4");
        chip("ttyS1", "0"); // type 0: no chip found, as the kernel lists four by default
        usb("ttyUSB7", "1-7", "gone", "");
        Files.delete(root.resolve("dev/ttyUSB7"));

        assertThat(ports()).extracting(SerialPorts.Port::description).containsExactly("serial port of this computer");
    }

    @Test
    void ports_are_sorted_with_numbers_as_numbers() throws IOException {
        usb("ttyUSB10", "1-1", "a", "");
        usb("ttyUSB2", "1-2", "b", "");
        usb("ttyACM0", "1-3", "c", "");

        assertThat(ports())
                .extracting(port -> Path.of(port.path()).getFileName().toString())
                .containsExactly("ttyACM0", "ttyUSB2", "ttyUSB10");
    }

    @Test
    void access_is_that_of_the_device_file_and_the_list_of_groups() throws IOException {
        usb("ttyACM0", "1-2", "Rig controller", "");
        Path file = root.resolve("dev/ttyACM0");
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-rw----"));
        String group =
                Files.readAttributes(file, PosixFileAttributes.class).group().getName();
        file("etc/group", "other:x:1:\n" + group + ":x:20:somebody," + System.getProperty("user.name") + "\n");

        assertThat(ports().get(0).access()).hasValueSatisfying(access -> {
            assertThat(access.group()).isEqualTo(group);
            assertThat(access.groupMay()).isTrue();
            assertThat(access.thisUserMay()).isTrue();
            assertThat(access.memberSince()).isTrue();
        });
    }

    @Test
    void a_group_that_may_only_read_may_not_open() throws IOException {
        usb("ttyACM0", "1-2", "Rig controller", "");
        Files.setPosixFilePermissions(root.resolve("dev/ttyACM0"), PosixFilePermissions.fromString("rw-r-----"));

        assertThat(ports().get(0).access()).hasValueSatisfying(access -> {
            assertThat(access.groupMay()).isFalse();
            assertThat(access.memberSince()).isFalse();
        });
    }

    @Test
    void a_system_without_ports_has_none() {
        assertThat(ports()).isEmpty();
    }

    @Test
    void the_real_list_opens_nothing_and_is_sorted() {
        List<String> paths =
                SerialPorts.list().stream().map(SerialPorts.Port::path).toList();

        assertThat(paths).isSortedAccordingTo(SerialPorts::byNumber);
    }
}
