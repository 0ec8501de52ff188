package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.bench.UnitLimits;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.RigMessage;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;
import org.shiftstand.sim.SupplyChange;

@Timeout(60)
class LimitsSearchTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    private static BentLink rig(String options) {
        return new BentLink(new SimulatedLink(TARN, SimOptions.parse("drive=direct," + options)));
    }

    private static LimitsPlan plan(int standingOn) {
        return new LimitsPlan(
                "TD-0107",
                TARN,
                standingOn,
                Optional.empty(),
                LimitsPlan.USUAL_CURRENT_A,
                LimitsPlan.USUAL_SUPPLY_V,
                Optional.of("station 2"),
                LocalDate.of(2026, 9, 14));
    }

    private static LimitsEnd searched(BentLink link, LimitsPlan plan) {
        LimitsEnd end = LimitsSearch.run(link, plan, RunMonitor.SILENT, () -> false);
        List<SupplyChange> log = link.rig.supplyLog();
        assertThat(log.get(log.size() - 1).milliVolts()).as("the supply is off").isZero();
        return end;
    }

    /**
     * Truth: the simulated unit's stops lie at the profile's limits. Where it stands differs from the profile by its
     * landing, which the search cannot know: it is taken from the truth here.
     */
    @ParameterizedTest
    @CsvSource({"1, 1", "2, 1", "3, 5", "4, 10", "5, 1"})
    void both_limits_are_found_to_a_quarter_of_a_degree(int seed, int sprocket) {
        BentLink link = rig("seed=" + seed + ",start=" + sprocket);
        double stands = link.rig.rig().unit().angleDeg() - TARN.positionDeg(sprocket);

        LimitsEnd end = searched(link, plan(sprocket));

        assertThat(end.end()).isEqualTo(new RunEnd.Completed());
        UnitLimits limits = end.found().orElseThrow().limits();
        assertThat(limits.outboard().atDeg()).as("seed %d", seed).isCloseTo(-520 - stands, within(0.25));
        assertThat(limits.inboard().atDeg()).as("seed %d", seed).isCloseTo(7100 - stands, within(0.25));
        assertThat(limits.outboard().spreadDeg().orElseThrow()).isLessThan(0.5);
        assertThat(limits.method()).isEqualTo(UnitLimits.Method.PROBED);
        assertThat(limits.origin().orElseThrow()).startsWith("the unit stood on sprocket " + sprocket + ", taken");
    }

    @Test
    void a_lost_word_that_the_sensors_are_on_does_not_let_the_shaft_go_unseen() {
        BentLink link = rig("seed=7,start=5");
        double stood = link.rig.rig().unit().angleDeg();
        link.tells = m -> m instanceof RigMessage.Event e && e.kind() == RigMessage.Event.Kind.HALL_ON
                ? new RigMessage.Event(RigMessage.Event.Kind.OVERRUN, e.atMicros(), 0, e.sequence())
                : m;

        LimitsEnd end = searched(link, plan(5));

        assertThat(end.found()).isEmpty();
        assertThat(end.end().reason()).contains("the rig has not said that the Hall sensors are on");
        assertThat(link.rig.rig().unit().angleDeg()).isCloseTo(stood, within(500.0));
    }

    @Test
    void a_cut_that_the_rig_does_not_confirm_is_told() {
        BentLink link = rig("seed=7");
        AtomicBoolean cut = new AtomicBoolean();
        link.hears = m -> {
            cut.compareAndSet(false, m instanceof HostMessage.Cut);
            return cut.get() && !(m instanceof HostMessage.Hello) ? Optional.empty() : Optional.of(m);
        };

        LimitsEnd end = LimitsSearch.run(link, plan(1), RunMonitor.SILENT, () -> false);

        assertThat(end.found()).isEmpty();
        assertThat(end.end()).isEqualTo(new RunEnd.CutNotConfirmed(new RunEnd.Completed()));
    }

    @Test
    void the_unit_is_brought_back_to_where_it_stood() {
        BentLink link = rig("seed=7,start=3");
        double stood = link.rig.rig().unit().angleDeg();

        searched(link, plan(3));

        assertThat(link.rig.rig().unit().angleDeg()).isCloseTo(stood, within(60.0)); // a tenth of a second's way
    }

    @Test
    void the_motor_never_gets_more_than_the_current_asked_for_nor_turns_faster_than_the_approach() {
        BentLink link = rig("seed=7");
        link.hears = m -> {
            if (m instanceof HostMessage.Drive d && d.direction() != 0) {
                assertThat(d.currentMa()).isEqualTo(600);
                assertThat(d.speedDegS()).isLessThanOrEqualTo(600);
            }
            return Optional.of(m);
        };

        assertThat(searched(link, plan(1)).found()).isPresent();
    }

    @Nested
    class Is_refused {
        private String reason(LimitsEnd end) {
            assertThat(end.found()).isEmpty();
            return end.end().reason();
        }

        @Test
        void where_the_unit_stands_inboard_of_the_sprocket_that_was_named() {
            assertThat(reason(searched(rig("seed=7,start=2"), plan(1))))
                    .contains("700 deg outboard of where it stood without meeting a stop");
        }

        @Test
        void where_the_unit_stands_outboard_of_the_sprocket_that_was_named() {
            assertThat(reason(searched(rig("seed=7,start=1"), plan(2)))).contains("without meeting a stop");
        }

        @Test
        void where_the_current_does_not_turn_the_drive() {
            LimitsPlan weak = new LimitsPlan(
                    "TD-0107", TARN, 1, Optional.empty(), 0.15, 7.4, Optional.empty(), LocalDate.of(2026, 9, 14));

            assertThat(reason(searched(rig("seed=7"), weak)))
                    .containsAnyOf("did not come away", "short of sprocket", "no outboard limit was met");
        }

        @Test
        void where_the_rig_does_not_limit_the_current() {
            BentLink link = rig("seed=7");
            link.hears = m -> Optional.of(
                    m instanceof HostMessage.Drive d && d.direction() != 0
                            ? new HostMessage.Drive(d.direction(), 3000, d.speedDegS(), d.ms())
                            : m instanceof HostMessage.Limits ? new HostMessage.Limits(9000, 20, 0, 0, 0, 0, 0, 0) : m);

            assertThat(reason(searched(link, plan(1))))
                    .isEqualTo("rig: the current passed 0.9 A, though the rig was to limit it");
        }

        @Test
        void where_the_rig_cuts_because_of_the_current() {
            BentLink link = rig("seed=7");
            link.hears = m -> Optional.of(
                    m instanceof HostMessage.Drive d && d.direction() != 0
                            ? new HostMessage.Drive(d.direction(), 3000, d.speedDegS(), d.ms())
                            : m instanceof HostMessage.Limits l
                                    ? new HostMessage.Limits(l.currentMa(), 10, 0, 0, 0, 0, 0, 0)
                                    : m);

            assertThat(reason(searched(link, plan(1)))).isEqualTo("rig: over-current (state fault)");
        }

        @Test
        void where_the_rig_turns_the_motor_the_other_way_half_way_through() {
            BentLink link = rig("seed=7");
            int[] drives = {0};
            link.hears = m -> Optional.of(
                    m instanceof HostMessage.Drive d && d.direction() != 0 && ++drives[0] > 7
                            ? new HostMessage.Drive(-d.direction(), d.currentMa(), d.speedDegS(), d.ms())
                            : m);

            assertThat(reason(searched(link, plan(1)))).contains("turns against the way it is driven");
        }

        @Test
        void where_samples_were_lost() {
            assertThat(reason(searched(rig("seed=7,lose-frame-at=12"), plan(1))))
                    .contains("so that whole turns are not known");
        }

        @Test
        void where_the_rig_only_passes_on_requests_and_nothing_moves() {
            var link = new SimulatedLink(TARN, SimOptions.parse("seed=7"));

            assertThatThrownBy(() -> LimitsSearch.run(link, plan(1), RunMonitor.SILENT, () -> false))
                    .isInstanceOf(LinkException.class)
                    .hasMessageContaining("Nothing was moved. Measure them by hand");
            assertThat(link.supplyLog()).isEmpty();
        }

        @Test
        void where_a_person_stops_it() {
            BentLink link = rig("seed=7");

            LimitsEnd end = LimitsSearch.run(link, plan(1), RunMonitor.SILENT, () -> link.now() > 5_000_000);

            assertThat(end.end()).isEqualTo(new RunEnd.StoppedByUser());
            List<SupplyChange> log = link.rig.supplyLog();
            assertThat(log.get(log.size() - 1).milliVolts()).isZero();
            assertThat(log.get(log.size() - 1).atMicros()).isLessThan(5_100_000);
        }

        @Test
        void with_everything_that_is_wrong_before_anything_is_opened() {
            LimitsPlan wrong = new LimitsPlan(
                    "TD-0107", TARN, 11, Optional.empty(), 4, 12, Optional.empty(), LocalDate.of(2026, 9, 14));

            assertThat(wrong.problems())
                    .containsExactly(
                            "--standing-on 11: expected 1 to 10, as the profile tarn-drive has them",
                            "--current 4 A: expected 0.1 A to 1.5 A: enough to turn the drive, too little to hurt it",
                            "--supply 12 V: expected what the guards allow, 4 V to 9 V");
        }
    }

    @Nested
    class Touches_that_do_not_agree {
        /** The rig ends one of its drives outboard 60 deg before the stop, and tells it as a stall all the same. */
        private LimitsEnd searchedWithEarlyStall(int outboardDrive) {
            BentLink link = rig("seed=7");
            int[] drives = {0};
            boolean[] bent = {false};
            link.hears = m -> {
                if (m instanceof HostMessage.Drive d && d.direction() != 0) {
                    bent[0] = d.direction() == -1 && ++drives[0] == outboardDrive;
                    return Optional.of(bent[0] ? new HostMessage.Drive(-1, d.currentMa(), d.speedDegS(), 500) : m);
                }
                return Optional.of(m);
            };
            link.tells = m -> bent[0] && m instanceof RigMessage.Event e && e.kind() == Event.Kind.DRIVE_OVER
                    ? new RigMessage.Event(e.kind(), e.atMicros(), 1, e.sequence())
                    : m;
            return searched(link, plan(1));
        }

        @Test
        void give_no_limits() {
            LimitsEnd end = searchedWithEarlyStall(3); // the way there, then the second touch

            assertThat(end.found()).isEmpty();
            assertThat(end.end().reason())
                    .contains("no limits were written: the outboard touches are 6")
                    .contains(" deg apart (")
                    .contains("; at most 3 deg are allowed");
        }

        @Test
        void show_also_at_the_end_when_the_first_limit_is_met_again() {
            LimitsEnd end = searchedWithEarlyStall(9); // four outboard, three back from inboard, the way there;

            assertThat(end.found()).isEmpty();
            assertThat(end.end().reason()).contains("at the end the outboard limit was met at -4");
        }
    }
}
