package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.link.Arrival;
import org.shiftstand.link.Decoded;
import org.shiftstand.link.FaultCode;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.HostMessage.Limits;
import org.shiftstand.link.HostMessage.ShiftRequest;
import org.shiftstand.link.Link;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigState;

/** What can go wrong in a simulated rig and on the line to it, one thing at a time. */
class MishapTest {
    private SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.seeded(3));
    private Session session = new Session(link);

    private void open(String options) {
        link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse(options));
        session = new Session(link);
    }

    private List<Long> numbers() {
        return session.blocks().stream().map(RigMessage.Samples::blockNumber).toList();
    }

    @Nested
    class On_the_line {
        /** Frames and damages as they arrive during 2 s of sampling, 20 ms a block. */
        private List<String> arrivals(String options) {
            open(options);
            session.armed(500, 10);
            Link line = session.link;
            List<String> arrivals = new ArrayList<>();
            long until = line.now() + 400_000;
            while (line.now() < until) {
                Arrival arrival = line.receive(until);
                if (arrival instanceof Arrival.Received r
                        && MessageCodec.decodeRig(r.frame()) instanceof Decoded.Known<RigMessage> known
                        && known.message() instanceof RigMessage.Samples m) {
                    arrivals.add(String.valueOf(m.blockNumber()));
                } else if (arrival instanceof Arrival.Damaged d) {
                    arrivals.add("damaged " + d.bytes());
                }
            }
            return arrivals;
        }

        private final List<String> sound = arrivals("");

        private List<String> changed(int from, int to, String... instead) {
            List<String> expected = new ArrayList<>(sound.subList(0, from));
            expected.addAll(List.of(instead));
            expected.addAll(sound.subList(to, sound.size()));
            return expected;
        }

        @Test
        void nothing_happens_to_a_sound_one() {
            assertThat(sound).hasSizeGreaterThan(15).noneMatch(s -> s.startsWith("damaged"));
        }

        @Test
        void a_repeated_frame_comes_twice() {
            assertThat(arrivals("repeat-frame-at=0.6")).isEqualTo(changed(5, 6, sound.get(5), sound.get(5)));
        }

        @Test
        void a_reordered_frame_comes_one_late() {
            assertThat(arrivals("reorder-frame-at=0.6")).isEqualTo(changed(5, 7, sound.get(6), sound.get(5)));
        }

        @Test
        void a_truncated_frame_takes_the_next_one_with_it() {
            List<String> came = arrivals("truncate-frame-at=0.6");

            assertThat(came.get(5)).startsWith("damaged ");
            assertThat(came).isEqualTo(changed(5, 7, came.get(5)));
        }

        @Test
        void garbage_costs_no_frame() {
            assertThat(arrivals("garbage-at=0.6")).isEqualTo(changed(5, 5, "damaged 3000"));
        }
    }

    @Nested
    class In_the_rig {
        @Test
        void an_overrun_is_told_with_its_count_and_the_next_block_starts_later_by_so_many() {
            open("overrun-at=1");
            session.armed(500, 10).listen(1.5);

            Event overrun = session.events(Event.Kind.OVERRUN).get(0);
            assertThat(overrun.value()).isEqualTo(25); // 50 ms
            List<RigMessage.Samples> blocks = session.blocks();
            int lostMicros = 0;
            for (int i = 1; i < blocks.size(); i++) {
                assertThat(blocks.get(i).blockNumber())
                        .isEqualTo(blocks.get(i - 1).blockNumber() + 1);
                lostMicros +=
                        (int) (blocks.get(i).firstMicros() - blocks.get(i - 1).firstMicros()) - 20_000;
            }
            assertThat(lostMicros).isEqualTo(25 * 2000);
            int at = session.heard.indexOf(overrun);
            assertThat(session.heard.get(at - 1)).isInstanceOf(RigMessage.Samples.class); // between two blocks
        }

        @Test
        void the_guards_still_see_what_an_overrun_loses() {
            open("overrun-at=1,surge-at=1.001");
            session.armed(500, 10, new Limits(9000, 20, 0, 0, 0, 0, 0, 0)).listen(1);

            assertThat(session.events(Event.Kind.OVER_CURRENT)).hasSize(1);
            assertThat(link.rig().supplyMv()).isZero();
        }

        @Test
        void truth_says_gap_of_a_shift_that_an_overrun_strikes() {
            open("overrun-at=0.6");
            session.armed(500, 10).walk(1, 2);

            assertThat(link.truth().shifts()).extracting(ShiftTruth::evidence).containsExactly("gap", "complete");
        }

        @Test
        void a_surge_lasts_50_ms() {
            open("surge-at=1");
            session.armed(1000, 10).listen(1);

            long above = session.blocks().stream()
                    .flatMapToInt(
                            b -> java.util.stream.IntStream.range(0, b.count()).map(k -> b.samples()[4 * k + 2]))
                    .filter(counts -> counts * 2.5e-3 > 9)
                    .count();
            assertThat(above).isEqualTo(50);
            assertThat(link.rig().supplyMv()).isEqualTo(8200); // without a guard
        }

        @Test
        void a_surge_is_cut_by_the_current_guard() {
            open("surge-at=1");
            session.armed(1000, 10, new Limits(9000, 20, 0, 0, 0, 0, 0, 0)).listen(1);

            assertThat(link.supplyLog())
                    .last()
                    .extracting(SupplyChange::atMicros, SupplyChange::cause)
                    .containsExactly(1_020_000L, FaultCode.OVER_CURRENT.words());
            assertThat(session.events(Event.Kind.OVER_CURRENT).get(0).value()).isGreaterThan(9000);
        }

        @Test
        void overheating_rises_by_10_degC_a_second_until_the_guard_cuts() {
            open("overheat-at=1");
            session.armed(500, 10, new Limits(0, 0, 0, 0, 0, 0, 0, 600)).listen(6);

            Event hot = session.events(Event.Kind.TEMPERATURE).get(0);
            assertThat(hot.value()).isEqualTo(601);
            assertThat(hot.atMicros()).isCloseTo(4_510_000L, within(2000L)); // 36 degC after 3.51 s
            assertThat(link.rig().state()).isEqualTo(RigState.FAULT);
        }

        @Test
        void a_hot_rig_is_not_armed_again() {
            open("overheat-at=1");
            session.armed(500, 10, new Limits(0, 0, 0, 0, 0, 0, 0, 600)).listen(6);
            session.armed(500, 10, new Limits(0, 0, 0, 0, 0, 0, 0, 600)).listen(1);

            assertThat(link.rig().supplyMv()).isZero();
        }

        @ParameterizedTest
        @ValueSource(strings = {"estop-at=1,estop-at=10", "estop-at=10,estop-at=1"})
        void the_emergency_stop_can_be_pressed_more_than_once(String options) {
            open(options);
            session.armed(500, 10).listen(4);
            session.armed(500, 10).listen(10);

            assertThat(session.events(Event.Kind.EMERGENCY_STOP))
                    .extracting(Event::atMicros)
                    .containsExactly(1_000_000L, 10_000_000L);
        }

        @Test
        void a_mute_rig_says_nothing_more_but_does_what_it_is_told() {
            open("mute-at=1");
            session.armed(500, 10).listen(1);
            session.heard.clear();
            session.say(new ShiftRequest(1, 0));
            session.listen(3);

            assertThat(session.heard).isEmpty();
            assertThat(session.lost).isEmpty();
            assertThat(link.truth().shifts()).hasSize(1);
            assertThat(link.rig().supplyMv()).isEqualTo(8200); // the host's heart still beats
            session.say(new HostMessage.Cut());
            assertThat(link.rig().supplyMv()).isZero();
        }

        @Test
        void a_deaf_rig_answers_nothing_and_cuts_by_its_watchdog() {
            open("deaf-at=1");
            session.armed(500, 10).listen(1);
            int request = session.say(new ShiftRequest(1, 0));
            session.listen(3);

            assertThat(session.acknowledged(request)).isFalse();
            assertThat(session.events(Event.Kind.WATCHDOG)).hasSize(1);
            SupplyChange off = link.supplyLog().get(1);
            assertThat(off.cause()).isEqualTo("watchdog");
            assertThat(off.atMicros()).isBetween(1_800_000L, 2_000_000L);
            assertThat(off.sinceBeatMicros()).isEqualTo(1_000_000);
            assertThat(numbers()).isNotEmpty();
        }
    }
}
