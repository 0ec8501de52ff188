package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.link.FaultCode;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.HostMessage.Cut;
import org.shiftstand.link.HostMessage.Drive;
import org.shiftstand.link.HostMessage.Limits;
import org.shiftstand.link.HostMessage.ShiftRequest;
import org.shiftstand.link.HostMessage.Stop;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigState;

/** The rig turns the motor itself: rig/WIRE.md, section 4, 5 and 6. */
class DriveTest {
    private SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse("seed=3,drive=direct"));
    private Session session = new Session(link);

    private void open(String options) {
        link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse(options));
        session = new Session(link);
    }

    private double angleDeg() {
        return link.rig().unit().angleDeg();
    }

    private List<Integer> ends() {
        return session.events(Event.Kind.DRIVE_OVER).stream().map(Event::value).toList();
    }

    /** Kinds of the last events, in the order in which they came. */
    private List<Event.Kind> kinds() {
        return session.heard.stream()
                .filter(Event.class::isInstance)
                .map(m -> ((Event) m).kind())
                .toList();
    }

    @Nested
    class On_a_rig_that_drives {
        @Test
        void the_identity_says_so() {
            session.armed(512, 64);

            assertThat(session.heard)
                    .anyMatch(m -> m instanceof RigMessage.Identity id && id.drive() == 1 && id.minor() == 1);
        }

        @Test
        void it_ends_by_itself_after_its_time() {
            session.armed(512, 64);
            double from = angleDeg();
            int sequence = session.say(new Drive(1, 800, 300, 1000));
            long asked = link.now();

            session.listen(2);

            assertThat(session.acknowledged(sequence)).isTrue();
            Event over = session.events(Event.Kind.DRIVE_OVER).get(0);
            assertThat(over.value()).isZero();
            assertThat(over.sequence()).isEqualTo(sequence);
            assertThat(over.atMicros() - asked).isBetween(1_000_000L, 1_050_000L); // braking comes on top
            // 1 s less 12 ms for the sensors, some more for starting and less for stopping
            assertThat(angleDeg() - from).isCloseTo(296, within(10.0));
        }

        @Test
        void it_goes_outboard_as_well() {
            session.armed(512, 64);
            double from = angleDeg();
            session.say(new Drive(-1, 800, 200, 1000));

            session.listen(2);

            assertThat(angleDeg() - from).isCloseTo(-197, within(10.0));
        }

        @ParameterizedTest
        @CsvSource({"400, 60, 300", "800, 300, 400", "800, 1000, 400", "3000, 3000, 1200"})
        void neither_current_nor_speed_pass_what_was_asked_for(int currentMa, int speedDegS, int ms) {
            session.armed(4000, 100);
            session.say(new Drive(1, currentMa, speedDegS, ms));
            double mostA = 0;
            double mostDegS = 0;
            double before = angleDeg();
            for (int i = 0; i < ms; i++) {
                session.listen(0.001);
                mostA = Math.max(mostA, link.rig().unit().currentA());
                mostDegS = Math.max(mostDegS, Math.abs(angleDeg() - before) / 0.001);
                before = angleDeg();
            }

            assertThat(mostA).isLessThanOrEqualTo(currentMa * 1e-3 + 0.0201); // the unit's own electronics
            assertThat(mostDegS).isBetween(0.9 * speedDegS, 1.1 * speedDegS);
        }

        @ParameterizedTest
        @CsvSource({"1, 10, 7100", "-1, 1, -520"})
        void it_stalls_gently_at_each_mechanical_limit(int direction, int start, double limitDeg) {
            open("drive=direct,start=" + start);
            session.armed(512, 64);
            session.say(new Drive(direction, 600, 200, 10_000));

            session.listen(6);

            assertThat(ends()).containsExactly(1);
            assertThat(angleDeg()).isEqualTo(limitDeg);
            assertThat(link.rig().supplyMv()).isEqualTo(8200);
        }

        @Test
        void a_current_that_does_not_turn_the_shaft_is_a_stall_after_100_ms() {
            session.armed(512, 64);
            double from = angleDeg();
            session.say(new Drive(1, 100, 200, 5000)); // friction takes 240 mA

            session.listen(0.3);

            assertThat(ends()).containsExactly(1);
            assertThat(angleDeg()).isEqualTo(from);
        }

        @Test
        void it_is_stopped_by_a_drive_without_direction() {
            session.armed(512, 64);
            session.say(new Drive(1, 800, 300, 60_000));
            session.listen(0.5);
            int stop = session.say(Drive.stopNow());
            double there = angleDeg();

            session.listen(0.5);

            assertThat(session.acknowledged(stop)).isTrue();
            assertThat(ends()).containsExactly(2);
            assertThat(angleDeg() - there).isBetween(0.0, 10.0);
        }

        @Test
        void a_stop_without_a_drive_is_accepted_and_does_nothing() {
            session.armed(512, 64);
            int stop = session.say(Drive.stopNow());

            session.listen(0.5);

            assertThat(session.acknowledged(stop)).isTrue();
            assertThat(ends()).isEmpty();
            assertThat(link.rig().state()).isEqualTo(RigState.ARMED);
        }

        @Test
        void another_drive_takes_its_place() {
            session.armed(512, 64);
            double from = angleDeg();
            int first = session.say(new Drive(1, 800, 300, 5000));
            session.listen(0.5);
            int second = session.say(new Drive(-1, 800, 300, 1000));

            session.listen(2);

            assertThat(session.events(Event.Kind.DRIVE_OVER))
                    .extracting(Event::sequence, Event::value)
                    .containsExactly(
                            org.assertj.core.groups.Tuple.tuple(first, 2),
                            org.assertj.core.groups.Tuple.tuple(second, 0));
            assertThat(angleDeg()).isLessThan(from);
        }

        @Test
        void a_repeated_command_is_not_done_again() {
            session.armed(512, 64);
            Drive drive = new Drive(1, 800, 300, 300);
            int sequence = session.say(drive);
            session.listen(0.7);
            double there = angleDeg();

            session.repeat(drive, sequence);
            session.listen(0.7);

            assertThat(angleDeg()).isEqualTo(there);
            assertThat(ends()).containsExactly(0);
        }

        @Test
        void the_sensors_are_powered_from_before_the_motion_until_100_ms_after_it() {
            session.armed(512, 64);
            session.say(new Drive(1, 800, 300, 500));
            session.listen(2);

            Event on = session.events(Event.Kind.HALL_ON).get(0);
            Event over = session.events(Event.Kind.DRIVE_OVER).get(0);
            Event off = session.events(Event.Kind.HALL_OFF).get(0);
            assertThat(over.atMicros() - on.atMicros()).isGreaterThanOrEqualTo(500_000);
            assertThat(off.atMicros() - over.atMicros()).isGreaterThanOrEqualTo(100_000);
        }

        @Test
        void the_rig_is_moving_until_100_ms_after_Hall_off() {
            session.armed(512, 64);
            session.say(new Drive(1, 800, 300, 500));
            session.listen(0.76); // 0.5 driven, braking, 0.17 awake, 0.1
            assertThat(link.rig().state()).isEqualTo(RigState.MOVING);

            session.listen(0.06);

            assertThat(link.rig().state()).isEqualTo(RigState.ARMED);
        }

        @Test
        void with_sensors_always_on_it_is_moving_until_100_ms_after_the_end() {
            open("drive=direct,gated=false");
            session.armed(512, 64);
            session.say(new Drive(1, 800, 300, 500));
            session.listen(0.59);
            assertThat(link.rig().state()).isEqualTo(RigState.MOVING);

            session.listen(0.06);

            assertThat(link.rig().state()).isEqualTo(RigState.ARMED);
        }

        @Test
        void shifts_are_still_requested_and_start_where_the_rig_left_the_shaft() {
            session.armed(512, 64);
            session.say(new Drive(1, 800, 1000, 700)); // to about sprocket 2
            session.listen(1.2);
            session.say(new ShiftRequest(1, 0));
            session.listen(2);

            ShiftTruth shift = link.truth().shifts().get(0);
            assertThat(shift.from()).isEqualTo(2);
            assertThat(shift.to()).isEqualTo(3);
            assertThat(shift.outcome()).isEqualTo("landed");
            assertThat(shift.creepDeg()).isEmpty(); // the shaft was moved, it did not creep
        }

        @Test
        void a_shift_request_is_refused_while_a_drive_is_under_way() {
            session.armed(512, 64);
            session.say(new Drive(1, 800, 300, 1000));
            session.listen(0.2);
            int request = session.say(new ShiftRequest(1, 0));
            session.listen(0.01);

            assertThat(session.refusals(request)).containsExactly(FaultCode.STATE);
        }

        @Test
        void a_drive_is_refused_while_a_shift_is_under_way_but_not_its_stop() {
            session.armed(512, 64);
            session.say(new ShiftRequest(1, 0));
            session.listen(0.1);
            int drive = session.say(new Drive(1, 800, 300, 1000));
            int stop = session.say(Drive.stopNow());
            session.listen(2);

            assertThat(session.refusals(drive)).containsExactly(FaultCode.STATE);
            assertThat(session.acknowledged(stop)).isTrue();
            assertThat(link.truth().shifts().get(0).outcome()).isEqualTo("landed");
        }

        @ParameterizedTest
        @CsvSource({"2, 800, 300, 100", "1, 0, 300, 100", "1, 800, 0, 100", "-1, 800, 300, 0"})
        void a_value_without_meaning_is_refused(int direction, int currentMa, int speedDegS, int ms) {
            session.armed(512, 64);
            int sequence = session.say(new Drive(direction, currentMa, speedDegS, ms));
            session.listen(0.01);

            assertThat(session.refusals(sequence)).containsExactly(FaultCode.VALUE);
        }

        @Test
        void the_same_bytes_come_however_finely_time_is_cut() {
            List<RigMessage> coarse = driven(0.5);

            assertThat(driven(0.0007)).usingRecursiveComparison().isEqualTo(coarse);
        }

        private List<RigMessage> driven(double seconds) {
            open("seed=3,drive=direct,start=10");
            session.beating = false;
            session.armed(512, 64);
            session.say(new HostMessage.Heartbeat());
            session.say(new Drive(1, 600, 700, 5000)); // 420 deg to the limit
            double left = 0.9;
            while (left > 0) {
                session.listen(Math.min(left, seconds));
                left -= seconds;
            }
            session.listen(0.1);
            return new ArrayList<>(session.heard);
        }
    }

    @Nested
    class When_the_supply_goes {
        @ParameterizedTest
        @CsvSource({"cut", "stop"})
        void the_drive_ends_first_then_the_sensors_then_the_supply(String command) {
            session.armed(512, 64);
            session.say(new Drive(1, 800, 300, 5000));
            session.listen(0.5);
            int sequence = session.say(command.equals("cut") ? new Cut() : new Stop());
            session.listen(0.2);

            assertThat(session.acknowledged(sequence)).isTrue();
            assertThat(ends()).containsExactly(3);
            List<Event.Kind> kinds = kinds();
            assertThat(kinds.subList(kinds.size() - 3, kinds.size()))
                    .containsExactly(Event.Kind.DRIVE_OVER, Event.Kind.HALL_OFF, Event.Kind.SUPPLY_OFF);
        }

        @Test
        void a_host_that_falls_silent_ends_the_drive_within_a_second() {
            session.armed(512, 64);
            session.say(new HostMessage.Heartbeat());
            session.say(new Drive(1, 800, 300, 60_000));
            session.beating = false;

            session.listen(3);

            assertThat(ends()).containsExactly(3);
            double there = angleDeg();
            session.listen(1);
            assertThat(angleDeg()).isEqualTo(there);
            assertThat(link.rig().supplyMv()).isZero();
        }

        @Test
        void the_current_guard_holds_for_a_drive_too() {
            open("drive=direct,start=10");
            session.armed(512, 64, new Limits(500, 50, 0, 0, 0, 0, 0, 0));
            session.say(new Drive(1, 1500, 300, 10_000));

            session.listen(4);

            assertThat(link.rig().state()).isEqualTo(RigState.FAULT);
            assertThat(ends()).containsExactly(3);
        }
    }

    @Nested
    class Refused {
        @Test
        void by_a_rig_that_only_requests() {
            open("");
            session.armed(512, 64);
            int drive = session.say(new Drive(1, 800, 300, 1000));
            int stop = session.say(Drive.stopNow());
            session.listen(0.01);

            assertThat(session.refusals(drive)).containsExactly(FaultCode.UNSUPPORTED);
            assertThat(session.refusals(stop)).containsExactly(FaultCode.UNSUPPORTED);
        }

        @Test
        void before_the_rig_is_armed_and_after_a_cut() {
            session.say(new HostMessage.Hello(1, 1));
            int idle = session.say(new Drive(1, 800, 300, 1000));
            session.armed(512, 64);
            session.say(new Cut());
            int cut = session.say(new Drive(1, 800, 300, 1000));
            session.listen(0.01);

            assertThat(session.refusals(idle)).containsExactly(FaultCode.NOT_ARMED);
            assertThat(session.refusals(cut)).containsExactly(FaultCode.NOT_ARMED);
        }

        @Test
        void with_the_cause_in_a_fault() {
            open("drive=direct,estop-at=0.4");
            session.armed(512, 64);
            int drive = session.say(new Drive(1, 800, 300, 1000));
            session.listen(0.01);

            assertThat(session.refusals(drive)).containsExactly(FaultCode.EMERGENCY_STOP);
        }

        @Test
        void without_an_answer_to_a_host_of_version_1_0() {
            session.armed(512, 64);
            session.say(new HostMessage.Hello(1, 0));
            session.say(new HostMessage.Configure(512, 64));
            session.say(Session.NO_GUARDS);
            session.say(new HostMessage.Arm(8200));
            session.listen(0.1);
            long before = link.rig().ignored();
            int drive = session.say(new Drive(1, 800, 300, 1000));
            session.listen(0.5);

            assertThat(session.refusals(drive)).isEmpty();
            assertThat(session.acknowledged(drive)).isFalse();
            assertThat(link.rig().ignored()).isEqualTo(before + 1);
            assertThat(link.rig().state()).isEqualTo(RigState.ARMED);
        }
    }
}
