package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.shiftstand.link.PortAccess;
import org.shiftstand.link.SerialPorts.Port;

/** What {@code rig list} says of a port, and above all of one that may not be opened. */
class RigListTest {
    private static final String USER = System.getProperty("user.name");

    private static Port port(PortAccess access) {
        return new Port(
                "/dev/ttyACM0",
                "Rig controller",
                Optional.of("QW-0042"),
                Optional.of("/dev/serial/by-id/usb-Rig_controller_QW-0042-if00"),
                true,
                Optional.of(access));
    }

    private static List<String> told(Port port) {
        StringWriter text = new StringWriter();
        RigListCommand.tell(port, new PrintWriter(text, true));
        return text.toString().lines().toList();
    }

    @Test
    void a_port_has_its_adapter_its_lasting_name_and_who_may_open_it() {
        assertThat(told(port(new PortAccess("root", "dialout", true, true, true))))
                .containsExactly(
                        "serial:/dev/ttyACM0  Rig controller, serial number QW-0042",
                        "    serial:/dev/serial/by-id/usb-Rig_controller_QW-0042-if00  the same port, by a name that stays",
                        "    group dialout; you may open it");
    }

    @Test
    void who_is_not_in_the_group_is_told_the_command() {
        assertThat(told(port(new PortAccess("root", "dialout", true, false, false)))
                        .get(2))
                .isEqualTo("    you may not open it: its group is dialout. Type 'sudo usermod -aG dialout " + USER
                        + "', then log out and in again");
    }

    @Test
    void who_was_added_since_is_told_to_log_in_again() {
        assertThat(told(port(new PortAccess("root", "dialout", true, false, true)))
                        .get(2))
                .isEqualTo("    you may not open it: its group is dialout, which you have been added to. Log out and in"
                        + " again, so that it counts");
    }

    @Test
    void where_no_group_may_the_administrator_is_named() {
        assertThat(told(port(new PortAccess("root", "root", false, false, false)))
                        .get(2))
                .contains("only root may", "udev rule");
    }

    @Test
    void what_an_adapter_says_of_itself_moves_no_cursor() {
        Port wild =
                new Port("/dev/ttyACM0", "Rig\u001b[2J", Optional.empty(), Optional.empty(), true, Optional.empty());

        assertThat(told(wild)).containsExactly("serial:/dev/ttyACM0  Rig?[2J");
    }

    @Test
    void json_has_the_same() {
        StringWriter text = new StringWriter();

        RigListCommand.json(
                List.of(port(new PortAccess("root", "dialout", true, false, false))), new PrintWriter(text, true));

        assertThat(text.toString())
                .contains("\"path\": \"/dev/ttyACM0\"", "\"description\": \"Rig controller\"")
                .contains("\"serialNumber\": \"QW-0042\"", "\"usb\": true", "\"group\": \"dialout\"")
                .contains("\"byId\": \"/dev/serial/by-id/usb-Rig_controller_QW-0042-if00\"")
                .contains("\"groupMayOpen\": true", "\"mayOpen\": false");
    }
}
