package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.link.FaultCode;
import org.shiftstand.link.Frame;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.HostMessage.Arm;
import org.shiftstand.link.HostMessage.Button;
import org.shiftstand.link.HostMessage.Configure;
import org.shiftstand.link.HostMessage.Cut;
import org.shiftstand.link.HostMessage.Hello;
import org.shiftstand.link.HostMessage.Limits;
import org.shiftstand.link.HostMessage.ShiftRequest;
import org.shiftstand.link.HostMessage.Stop;
import org.shiftstand.link.HostMessage.SupplySet;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigState;

/** The simulated rig by the tables of rig/WIRE.md, section 3 and 6. */
class RigStatesTest {
    private SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.seeded(3));
    private Session session = new Session(link);

    private void open(String options) {
        link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse(options));
        session = new Session(link);
    }

    private void bring(String state) {
        switch (state) {
            case "idle" -> session.say(new Hello(1, 0));
            case "armed" -> session.armed(512, 64);
            case "moving" -> {
                session.armed(512, 64);
                session.say(new ShiftRequest(1, 0));
                session.listen(0.05);
            }
            case "cut" -> {
                session.armed(512, 64);
                session.say(new Cut());
            }
            case "fault" -> {
                open("estop-at=0.4");
                session.armed(512, 64);
            }
            default -> throw new IllegalArgumentException(state);
        }
        session.listen(0.001);
        assertThat(link.rig().state().word()).isEqualTo(state);
    }

    private static HostMessage message(String word) {
        return switch (word) {
            case "hello" -> new Hello(1, 0);
            case "configure" -> new Configure(512, 64);
            case "limits" -> Session.NO_GUARDS;
            case "arm" -> new Arm(8200);
            case "request" -> new ShiftRequest(1, 0);
            case "button" -> new Button(1, 80);
            case "supply" -> new SupplySet(7400);
            case "cut" -> new Cut();
            case "stop" -> new Stop();
            default -> throw new IllegalArgumentException(word);
        };
    }

    /** The table of states, row by row; 10 is the cause, the emergency stop. A rig without contacts refuses buttons with 6. */
    @ParameterizedTest
    @CsvSource({
        "configure, idle, yes, idle",
        "configure, armed, 2, armed",
        "configure, moving, 2, moving",
        "configure, cut, yes, cut",
        "configure, fault, 10, fault",
        "limits, idle, yes, idle",
        "limits, armed, yes, armed",
        "limits, moving, yes, moving",
        "limits, cut, yes, cut",
        "limits, fault, yes, fault",
        "arm, idle, 7, idle",
        "arm, armed, 2, armed",
        "arm, moving, 2, moving",
        "arm, cut, yes, armed",
        "arm, fault, 10, fault",
        "request, idle, 3, idle",
        "request, armed, yes, moving",
        "request, moving, yes, moving",
        "request, cut, 3, cut",
        "request, fault, 10, fault",
        "button, idle, 3, idle",
        "button, armed, 6, armed",
        "button, moving, 6, moving",
        "button, cut, 3, cut",
        "button, fault, 10, fault",
        "supply, idle, 3, idle",
        "supply, armed, yes, armed",
        "supply, moving, yes, moving",
        "supply, cut, 3, cut",
        "supply, fault, 10, fault",
        "cut, idle, yes, idle",
        "cut, armed, yes, cut",
        "cut, moving, yes, cut",
        "cut, cut, yes, cut",
        "cut, fault, yes, fault",
        "stop, idle, yes, idle",
        "stop, armed, yes, idle",
        "stop, moving, yes, idle",
        "stop, cut, yes, idle",
        "stop, fault, yes, fault",
    })
    void a_state_takes_or_refuses_a_command(String command, String state, String answer, String after) {
        bring(state);

        int sequence = session.say(message(command));
        session.listen(0.001);

        if (answer.equals("yes")) {
            assertThat(session.acknowledged(sequence)).isTrue();
            assertThat(session.refusals(sequence)).isEmpty();
        } else {
            assertThat(session.refusals(sequence))
                    .extracting(FaultCode::number)
                    .containsExactly(Integer.valueOf(answer));
            assertThat(session.acknowledged(sequence)).isFalse();
        }
        assertThat(link.rig().state().word()).isEqualTo(after);
        assertThat(link.rig().supplyMv() > 0).isEqualTo(after.equals("armed") || after.equals("moving"));
    }

    @ParameterizedTest
    @CsvSource({"idle", "armed", "moving", "cut"})
    void hello_cuts_forgets_and_identifies_in_every_state(String state) {
        bring(state);

        session.heard.clear();
        session.say(new Hello(1, 0));
        int arm = session.say(new Arm(8200));
        session.listen(0.3);

        assertThat(link.rig().state()).isEqualTo(RigState.IDLE);
        assertThat(link.rig().supplyMv()).isZero();
        assertThat(session.heard)
                .anyMatch(
                        m -> m instanceof RigMessage.Identity id && id.rigName().equals("sim"));
        assertThat(session.refusals(arm)).containsExactly(FaultCode.NOT_CONFIGURED);
        assertThat(session.blocks()).isEmpty();
    }

    @Test
    void arm_wants_limits_too() {
        session.say(new Hello(1, 0));
        session.say(new Configure(512, 64));
        int arm = session.say(new Arm(8200));
        session.listen(0.001);

        assertThat(session.refusals(arm)).containsExactly(FaultCode.NO_LIMITS);
    }

    @Nested
    class Values {
        @ParameterizedTest
        @CsvSource({"0, 64", "4001, 64", "512, 0", "512, 125"})
        void a_sampling_that_the_rig_cannot_do_is_refused(int rate, int perBlock) {
            session.say(new Hello(1, 0));
            int sequence = session.say(new Configure(rate, perBlock));
            session.listen(0.001);

            assertThat(session.refusals(sequence)).containsExactly(FaultCode.VALUE);
        }

        @Test
        void a_supply_outside_the_window_is_refused() {
            session.say(new Hello(1, 0));
            session.say(new Configure(512, 64));
            session.say(new Limits(0, 0, 0, 0, 6000, 9000, 0, 0));
            int low = session.say(new Arm(5999));
            int high = session.say(new Arm(9001));
            int most = session.say(new Arm(10_001));
            int right = session.say(new Arm(9000));
            session.listen(0.001);

            assertThat(session.refusals(low)).containsExactly(FaultCode.VALUE);
            assertThat(session.refusals(high)).containsExactly(FaultCode.VALUE);
            assertThat(session.refusals(most)).containsExactly(FaultCode.VALUE);
            assertThat(session.acknowledged(right)).isTrue();
        }

        @ParameterizedTest
        @CsvSource({"0, 0", "1, 3", "2, 0", "0, 11"})
        void a_request_without_meaning_is_refused(int direction, int sprocket) {
            session.armed(512, 64);
            int sequence = session.say(new ShiftRequest(direction, sprocket));
            session.listen(0.001);

            assertThat(session.refusals(sequence)).containsExactly(FaultCode.VALUE);
            assertThat(session.events(Event.Kind.REQUEST_ECHO)).isEmpty();
        }

        @Test
        void a_current_limit_without_its_time_is_refused() {
            session.say(new Hello(1, 0));
            int sequence = session.say(new Limits(9000, 0, 0, 0, 0, 0, 0, 0));
            session.listen(0.001);

            assertThat(session.refusals(sequence)).containsExactly(FaultCode.VALUE);
        }

        @Test
        void a_target_sprocket_is_reached_in_one_shift() {
            session.armed(512, 64);
            session.say(new ShiftRequest(0, 4));
            session.listen(2);

            ShiftTruth shift = link.truth().shifts().get(0);
            assertThat(shift.to()).isEqualTo(4);
            assertThat(shift.outcome()).isEqualTo("landed");
        }
    }

    @Nested
    class Repetitions {
        @Test
        void a_request_sent_again_is_answered_again_and_done_once() {
            session.armed(512, 64);
            int sequence = session.say(new ShiftRequest(1, 0));
            session.listen(0.2);
            session.repeat(new ShiftRequest(1, 0), sequence);
            session.listen(2);

            List<Event> echoes = session.events(Event.Kind.REQUEST_ECHO);
            assertThat(echoes).hasSize(2);
            assertThat(echoes.get(1)).isEqualTo(echoes.get(0)); // with its first time
            assertThat(link.truth().shifts()).hasSize(1);
        }

        @Test
        void a_refusal_is_repeated_as_it_was() {
            session.say(new Hello(1, 0));
            int sequence = session.say(new ShiftRequest(1, 0));
            session.repeat(new ShiftRequest(1, 0), sequence);
            session.listen(0.001);

            assertThat(session.refusals(sequence)).containsExactly(FaultCode.NOT_ARMED, FaultCode.NOT_ARMED);
        }

        @Test
        void after_two_seconds_a_number_is_new_again() {
            session.armed(512, 64);
            int sequence = session.say(new ShiftRequest(1, 0));
            session.listen(2.1);
            session.repeat(new ShiftRequest(1, 0), sequence);
            session.listen(2);

            assertThat(link.truth().shifts()).hasSize(2);
        }
    }

    @Nested
    class Supply {
        @Test
        void is_off_at_boot() {
            assertThat(link.rig().supplyMv()).isZero();
            assertThat(link.supplyLog()).isEmpty();
        }

        @Test
        void goes_off_one_second_after_the_last_heartbeat() {
            session.armed(512, 64);
            session.beating = false;
            session.say(new HostMessage.Heartbeat());
            long last = link.now();

            session.listen(3);

            SupplyChange off = link.supplyLog().get(1);
            assertThat(off).isEqualTo(new SupplyChange(last + 1_000_000, 0, "watchdog", 1_000_000));
            assertThat(link.rig().state()).isEqualTo(RigState.CUT);
            assertThat(session.events(Event.Kind.WATCHDOG)).hasSize(1);
            assertThat(session.events(Event.Kind.SUPPLY_OFF))
                    .extracting(Event::value)
                    .containsExactly(1);
        }

        @Test
        void stays_on_as_long_as_the_heart_beats_and_no_other_frame_counts() {
            session.armed(512, 64).listen(20);
            assertThat(link.rig().supplyMv()).isEqualTo(8200);

            session.beating = false;
            for (int i = 0; i < 8; i++) {
                session.say(Session.NO_GUARDS);
                session.listen(0.2);
            }
            assertThat(link.rig().supplyMv()).isZero();
        }

        @Test
        void only_arm_turns_it_on_after_a_cut() {
            session.armed(512, 64);
            session.say(new Cut());
            session.say(new HostMessage.Heartbeat());
            session.say(new SupplySet(8200));
            session.say(new ShiftRequest(1, 0));
            session.listen(2);
            assertThat(link.rig().supplyMv()).isZero();

            session.say(new Arm(8200));
            session.listen(0.1);
            assertThat(link.rig().supplyMv()).isEqualTo(8200);
        }

        @Test
        void goes_off_when_the_link_is_closed() {
            session.armed(512, 64);
            link.close();

            assertThat(link.supplyLog()).last().extracting(SupplyChange::cause).isEqualTo("port-lost");
            assertThat(link.rig().supplyMv()).isZero();
        }

        @Test
        void goes_off_when_the_line_is_unplugged() {
            open("unplug-at=0.7");
            session.armed(512, 64).listen(5);

            assertThat(session.lost).isEqualTo("the simulated line was unplugged");
            assertThat(link.now()).isEqualTo(700_000);
            assertThat(link.supplyLog()).last().isEqualTo(new SupplyChange(700_000, 0, "port-lost", 100_000));
        }
    }

    @Nested
    class Another_version {
        @Test
        void a_cut_is_done_whatever_version_its_frame_states_and_still_refused() {
            session.armed(512, 64);
            Frame cut = MessageCodec.encode(new Cut(), 99);
            link.send(new Frame(7, cut.type(), cut.sequence(), cut.payload()));
            session.listen(0.01);

            assertThat(link.rig().supplyMv()).isZero();
            assertThat(link.rig().state()).isEqualTo(RigState.CUT);
            assertThat(session.refusals(99)).containsExactly(FaultCode.VERSION);
        }

        @Test
        void nothing_else_is() {
            session.armed(512, 64);
            Frame stop = MessageCodec.encode(new Stop(), 99);
            link.send(new Frame(7, stop.type(), stop.sequence(), stop.payload()));
            session.listen(0.01);

            assertThat(link.rig().supplyMv()).isEqualTo(8200);
            assertThat(session.refusals(99)).containsExactly(FaultCode.VERSION);
        }
    }

    @Nested
    class Guards {
        @Test
        void a_stall_is_cut_by_the_current_guard() {
            open("fault=jam");
            session.armed(512, 64, new Limits(4000, 50, 0, 0, 0, 0, 0, 0));
            session.say(new ShiftRequest(1, 0));
            session.listen(1);

            assertThat(session.events(Event.Kind.OVER_CURRENT)).hasSize(1).allMatch(e -> e.value() > 4000);
            assertThat(session.events(Event.Kind.SUPPLY_OFF))
                    .extracting(Event::value)
                    .containsExactly(2);
            assertThat(link.rig().state()).isEqualTo(RigState.FAULT);
            assertThat(link.rig().supplyMv()).isZero();
        }

        @Test
        void inrush_is_no_over_current() {
            session.armed(512, 64, new Limits(4000, 50, 0, 0, 0, 0, 0, 0)).walk(1, 9);

            assertThat(link.rig().state()).isEqualTo(RigState.ARMED);
        }

        @Test
        void a_mean_current_over_its_time_is_cut() {
            open("fault=jam");
            session.armed(512, 64, new Limits(0, 0, 1000, 500, 0, 0, 0, 0));
            session.say(new ShiftRequest(1, 0));
            session.listen(1);

            assertThat(session.events(Event.Kind.SUPPLY_OFF))
                    .extracting(Event::value)
                    .containsExactly(2);
        }

        @Test
        void a_supply_that_sags_out_of_its_window_is_cut() {
            open("fault=jam");
            session.armed(512, 64, new Limits(0, 0, 0, 0, 8000, 9000, 0, 0));
            session.say(new ShiftRequest(1, 0));
            session.listen(1);

            assertThat(session.events(Event.Kind.SUPPLY_OFF))
                    .extracting(Event::value)
                    .containsExactly(5);
        }

        @Test
        void on_time_in_an_hour_is_counted_over_several_arms() {
            session.armed(512, 64, new Limits(0, 0, 0, 0, 0, 0, 10, 0)).listen(5);
            session.say(new Cut());
            session.listen(20);
            session.say(new Arm(8200));
            session.listen(10);

            assertThat(session.events(Event.Kind.SUPPLY_OFF))
                    .extracting(Event::value)
                    .containsExactly(0, 6);
            long on = 0;
            List<SupplyChange> log = link.supplyLog();
            for (int i = 0; i + 1 < log.size(); i += 2) {
                on += log.get(i + 1).atMicros() - log.get(i).atMicros();
            }
            assertThat(on).isBetween(10_000_000L, 10_010_000L);
        }

        @Test
        void a_rig_that_is_too_warm_does_not_stay_on() {
            session.armed(512, 64, new Limits(0, 0, 0, 0, 0, 0, 0, 200));

            assertThat(session.events(Event.Kind.TEMPERATURE))
                    .extracting(Event::value)
                    .containsExactly(250);
            assertThat(link.rig().supplyMv()).isZero();
        }
    }

    @Nested
    class EmergencyStop {
        @Test
        void held_from_the_start_allows_no_motion() {
            open("estop-at=0");
            session.armed(512, 64);
            int request = session.say(new ShiftRequest(1, 0));
            session.listen(0.2);

            assertThat(session.refusals(request)).containsExactly(FaultCode.EMERGENCY_STOP);
            assertThat(link.supplyLog()).isEmpty();
            assertThat(link.truth().shifts()).isEmpty();
        }

        @Test
        void cuts_tells_and_keeps_telling_until_a_hello_after_its_release() {
            open("estop-at=1");
            session.armed(512, 64).listen(1.2);

            assertThat(session.events(Event.Kind.EMERGENCY_STOP))
                    .extracting(Event::atMicros)
                    .containsExactly(1_000_000L);
            assertThat(session.events(Event.Kind.SUPPLY_OFF))
                    .extracting(Event::value)
                    .containsExactly(3);
            session.say(new Hello(1, 0));
            session.listen(0.01);
            assertThat(link.rig().state()).isEqualTo(RigState.FAULT); // still pressed

            session.listen(2);
            long told = session.heard.stream()
                    .filter(m -> m instanceof RigMessage.Fault f && f.code() == FaultCode.EMERGENCY_STOP.number())
                    .count();
            assertThat(told).isBetween(4L, 5L); // on entry, at the hello, each second since
            session.say(new Hello(1, 0));
            session.listen(0.01);
            assertThat(link.rig().state()).isEqualTo(RigState.IDLE);
            assertThat(link.rig().supplyMv()).isZero(); // its release turns nothing on
        }
    }

    @Nested
    class Versions {
        @Test
        void a_host_of_another_major_hears_who_the_rig_is_and_nothing_more() {
            session.say(new Hello(2, 0));
            int sequence = session.say(new Configure(512, 64));
            session.listen(0.01);

            assertThat(session.heard).anyMatch(m -> m instanceof RigMessage.Identity id && id.major() == 1);
            assertThat(session.refusals(sequence)).containsExactly(FaultCode.VERSION);
        }

        @Test
        void a_rig_of_another_major_says_so_in_frame_and_identity() {
            open("protocol=9");
            session.say(new Hello(1, 0));
            session.listen(0.01);

            RigMessage.Identity identity = (RigMessage.Identity) session.heard.get(0);
            assertThat(identity.major()).isEqualTo(9);
        }

        @Test
        void a_silent_rig_never_answers() {
            open("silent=true");
            session.armed(512, 64).listen(3);

            assertThat(session.heard).isEmpty();
            assertThat(link.now()).isEqualTo(3_500_000);
        }
    }

    @Nested
    class Line {
        @Test
        void one_flipped_byte_costs_just_one_block() {
            open("flip-byte-at=2");
            session.armed(512, 64).listen(5);

            assertThat(session.damaged).isEqualTo(1);
            assertMissing(1);
        }

        @Test
        void a_lost_frame_leaves_a_hole_in_the_numbers() {
            open("lose-frame-at=2,lose-frame-at=3");
            session.armed(512, 64).listen(5);

            assertThat(session.damaged).isZero();
            assertMissing(2);
        }

        private void assertMissing(int n) {
            List<RigMessage.Samples> blocks = session.blocks();
            long last = blocks.get(blocks.size() - 1).blockNumber();
            assertThat(last + 1 - blocks.size()).isEqualTo(n);
        }

        @Test
        void a_malformed_command_is_refused_and_noise_is_counted() {
            session.say(new Hello(1, 0));
            link.send(new org.shiftstand.link.Frame(1, 0x03, 77, new byte[] {1}));
            link.send(new org.shiftstand.link.Frame(1, 0x7E, 78, new byte[0]));
            byte[] noise = {1, 2, 3, 0};
            link.rig().onBytes(noise, 0, noise.length, frame -> {});
            session.listen(0.01);

            assertThat(session.refusals(77)).containsExactly(FaultCode.MALFORMED);
            assertThat(session.refusals(78)).isEmpty();
            assertThat(link.rig().ignored()).isEqualTo(3);
        }
    }

    @Nested
    class Samples {
        @Test
        void blocks_are_full_numbered_and_evenly_timed() {
            session.armed(512, 64).listen(4);

            List<RigMessage.Samples> blocks = session.blocks();
            assertThat(blocks).hasSizeGreaterThan(30).allMatch(b -> b.count() == 64 && b.intervalNanos() == 1_953_125);
            for (int i = 1; i < blocks.size(); i++) {
                assertThat(blocks.get(i).blockNumber()).isEqualTo(i);
                assertThat(blocks.get(i).firstMicros() - blocks.get(i - 1).firstMicros())
                        .isEqualTo(125_000);
            }
        }

        @Test
        void stop_sends_what_is_left_before_its_acknowledgement() {
            session.armed(512, 64);
            session.heard.clear();
            int sequence = session.say(new Stop());
            session.listen(1);

            assertThat(session.blocks()).hasSize(1).allMatch(b -> b.count() < 64);
            int block = session.heard.indexOf(session.blocks().get(0));
            assertThat(block).isLessThan(session.heard.indexOf(new RigMessage.Ack(sequence)));
        }

        @Test
        void sampling_goes_on_through_a_cut_and_reads_no_supply() {
            session.armed(512, 64);
            session.say(new Cut());
            session.listen(2);

            RigMessage.Samples last =
                    Objects.requireNonNull(session.blocks().get(session.blocks().size() - 1));
            assertThat(last.samples()[3]).isLessThan((short) 10);
        }

        @Test
        void an_event_comes_before_the_block_with_the_first_sample_after_it() {
            session.armed(512, 64).walk(1, 3);

            long sampled = -1;
            for (RigMessage m : session.heard) {
                if (m instanceof RigMessage.Samples block) {
                    sampled = block.firstMicros() + (block.count() - 1) * block.intervalNanos() / 1000;
                } else if (m instanceof Event e) {
                    assertThat(e.atMicros()).isGreaterThanOrEqualTo(sampled);
                }
            }
        }

        @Test
        void moving_ends_a_tenth_of_a_second_after_the_sensors_went_off() {
            session.armed(512, 64);
            session.say(new ShiftRequest(1, 0));
            while (session.events(Event.Kind.HALL_OFF).isEmpty()) {
                session.listen(0.01);
            }

            session.listen(0.08);
            assertThat(link.rig().state()).isEqualTo(RigState.MOVING);
            session.listen(0.03);
            assertThat(link.rig().state()).isEqualTo(RigState.ARMED);
        }

        @Test
        void sensors_that_are_always_on_are_told_once() {
            open("gated=false");
            session.armed(512, 64).walk(1, 2);

            assertThat(session.events(Event.Kind.HALL_ON)).hasSize(1);
            assertThat(session.events(Event.Kind.HALL_OFF)).isEmpty();
        }
    }
}
