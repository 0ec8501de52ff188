package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.quantity.Direction;

class SimOptionsTest {
    @Test
    void no_text_is_a_sound_unit_on_a_sound_line() {
        SimOptions options = SimOptions.parse("");

        assertThat(options.seed()).isEqualTo(1);
        assertThat(options.start()).isEqualTo(1);
        assertThat(options.gated()).isTrue();
        assertThat(options.faults()).isEmpty();
        assertThat(options.line()).isEqualTo(new SimOptions.Line(Map.of(), OptionalDouble.empty(), false, false, 0));
        assertThat(options.direct()).isFalse();
    }

    @Test
    void a_fault_takes_the_address_that_follows_it() {
        SimOptions options =
                SimOptions.parse("seed=7,fault=overtravel-missing,pair=4-5,from-cycle=50,amount=60,rate=0.2");

        SimFault fault = options.faults().get(0);
        assertThat(options.seed()).isEqualTo(7);
        assertThat(fault.kind()).isEqualTo(FaultKind.OVERTRAVEL_MISSING);
        assertThat(fault.from()).isEqualTo(OptionalInt.of(4));
        assertThat(fault.to()).isEqualTo(OptionalInt.of(5));
        assertThat(fault.fromCycle()).isEqualTo(50);
        assertThat(fault.toCycle()).isEqualTo(Integer.MAX_VALUE);
        assertThat(fault.amount()).isEqualTo(60);
        assertThat(fault.rate()).isEqualTo(0.2);
    }

    @Test
    void an_address_speaks_of_the_last_fault_only() {
        SimOptions options = SimOptions.parse("fault=slow,amount=20,fault=creep,direction=outboard");

        assertThat(options.faults()).hasSize(2);
        assertThat(options.faults().get(0).amount()).isEqualTo(20);
        assertThat(options.faults().get(0).direction()).isEmpty();
        assertThat(options.faults().get(1).amount()).isEqualTo(FaultKind.CREEP.usual());
        assertThat(options.faults().get(1).direction()).contains(Direction.OUTBOARD);
    }

    @Test
    void faults_joined_by_plus_share_one_address() {
        SimOptions options = SimOptions.parse("fault=slow+ringing,pair=3-4,rate=0.5");

        assertThat(options.faults()).extracting(SimFault::kind).containsExactly(FaultKind.SLOW, FaultKind.RINGING);
        assertThat(options.faults()).allMatch(f -> f.rate() == 0.5 && f.from().getAsInt() == 3);
        assertThat(options.faults()).extracting(SimFault::amount).containsExactly(60.0, 40.0);
    }

    @Test
    void what_goes_wrong_on_the_line_has_its_times() {
        SimOptions options = SimOptions.parse(
                "lose-frame-at=2.5,lose-frame-at=4,estop-at=3,unplug-at=9,replug-after=2,reboot=true,silent=true,protocol=9");

        assertThat(options.line())
                .isEqualTo(new SimOptions.Line(
                        Map.of(
                                Mishap.LOSE_FRAME, List.of(2.5, 4.0),
                                Mishap.ESTOP, List.of(3.0),
                                Mishap.UNPLUG, List.of(9.0)),
                        OptionalDouble.of(2),
                        true,
                        true,
                        9));
    }

    @Nested
    class Mistakes {
        @Test
        void an_unknown_key_is_named_with_the_nearest_word() {
            assertThatIllegalArgumentException()
                    .isThrownBy(() -> SimOptions.parse("seeed=7"))
                    .withMessageStartingWith("sim: unknown key 'seeed'; expected one of seed, start, ")
                    .withMessageEndingWith(". Did you mean 'seed'?");
        }

        @Test
        void an_unknown_fault_is_named_with_the_nearest_words() {
            assertThatThrownBy(() -> SimOptions.parse("fault=overtravel"))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("unknown fault 'overtravel'")
                    .hasMessageEndingWith("Did you mean 'overtravel-long' or 'overtravel-short'?");
        }

        @Test
        void all_mistakes_are_told_at_once() {
            assertThatThrownBy(() -> SimOptions.parse("seed=x,rate=0.5,gated=yes,fault=jam,rate=2,pair=4,hush"))
                    .hasMessage(String.join(
                            "\n",
                            "sim: seed=x is no whole number; expected such as seed=7",
                            "sim: 'rate=0.5' speaks of no fault; expected after a fault=<word>",
                            "sim: gated=yes is unknown; expected true or false",
                            "sim: rate=2 is out of range; expected a number from 0 to 1",
                            "sim: pair=4 is no pair; expected FROM-TO, such as pair=4-5",
                            "sim: unknown key 'hush'; expected one of " + keys()));
        }

        private static String keys() {
            return "seed, start, gated, drive, landing-sd, noise, third-harmonic, wake-up, fault, pair, direction,"
                    + " from-cycle, to-cycle, amount, rate, replug-after, reboot, silent, protocol, lose-frame-at,"
                    + " flip-byte-at, repeat-frame-at, reorder-frame-at, truncate-frame-at, garbage-at, overrun-at,"
                    + " surge-at, overheat-at, estop-at, mute-at, deaf-at, unplug-at";
        }

        @Test
        void a_way_to_drive_that_is_none_is_told_with_the_nearest_word() {
            assertThatThrownBy(() -> SimOptions.parse("drive=directly"))
                    .hasMessage("sim: drive=directly is unknown; expected direct or requests. Did you mean 'direct'?");
        }

        @Test
        void a_time_that_is_none_is_told() {
            assertThatThrownBy(() -> SimOptions.parse("mute-at=soon,deaf-at"))
                    .hasMessage("sim: mute-at=soon is out of range; expected a number from 0 to 1000000000\n"
                            + "sim: 'deaf-at' has no value; expected deaf-at=<s>");
        }

        @Test
        void a_key_without_value_is_told() {
            assertThatThrownBy(() -> SimOptions.parse("seed"))
                    .hasMessage("sim: 'seed' has no value; expected seed=<whole number>");
        }

        @Test
        void a_number_that_is_none_is_told() {
            assertThatThrownBy(() -> SimOptions.parse("noise=NaN")).hasMessageContaining("noise=NaN is out of range");
            assertThatThrownBy(() -> SimOptions.parse("noise=2f")).hasMessageContaining("noise=2f is out of range");
        }

        @Test
        void sprockets_that_the_unit_has_not_are_refused() {
            assertThatThrownBy(() -> new SimulatedLink(TarnDrive.profile(), SimOptions.parse("fault=jam,pair=10-11")))
                    .hasMessage("sim: pair=10-11 is beyond the cassette; expected sprockets 1 to 10");
            assertThatThrownBy(() -> new SimulatedLink(TarnDrive.profile(), SimOptions.parse("start=11")))
                    .hasMessage("sim: start=11 is beyond the last sprocket; expected 1 to 10");
        }
    }

    @Test
    void help_names_every_fault_and_key_on_short_lines() {
        String help = SimOptions.help();

        for (FaultKind kind : FaultKind.values()) {
            assertThat(help).contains("  " + kind.word() + " ");
        }
        for (Mishap mishap : Mishap.values()) {
            assertThat(help).contains("  " + mishap.word() + " ");
        }
        assertThat(help).contains("  seed ").contains("  unplug-at ").doesNotContain("\r");
        assertThat(help.lines().mapToInt(String::length).max().orElseThrow()).isLessThanOrEqualTo(100);
    }
}
