package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Predicate;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** Every fault shows in the truth of the shifts it strikes, and in no other. Two sweeps each, invented data. */
class FaultTruthTest {
    private static final int SHIFTS_A_SWEEP = 18;
    private static final List<ShiftTruth> SOUND = truth("seed=5");

    private static List<ShiftTruth> truth(String options) {
        SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse(options));
        new Session(link).armed(512, 64).sweeps(10, 2);
        return link.truth().shifts();
    }

    /** The only shift that the fault struck; all others are as they would be without it. */
    private static ShiftTruth onlyStruck(String fault) {
        return onlyStruck(fault, s -> true);
    }

    private static ShiftTruth onlyStruck(String fault, Predicate<ShiftTruth> spared) {
        List<ShiftTruth> faulty = truth("seed=5,fault=" + fault + ",from-cycle=2");
        List<ShiftTruth> struck =
                faulty.stream().filter(s -> !s.faults().isEmpty()).toList();
        assertThat(struck).hasSize(1);
        assertThat(faulty).hasSameSizeAs(SOUND);
        for (int i = 0; i < faulty.size(); i++) {
            if (faulty.get(i).faults().isEmpty() && spared.test(faulty.get(i))) {
                assertSame(faulty.get(i), SOUND.get(i));
            }
        }
        return struck.get(0);
    }

    /** Alike but for what another start does: a stop under friction remembers a little of the way that led to it. */
    private static void assertSame(ShiftTruth a, ShiftTruth b) {
        String which = a.from() + " to " + a.to() + ", shift " + a.number();
        assertThat(a.outcome()).as(which).isEqualTo(b.outcome());
        assertThat(a.evidence()).as(which).isEqualTo(b.evidence());
        assertThat(a.from()).as(which).isEqualTo(b.from());
        assertThat(a.to()).as(which).isEqualTo(b.to());
        assertThat(a.cycle()).as(which).isEqualTo(b.cycle());
        alike(which + " landing", a.landingDeg(), b.landingDeg(), 0.2);
        alike(which + " overtravel", a.overtravelDeg(), b.overtravelDeg(), 0.2);
        alike(which + " hold", a.holdS(), b.holdS(), 0.002);
        alike(which + " ringing", a.ringingDeg(), b.ringingDeg(), 0.2);
        alike(which + " clearance", a.clearanceDeg(), b.clearanceDeg(), 0.2);
    }

    private static void alike(String what, OptionalDouble a, OptionalDouble b, double tolerance) {
        assertThat(a.isPresent()).as(what).isEqualTo(b.isPresent());
        if (a.isPresent()) {
            assertThat(a.getAsDouble()).as(what).isCloseTo(b.getAsDouble(), within(tolerance));
        }
    }

    private static ShiftTruth sound(int number) {
        return SOUND.get(number - 1);
    }

    private static double value(OptionalDouble d) {
        return d.orElseThrow();
    }

    @Test
    void a_sound_unit_lands_every_shift_and_strikes_no_fault() {
        assertThat(SOUND).hasSize(2 * SHIFTS_A_SWEEP);
        assertThat(SOUND)
                .allMatch(s -> s.outcome().equals("landed") && s.evidence().equals("complete"));
        assertThat(SOUND).allMatch(s -> s.faults().isEmpty());
        assertThat(SOUND).extracting(ShiftTruth::cycle).startsWith(1).endsWith(2);
    }

    @Nested
    class Overtravel {
        @Test
        void short_by_the_amount() {
            ShiftTruth s = onlyStruck("overtravel-short,pair=3-4");

            assertThat(value(s.overtravelDeg()))
                    .isCloseTo(value(sound(s.number()).overtravelDeg()) - 80, within(0.5));
        }

        @Test
        void long_by_the_amount() {
            ShiftTruth s = onlyStruck("overtravel-long,pair=5-4,amount=50");

            assertThat(value(s.overtravelDeg()))
                    .isCloseTo(value(sound(s.number()).overtravelDeg()) + 50, within(0.5));
        }

        @Test
        void missing_leaves_no_plateau_and_no_hold() {
            ShiftTruth s = onlyStruck("overtravel-missing,pair=4-5");

            assertThat(value(s.overtravelDeg())).isZero();
            assertThat(s.plateauDeg()).isEmpty();
            assertThat(s.holdS()).isEmpty();
            assertThat(s.outcome()).isEqualTo("landed");
        }

        @Test
        void a_part_of_it_missing_is_that_much_smaller() {
            ShiftTruth s = onlyStruck("overtravel-missing,pair=4-5,amount=60");

            assertThat(value(s.overtravelDeg())).isBetween(0.4 * 300 - 20, 0.4 * 300 + 10);
        }
    }

    @Nested
    class Landing {
        @Test
        void bias_moves_the_landing_and_leaves_overtravel() {
            ShiftTruth s = onlyStruck("bias,pair=6-5");

            assertThat(value(s.landingDeg())).isCloseTo(value(sound(s.number()).landingDeg()) + 40, within(0.2));
            assertThat(value(s.overtravelDeg()))
                    .isCloseTo(value(sound(s.number()).overtravelDeg()), within(0.2));
        }

        @Test
        void drift_grows_with_the_cycles() {
            List<ShiftTruth> drifting = truth("seed=5,fault=drift,from-cycle=1,pair=6-7,amount=4000");

            ShiftTruth first = drifting.get(5);
            ShiftTruth second = drifting.get(5 + SHIFTS_A_SWEEP);
            assertThat(value(first.landingDeg())).isCloseTo(value(sound(6).landingDeg()), within(0.2));
            assertThat(value(second.landingDeg()))
                    .isCloseTo(value(sound(6 + SHIFTS_A_SWEEP).landingDeg()) + 40, within(0.2));
        }

        @Test
        void spread_widens_by_its_amount() {
            ShiftTruth s = onlyStruck("spread,pair=8-9,amount=105");

            // ten times the usual 10.5 deg: the same deviate, ten times as far off, but for the stopping bias
            double usual = value(sound(s.number()).landingDeg()) - 5905;
            assertThat(value(s.landingDeg()) - 5905).isCloseTo(10 * usual, within(9 * 2.5));
            assertThat(value(s.landingDeg()))
                    .isNotCloseTo(value(sound(s.number()).landingDeg()), within(5.0));
        }

        @Test
        void creep_shows_at_the_next_start() {
            List<ShiftTruth> creeping = truth("seed=5,fault=creep,pair=3-4,from-cycle=2");

            List<ShiftTruth> moved =
                    creeping.stream().filter(s -> s.creepDeg().orElse(0) != 0).toList();
            assertThat(moved).hasSize(1);
            assertThat(value(moved.get(0).creepDeg())).isCloseTo(-30, within(1e-6));
            assertThat(moved.get(0).from()).isEqualTo(4);
            assertThat(creeping.get(moved.get(0).number() - 2).faults()).containsExactly(FaultKind.CREEP);
        }
    }

    @Nested
    class Motion {
        @Test
        void short_hold_is_shorter_by_the_amount() {
            ShiftTruth s = onlyStruck("short-hold,pair=2-3");

            assertThat(value(s.holdS())).isCloseTo(value(sound(s.number()).holdS()) - 0.3, within(0.002));
        }

        @Test
        void slow_takes_longer() {
            ShiftTruth s = onlyStruck("slow,pair=7-8");

            assertThat(value(s.travelTimeS()))
                    .isBetween(
                            1.2 * value(sound(s.number()).travelTimeS()),
                            1.6 * value(sound(s.number()).travelTimeS()));
            assertThat(s.peakCurrentA()).isLessThan(0.7 * sound(s.number()).peakCurrentA());
        }

        @Test
        void ringing_is_no_overtravel() {
            ShiftTruth with = onlyStruck("ringing,pair=4-3");
            ShiftTruth without = onlyStruck("ringing,pair=8-9,amount=60");

            assertThat(value(with.ringingDeg())).isBetween(30.0, 50.0);
            assertThat(value(with.returnRingingDeg())).isBetween(15.0, 50.0);
            assertThat(value(with.overtravelDeg()))
                    .isCloseTo(value(sound(with.number()).overtravelDeg()), within(10.0));
            assertThat(value(without.ringingDeg())).isBetween(45.0, 75.0);
            assertThat(value(without.overtravelDeg())).isZero();
        }

        @Test
        void a_sound_loop_does_not_ring() {
            assertThat(SOUND).allMatch(s -> value(s.ringingDeg()) < 0.5);
        }

        @Test
        void limit_close_leaves_the_amount_as_clearance() {
            List<ShiftTruth> close = truth("seed=5,fault=limit-close");

            List<ShiftTruth> struck =
                    close.stream().filter(s -> !s.faults().isEmpty()).toList();
            assertThat(struck).hasSize(4).allMatch(s -> s.to() == 1 || s.to() == 10);
            assertThat(struck).allMatch(s -> Math.abs(value(s.clearanceDeg()) - 30) < 12); // overtravel's own spread
            assertThat(close.stream().filter(s -> s.faults().isEmpty())).allMatch(s -> value(s.clearanceDeg()) > 200);
        }
    }

    @Nested
    class Outcomes {
        @Test
        void missed_does_not_move() {
            ShiftTruth s = truth("seed=5,fault=missed,pair=4-5,from-cycle=2").get(SHIFTS_A_SWEEP + 3);

            assertThat(s.outcome()).isEqualTo("missed");
            assertThat(value(s.landingDeg())).isEqualTo(s.startDeg());
            assertThat(s.motionStartS()).isEmpty();
            assertThat(s.settledS()).isEmpty();
            assertThat(s.from()).isEqualTo(4);
            assertThat(s.to()).isEqualTo(5);
        }

        @Test
        void double_lands_a_sprocket_further_and_the_next_starts_there() {
            List<ShiftTruth> all = truth("seed=5,fault=double,pair=4-5,from-cycle=2");
            ShiftTruth s = all.get(SHIFTS_A_SWEEP + 3);

            assertThat(s.outcome()).isEqualTo("double");
            assertThat(value(s.landingDeg())).isCloseTo(3700, within(45.0));
            assertThat(all.get(SHIFTS_A_SWEEP + 4).from()).isEqualTo(6);
            assertThat(all.get(SHIFTS_A_SWEEP + 8).outcome()).isEqualTo("missed"); // asked for an eleventh sprocket
        }

        @Test
        void a_jam_stalls_with_stall_current() {
            ShiftTruth s = truth("seed=5,fault=jam,pair=4-5,from-cycle=2").get(SHIFTS_A_SWEEP + 3);

            assertThat(s.outcome()).isEqualTo("stalled");
            assertThat(value(s.landingDeg())).isCloseTo(2170 + 0.4 * 760, within(1e-6));
            assertThat(s.peakCurrentA()).isCloseTo(8.2 / 1.55 + 0.02, within(1e-9));
        }

        @Test
        void a_request_before_rest_interrupts() {
            SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.seeded(5));
            Session session = new Session(link).armed(512, 64);
            session.say(new org.shiftstand.link.HostMessage.ShiftRequest(1, 0));
            session.listen(0.08);
            session.say(new org.shiftstand.link.HostMessage.ShiftRequest(1, 0));
            session.listen(2);

            List<ShiftTruth> shifts = link.truth().shifts();
            assertThat(shifts).extracting(ShiftTruth::outcome).containsExactly("interrupted", "landed");
            assertThat(value(shifts.get(1).landingDeg())).isCloseTo(1455, within(45.0));
        }

        @Test
        void a_cut_in_motion_interrupts_and_the_shaft_coasts_to_a_rest() {
            SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.seeded(5));
            Session session = new Session(link).armed(512, 64);
            session.say(new org.shiftstand.link.HostMessage.ShiftRequest(1, 0));
            session.listen(0.05);
            session.say(new org.shiftstand.link.HostMessage.Cut());
            session.listen(1);
            double rests = link.rig().unit().angleDeg();
            session.listen(1);

            assertThat(link.truth().shifts().get(0).outcome()).isEqualTo("interrupted");
            assertThat(rests).isPositive().isEqualTo(link.rig().unit().angleDeg());
        }
    }

    @Nested
    class Evidence {
        @Test
        void a_dropout_is_a_sensor_fault_of_a_shift_that_landed() {
            ShiftTruth s = onlyStruck("sensor-dropout,pair=3-4");

            assertThat(s.evidence()).isEqualTo("sensor-fault");
            assertThat(s.outcome()).isEqualTo("landed");
        }

        @Test
        void a_dropout_reads_zero_for_as_many_samples_as_asked() {
            SimulatedLink link =
                    new SimulatedLink(TarnDrive.profile(), SimOptions.parse("seed=5,fault=sensor-dropout,pair=3-4"));
            Session session = new Session(link).armed(512, 64).walk(1, 3);

            long zeros = 0;
            for (var block : session.blocks()) {
                for (int i = 0; i < block.count(); i++) {
                    // the other output still reads: unpowered sensors have both near 0
                    zeros += block.samples()[4 * i] == 0 && block.samples()[4 * i + 1] > 100 ? 1 : 0;
                }
            }
            assertThat(zeros).isEqualTo(12);
        }

        @Test
        void lost_frames_are_a_gap_of_just_as_many_blocks() {
            SimulatedLink link = new SimulatedLink(
                    TarnDrive.profile(), SimOptions.parse("seed=5,fault=lost-frames,pair=3-4,amount=2"));
            Session session = new Session(link).armed(512, 64).walk(1, 4);

            var numbers = session.blocks().stream()
                    .map(org.shiftstand.link.RigMessage.Samples::blockNumber)
                    .toList();
            assertThat(numbers.get(numbers.size() - 1) + 1 - numbers.size()).isEqualTo(2);
            assertThat(link.truth().shifts().get(2).evidence()).isEqualTo("gap");
            assertThat(session.damaged).isZero();
        }
    }

    @Nested
    class Addresses {
        @Test
        void cycles_before_the_first_are_spared() {
            List<ShiftTruth> shifts = truth("seed=5,fault=bias,pair=4-5,from-cycle=2,to-cycle=2");

            assertThat(shifts.stream().filter(s -> !s.faults().isEmpty()))
                    .extracting(ShiftTruth::number)
                    .containsExactly(SHIFTS_A_SWEEP + 4);
        }

        @Test
        void a_rate_strikes_about_that_part() {
            SimulatedLink link =
                    new SimulatedLink(TarnDrive.profile(), SimOptions.parse("seed=5,fault=bias,rate=0.25"));
            new Session(link).armed(512, 64).sweeps(10, 20);

            long struck = link.truth().shifts().stream()
                    .filter(s -> !s.faults().isEmpty())
                    .count();
            assertThat(struck).isBetween(60L, 120L); // 360 shifts: 90 expected, sd 8.2
        }

        @Test
        void a_direction_spares_the_other() {
            List<ShiftTruth> shifts = truth("seed=5,fault=bias,direction=outboard");

            assertThat(shifts)
                    .allMatch(s -> s.faults().isEmpty() == (s.direction().sign() > 0));
        }

        @Test
        void two_faults_strike_one_shift_together() {
            ShiftTruth s = onlyStruck("short-hold+bias,pair=2-3,amount=100");

            assertThat(s.faults()).containsExactly(FaultKind.BIAS, FaultKind.SHORT_HOLD);
        }
    }
}
