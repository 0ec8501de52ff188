package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** What holds for every link with a sound rig at its other end. */
@Timeout(30)
abstract class LinkContract {
    private Link link;

    abstract Link open() throws Exception;

    abstract void free();

    @BeforeEach
    void open_the_link() throws Exception {
        link = open();
    }

    @AfterEach
    void close_the_link() {
        link.close();
        free();
    }

    @Test
    void it_has_an_address() {
        assertThat(link.address()).matches("sim.*|serial:.+");
    }

    @Test
    void nothing_comes_from_a_rig_that_was_not_greeted_and_the_wait_is_as_long_as_asked() {
        long until = link.now() + 150_000;

        assertThat(link.receive(until)).isEqualTo(new Arrival.Nothing());

        assertThat(link.now()).isGreaterThanOrEqualTo(until);
    }

    @Test
    void a_time_that_is_over_is_not_waited_for() {
        long before = link.now();

        assertThat(link.receive(before - 1_000_000)).isEqualTo(new Arrival.Nothing());

        assertThat(link.now() - before).isLessThan(900_000); // a busy machine; not the second asked about
    }

    @Test
    void a_greeting_is_answered() {
        link.send(MessageCodec.encode(new HostMessage.Hello(1, 0), 0));

        Arrival arrival = link.receive(link.now() + 2_000_000);

        assertThat(arrival).isInstanceOf(Arrival.Received.class);
        assertThat(MessageCodec.decodeRig(((Arrival.Received) arrival).frame()))
                .isInstanceOf(Decoded.Known.class)
                .matches(d -> ((Decoded.Known<RigMessage>) d).message() instanceof RigMessage.Identity);
    }

    @Test
    void both_clocks_go_alike_and_never_back() {
        long utc = link.utcMicros();
        long now = link.now();

        link.receive(now + 120_000);

        assertThat(link.now()).isGreaterThan(now);
        assertThat(link.utcMicros() - utc).isBetween(120_000L, link.now() - now + 1_000_000);
    }

    @Test
    void a_closed_link_is_lost_and_takes_anything() {
        link.close();

        link.send(MessageCodec.encode(new HostMessage.Cut(), 0));

        assertThat(link.receive(link.now() + 100_000)).isInstanceOf(Arrival.Lost.class);
        link.close();
    }
}
