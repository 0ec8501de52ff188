package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.link.HostMessage.ShiftRequest;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigState;

/** One rig and one unit, unplugged and plugged in again. */
class SimulatedPlaceTest {
    private static final long SECOND = 1_000_000;

    private SimulatedPlace place = at("");

    private static SimulatedPlace at(String options) {
        return new SimulatedPlace(TarnDrive.profile(), SimOptions.parse(options));
    }

    @Test
    void a_unit_stands_in_the_next_link_where_the_last_one_left_it() {
        var first = new Session(place.open()).armed(512, 64).walk(1, 3);
        first.link.close();

        var second = new Session(place.open()).armed(512, 64).walk(1, 1);
        second.link.close();

        assertThat(place.truth().shifts()).extracting(ShiftTruth::to).containsExactly(2, 3, 4, 5);
    }

    @Test
    void each_link_has_its_own_clock_and_the_wall_clock_goes_on() {
        var first = place.open();
        first.receive(2 * SECOND);
        first.close();
        place.pause(3 * SECOND);

        var second = place.open();

        assertThat(second.now()).isZero();
        assertThat(second.utcMicros()).isEqualTo(SimulatedPlace.START_UTC_MICROS + 5 * SECOND);
        second.receive(SECOND);
        assertThat(second.now()).isEqualTo(SECOND);
    }

    @Test
    void closing_a_link_leaves_the_supply_off() {
        var session = new Session(place.open()).armed(512, 64);
        session.link.close();

        assertThat(place.rig().supplyMv()).isZero();
        assertThat(place.supplyLog()).last().extracting(SupplyChange::cause).isEqualTo("port-lost");
    }

    @Test
    void one_link_at_a_time() {
        place.open();

        assertThatThrownBy(() -> place.open()).isInstanceOf(LinkException.class).hasMessageContaining("open already");
    }

    @Nested
    class Unplugged {
        @Test
        void the_link_is_lost_the_supply_off_and_the_place_says_no_until_it_is_plugged_in_again() {
            place = at("unplug-at=2,replug-after=5");
            var session = new Session(place.open()).armed(512, 64).listen(10);
            session.link.close();

            assertThat(session.lost).isEqualTo("the simulated line was unplugged");
            assertThat(session.link.now()).isEqualTo(2 * SECOND);
            assertThat(place.rig().supplyMv()).isZero();
            assertThatThrownBy(() -> place.open())
                    .isInstanceOf(LinkException.class)
                    .hasMessage(
                            "sim: no such port: the simulated line is unplugged; wait until it is plugged in again.");
            place.pause(5 * SECOND - 1);
            assertThatThrownBy(() -> place.open()).isInstanceOf(LinkException.class);
            place.pause(1);
            assertThat(new Session(place.open()).armed(512, 64).blocks()).isNotEmpty();
        }

        @Test
        void for_good_without_a_word_about_plugging_in() {
            place = at("unplug-at=1");
            new Session(place.open()).listen(2).link.close();
            place.pause(3600 * SECOND);

            assertThatThrownBy(() -> place.open())
                    .hasMessage(
                            "sim: no such port: the simulated line is unplugged for good. Leave unplug-at out, or add replug-after.");
        }

        @Test
        void more_than_once() {
            place = at("unplug-at=1,unplug-at=1.5,unplug-at=6,replug-after=2");
            var first = new Session(place.open()).listen(9);
            first.link.close();
            place.pause(2 * SECOND); // 1.5 was of a time without a line
            var second = new Session(place.open()).listen(9);

            assertThat(first.lost).isNotEmpty();
            assertThat(second.lost).isNotEmpty();
            assertThat(place.nowMicros()).isEqualTo(6 * SECOND);
        }

        @Test
        void while_no_link_is_open() {
            place = at("unplug-at=1,replug-after=1");
            place.pause(1_500_000);

            assertThatThrownBy(() -> place.open()).isInstanceOf(LinkException.class);
            place.pause(SECOND);
            assertThat(new Session(place.open()).listen(1).lost).isEmpty();
        }

        @Test
        void a_shift_under_way_is_interrupted_and_the_unit_stands_where_it_ran_out() {
            place = at("unplug-at=0.53,replug-after=1");
            var session = new Session(place.open()).armed(512, 64);
            session.say(new ShiftRequest(1, 0));
            session.listen(3).link.close();
            place.pause(SECOND);

            ShiftTruth shift = place.truth().shifts().get(0);
            assertThat(shift.outcome()).isEqualTo("interrupted");
            assertThat(place.rig().unit().angleDeg()).isStrictlyBetween(20.0, 700.0);
        }
    }

    @Nested
    class After_the_re_plug {
        private List<Long> blockTimes(String options) {
            place = at(options);
            new Session(place.open()).armed(512, 64).listen(5).link.close();
            place.pause(SECOND);
            var session = new Session(place.open());
            session.armed(512, 64).listen(1);
            assertThat(session.blocks().get(0).blockNumber()).isZero();
            return session.blocks().stream()
                    .map(RigMessage.Samples::firstMicros)
                    .toList();
        }

        @Test
        void the_clock_of_a_rig_with_its_own_power_goes_on() {
            assertThat(blockTimes("unplug-at=3,replug-after=1").get(0)).isEqualTo(4 * SECOND);
        }

        @Test
        void the_clock_of_a_rig_that_boots_starts_again() {
            assertThat(blockTimes("unplug-at=3,replug-after=1,reboot=true").get(0))
                    .isZero();
        }

        @Test
        void a_rig_that_boots_is_idle_and_hears_and_speaks_again() {
            place = at("mute-at=1,deaf-at=1,unplug-at=3,replug-after=1,reboot=true");
            new Session(place.open()).armed(512, 64).listen(5).link.close();
            place.pause(SECOND);

            assertThat(place.rig().state()).isEqualTo(RigState.IDLE);
            assertThat(new Session(place.open()).armed(512, 64).blocks()).isNotEmpty();
        }

        @Test
        void truth_and_supply_log_go_on_in_one_time() {
            place = at("unplug-at=3,replug-after=1,reboot=true");
            new Session(place.open()).armed(512, 64).listen(5).link.close();
            place.pause(SECOND);
            var session = new Session(place.open()).armed(512, 64);
            session.walk(1, 1);

            assertThat(place.supplyLog())
                    .extracting(SupplyChange::atMicros)
                    .containsExactly(0L, 3 * SECOND, 4 * SECOND);
            assertThat(place.truth().shifts().get(0).requestS()).isEqualTo(4.5);
        }
    }
}
