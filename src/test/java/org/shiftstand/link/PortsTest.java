package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.PtyRig;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedPlace;

/** What holds for every place where a rig can be plugged in. */
class PortsTest {
    private static final long SECOND = 1_000_000;
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @Timeout(60)
    abstract static class PortContract {
        abstract Port at(String options) throws Exception;

        @Test
        void the_line_can_be_opened_closed_and_opened_again() throws Exception {
            Port port = at("");
            for (int i = 0; i < 3; i++) {
                try (Link link = port.open()) {
                    assertThat(link.address()).isEqualTo(port.address());
                    assertGreeted(link);
                }
            }
        }

        @Test
        void an_unplugged_line_is_lost_cannot_be_had_and_can_be_had_again() throws Exception {
            Port port = at("unplug-at=1,replug-after=2");
            try (Link link = port.open()) {
                assertGreeted(link);
                assertThat(link.receive(link.now() + 20 * SECOND)).isInstanceOf(Arrival.Lost.class);
            }

            assertThatThrownBy(port::open)
                    .isInstanceOf(LinkException.class)
                    .hasMessageStartingWith(port.address() + ": no such port");
            for (int i = 0; i < 200; i++) {
                try (Link link = port.open()) {
                    assertGreeted(link);
                    return;
                } catch (LinkException e) {
                    port.pause(100_000);
                }
            }
            throw new AssertionError("never came back");
        }

        private static void assertGreeted(Link link) {
            link.send(MessageCodec.encode(new HostMessage.Hello(1, 1), 0));
            Arrival arrival = link.receive(link.now() + 5 * SECOND);
            while (!identity(arrival)) {
                assertThat(arrival).isInstanceOf(Arrival.Received.class);
                arrival = link.receive(link.now() + 5 * SECOND);
            }
        }

        private static boolean identity(Arrival arrival) {
            return arrival instanceof Arrival.Received r && r.frame().type() == MessageCodec.IDENTITY;
        }
    }

    @Nested
    class Simulated extends PortContract {
        @Override
        Port at(String options) {
            return new SimulatedPlace(TARN, SimOptions.parse(options));
        }
    }

    @Nested
    @EnabledOnOs(OS.LINUX)
    class Serial extends PortContract {
        @TempDir
        private Path folder;

        private @Nullable PtyRig rig;

        @Override
        Port at(String options) throws IOException {
            Path symlink = folder.resolve("rig");
            rig = new PtyRig(TARN, SimOptions.parse(options), Optional.of(symlink));
            return new SerialPlace(symlink.toString(), SerialLink.USUAL_SPEED);
        }

        @AfterEach
        void end() {
            PtyRig made = rig;
            if (made != null) {
                made.close();
            }
        }
    }

    @Test
    void a_pause_is_as_long_as_asked_for_an_interrupted_thread_too_and_tells_it_afterwards() {
        long before = System.nanoTime();
        Thread.currentThread().interrupt();

        new SerialPlace("/dev/ttyNOWHERE7", SerialLink.USUAL_SPEED).pause(50_000);

        assertThat(System.nanoTime() - before).isGreaterThanOrEqualTo(50_000_000);
        assertThat(Thread.interrupted()).isTrue();
    }
}
