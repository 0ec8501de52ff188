package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.shift.TrackBuilder.track;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What must not change the table: how samples come in blocks, which way the shaft turns. Seeded random tracks. */
class SamenessTest {
    /** A random walk over sprockets with all that can happen on the way. */
    private static TrackBuilder random(long seed) {
        Random random = new Random(seed);
        double[] at = {0, 690, 1480, 2160, 3020, 3700};
        int sprocket = 0;
        boolean gated = random.nextBoolean();
        TrackBuilder track = track().restAt(0, 400);
        for (int i = 0; i < 40; i++) {
            int next = sprocket == 0 ? 1 : sprocket == 5 ? 4 : sprocket + (random.nextBoolean() ? 1 : -1);
            double land = at[next] + random.nextGaussian() * 6;
            double way = Math.signum(at[next] - at[sprocket]);
            track.current(random.nextInt(5));
            if (random.nextInt(3) == 0) {
                track.moveTo(land + way * 200, 130).ringing(15, 40).rest(400);
                if (gated) {
                    track.sleep(200).rest(20);
                }
            }
            track.moveTo(land, 90).ringing(random.nextInt(40), 60).rest(250 + random.nextInt(300));
            switch (random.nextInt(12)) {
                case 0 -> track.rest(9000);
                case 1 -> track.rest(3000).lost(60).rest(2500);
                case 2 -> track.moveTo(land + 3, 20).fault(20).moveTo(land, 20).rest(300);
                default -> {}
            }
            if (gated) {
                track.sleep(300).rest(20);
            }
            sprocket = next;
        }
        return track;
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void any_split_into_blocks_gives_the_same_table(long seed) {
        ShiftTable whole = ShiftFinder.find(random(seed), Optional.empty(), ShiftOptions.defaults());

        assertThat(whole.shifts()).hasSizeGreaterThan(30);
        for (int size : new int[] {1, 7, 64, 511, 1000, 4095}) {
            ShiftTable split = ShiftFinder.find(random(seed).blocks(size), Optional.empty(), ShiftOptions.defaults());
            assertThat(split.shifts().size())
                    .as("seed %d blocks of %d", seed, size)
                    .isEqualTo(whole.shifts().size());
            for (int i = 0; i < whole.shifts().size(); i++) {
                assertSame(
                        "seed " + seed + " blocks of " + size,
                        whole.shifts().get(i),
                        split.shifts().get(i));
            }
        }
    }

    /** Sums are made in another order where a long rest is left out: nothing but their last digits may differ. */
    private static void assertSame(String what, Shift a, Shift b) {
        assertThat(b.from() + ">" + b.to() + " " + b.cycle() + b.outcome() + b.evidence() + b.notes())
                .as(what)
                .isEqualTo(a.from() + ">" + a.to() + " " + a.cycle() + a.outcome() + a.evidence() + a.notes());
        for (Measure m : Measure.values()) {
            if (m == Measure.CHARGE && a.get(m).number().isPresent()) {
                assertThat(b.get(m).number().orElseThrow())
                        .as("%s shift %d %s", what, a.number(), m)
                        .isCloseTo(a.get(m).number().getAsDouble(), within(1e-12));
            } else {
                assertThat(b.get(m)).as("%s shift %d %s", what, a.number(), m).isEqualTo(a.get(m));
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13, 14})
    void a_mirrored_track_gives_the_mirrored_table(long seed) {
        ShiftTable straight = ShiftFinder.find(random(seed), Optional.empty(), ShiftOptions.defaults());
        ShiftTable mirrored = ShiftFinder.find(
                random(seed).sense(-1),
                Optional.empty(),
                ShiftOptions.defaults().withSense("reversed"));

        assertThat(mirrored.shifts()).hasSameSizeAs(straight.shifts());
        for (int i = 0; i < straight.shifts().size(); i++) {
            Shift a = straight.shifts().get(i);
            Shift b = mirrored.shifts().get(i);
            assertThat(b.direction()).isEqualTo(a.direction());
            assertSame("seed " + seed, a, b);
        }
    }

    @Test
    void an_hour_long_rest_changes_nothing_but_the_time() {
        List<Shift> shortRest = ShiftFinder.find(
                        track().restAt(0, 300)
                                .moveTo(700, 120)
                                .rest(8000)
                                .moveTo(1400, 120)
                                .rest(500),
                        Optional.empty(),
                        ShiftOptions.defaults())
                .shifts();
        List<Shift> longRest = ShiftFinder.find(
                        track().restAt(0, 300)
                                .moveTo(700, 120)
                                .rest(3_600_000)
                                .moveTo(1400, 120)
                                .rest(500),
                        Optional.empty(),
                        ShiftOptions.defaults())
                .shifts();

        assertThat(longRest).hasSize(2);
        for (Measure m : List.of(Measure.LANDING, Measure.TRAVEL_TIME, Measure.CREEP, Measure.SETTLE_TIME)) {
            assertThat(longRest.get(1).get(m).number().orElseThrow())
                    .as(m.key())
                    .isCloseTo(shortRest.get(1).get(m).number().orElseThrow(), within(1e-9));
        }
    }

    @Test
    void the_trace_stays_small_over_a_long_rest() {
        Trace trace = new Trace(1 << 13);
        TrackBuilder track = track().restAt(0, 300)
                .moveTo(700, 120)
                .rest(3_600_000)
                .moveTo(1400, 120)
                .rest(500);
        ShiftMeasurer measurer = new ShiftMeasurer(trace, 360, 20, 0.15, false, false, false);
        ShiftAssembler assembler = new ShiftAssembler(
                trace, ShiftOptions.defaults(), track.intervalS(), false, false, false, measurer, c -> {});

        new TrackScan(track, part -> assembler).run();

        assertThat(trace.timeS).hasSizeLessThanOrEqualTo(1 << 14);
    }
}
