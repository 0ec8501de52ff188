package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.Correction;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.Judgement;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Statistic.Kind;

class ShiftDrawingTest {
    private final Fixture fixture = Fixture.faulty();
    private final Judgement judgement = fixture.judged();

    private String draw(int number, Optional<Clause> clause) {
        return draw(judgement.table(), new MadeTrack(judgement), number, clause)
                .orElseThrow()
                .svg();
    }

    private Optional<ShiftDrawing.Picture> draw(
            ShiftTable table, AngleTrack track, int number, Optional<Clause> clause) {
        Shift shift = table.shifts().get(number - 1);
        return ShiftDrawing.draw(shift, Optional.empty(), table, Optional.of(fixture.profile()), clause, track, "d");
    }

    @Test
    void the_samples_after_the_settling_lie_in_the_landing_band() {
        String svg = draw(40, Optional.empty());

        MatchResult band = first(
                svg,
                "<g fill=\"" + Palette.BAND
                        + "\"><rect x=\"[0-9.]+\" y=\"([0-9.]+)\" width=\"[0-9.]+\" height=\"([0-9.]+)\"/>");
        double top = Double.parseDouble(band.group(1));
        double height = Double.parseDouble(band.group(2));
        List<Double> heights = Pattern.compile("M[0-9.]+ ([0-9.]+)h\\.01")
                .matcher(svg)
                .results()
                .map(r -> Double.parseDouble(r.group(1)))
                .toList();
        assertThat(heights).hasSizeGreaterThan(300);
        assertThat(heights.subList(heights.size() - 150, heights.size()))
                .allSatisfy(y -> assertThat(y).isBetween(top, top + height));
    }

    @Test
    void a_dimension_line_is_as_long_as_its_figure_says_on_the_axis() {
        Shift shift = judgement.table().shifts().get(39);
        String svg = draw(40, Optional.empty());

        String before = svg.substring(0, svg.indexOf(">overtravel "));
        MatchResult arrow = Pattern.compile("M([0-9.]+) ([0-9.]+)L\\1 ([0-9.]+)\"")
                .matcher(before)
                .results()
                .reduce((first, last) -> last)
                .orElseThrow();
        double drawn = Math.abs(Double.parseDouble(arrow.group(2)) - Double.parseDouble(arrow.group(3)));
        double perDeg = unitsPerDegree(svg);
        assertThat(drawn / perDeg)
                .isCloseTo(
                        shift.get(Measure.OVERTRAVEL).number().orElseThrow(),
                        within(1.0)); // a tenth of a unit at 0.25 units a degree
    }

    @Test
    void a_track_of_the_other_sense_gives_the_same_drawing() {
        ShiftTable t = judgement.table();
        ShiftTable reversed = new ShiftTable(
                t.shifts(),
                t.sprockets(),
                t.bandDeg(),
                "reversed",
                "option",
                t.numbering(),
                t.alignmentDeg(),
                false,
                t.turnLostFrom(),
                List.of());

        String turned = draw(reversed, new Turned(new MadeTrack(judgement)), 40, Optional.empty())
                .orElseThrow()
                .svg();

        assertThat(turned).isEqualTo(draw(40, Optional.empty()));
    }

    @Test
    void names_what_a_technician_looks_for() {
        assertThat(draw(40, Optional.empty()))
                .contains(">request<", ">moves<", ">settled<", ">angle, deg<", ">current, A<", ">s after the request<")
                .containsPattern(">overtravel 29[0-9.]+\u00a0deg<|>overtravel 30[0-9.]+\u00a0deg<")
                .containsPattern(">hold 0\\.[67][0-9]+\u00a0s<")
                .containsPattern(">landing [0-9.]+\u00a0deg<");
    }

    @Nested
    class A_shift_outside_its_bound {
        @Test
        void shows_what_was_allowed_and_by_how_much_it_missed() {
            Clause overtravel = judgement.clauses().get(2).clause();

            double landing = judgement
                    .table()
                    .shifts()
                    .get(38)
                    .get(Measure.LANDING)
                    .number()
                    .orElseThrow();
            assertThat(draw(39, Optional.of(overtravel)))
                    .contains(
                            String.format(Locale.ROOT, ">plateau from %.1f\u00a0deg<", landing + 230),
                            String.format(Locale.ROOT, ">plateau to %.1f\u00a0deg<", landing + 340),
                            ">outside by 230.0\u00a0deg<");
        }

        @Test
        void that_moved_between_shifts_shows_where_it_could_have_started() {
            Shift moved = judgement.table().shifts().get(39);
            double creep = moved.get(Measure.CREEP).number().orElseThrow();
            double start = moved.get(Measure.START).number().orElseThrow();
            fixture.clause("still", Measure.CREEP, Kind.EVERY, List.of(), creep + 7, creep + 20, "");
            Clause still = fixture.clauses.get(fixture.clauses.size() - 1);

            assertThat(draw(40, Optional.of(still)))
                    .contains(
                            String.format(Locale.ROOT, ">start from %.1f\u00a0deg<", start + 7),
                            String.format(Locale.ROOT, ">start to %.1f\u00a0deg<", start + 20),
                            ">outside by 7.0\u00a0deg<");
        }

        @Test
        void in_time_shows_the_latest_time_allowed() {
            fixture.clause("fast", Measure.SETTLE_TIME, Kind.EVERY, List.of(), Double.NaN, 0.5, "");
            Clause fast = fixture.clauses.get(fixture.clauses.size() - 1);

            assertThat(draw(40, Optional.of(fast)))
                    .contains(">settle allowed until<")
                    .containsPattern("<g fill=\"" + Palette.FAIL + "\"><text [^>]*>settle 1\\.[0-9]+\u00a0s<");
        }

        @Test
        void near_a_mechanical_limit_shows_the_limit_and_the_room_that_must_be_left() {
            Clause clearance = fixture.clauses.get(6);
            Fixture close = Fixture.good();
            close.profiles = p -> new Profile(
                    p.name(),
                    p.version(),
                    p.sprockets(),
                    p.positionsDeg(),
                    p.screwLeadMm(),
                    OptionalDouble.of(-300),
                    p.inboardLimitDeg(),
                    p.holdS(),
                    p.overtravelInboardDeg(),
                    p.overtravelOutboardDeg(),
                    p.cassette(),
                    p.sha256());
            Judgement j = close.judged();
            Shift last = j.table().shifts().get(17); // 2→1 outboard, towards the outboard limit

            String svg = ShiftDrawing.draw(
                            last,
                            Optional.empty(),
                            j.table(),
                            j.profile(),
                            Optional.of(clearance),
                            new MadeTrack(j),
                            "d")
                    .orElseThrow()
                    .svg();

            // measured against a limit at -420 deg, of which 60 deg must be left
            assertThat(svg).contains(">limit \u2212300.0\u00a0deg<", ">extreme from \u2212360.0\u00a0deg<");
        }
    }

    @Test
    void a_sensor_fault_is_shown_as_a_stretch_without_angle() {
        Fixture f = Fixture.good();
        f.change(120, s -> Fixture.with(s, s.outcome(), Evidence.SENSOR_FAULT, Map.of()));
        Judgement j = f.judged();

        String svg = draw(j.table(), new MadeTrack(j), 120, Optional.empty())
                .orElseThrow()
                .svg();

        assertThat(svg.split(">sensor fault<", -1)).hasSize(3); // once, with the ground under its letters
    }

    @Test
    void a_shift_that_never_settled_is_drawn_until_the_next_request() {
        Shift unseen = judgement.table().shifts().get(119);
        Shift next = judgement.table().shifts().get(120);

        Optional<ShiftDrawing.Picture> picture = ShiftDrawing.draw(
                unseen,
                Optional.of(next),
                judgement.table(),
                Optional.empty(),
                Optional.empty(),
                new MadeTrack(judgement),
                "d");

        assertThat(picture.orElseThrow().svg()).contains(">request<").doesNotContain(">settled<", ">landing ");
    }

    @Test
    void more_samples_than_an_eye_can_tell_apart_are_thinned_and_said() {
        fixture.change(
                50,
                s -> Fixture.with(
                        s,
                        s.outcome(),
                        s.evidence(),
                        Map.of(
                                Measure.SETTLED,
                                new Measured.Value(
                                        s.get(Measure.REQUEST).number().orElseThrow() + 9))));
        Judgement longer = fixture.judged();

        ShiftDrawing.Picture picture = draw(longer.table(), new MadeTrack(longer), 50, Optional.empty())
                .orElseThrow();

        assertThat(picture.remarks()).anyMatch(r -> r.matches("Of [0-9]+ samples every 4th is drawn\\."));
    }

    @Test
    void without_an_instant_there_is_no_drawing() {
        fixture.change(
                60,
                s -> Fixture.with(
                        s,
                        s.outcome(),
                        s.evidence(),
                        Map.of(
                                Measure.REQUEST, new Measured.NotMeasured("gap"),
                                Measure.MOTION_START, new Measured.NotMeasured("gap"))));
        Judgement blind = fixture.judged();

        assertThat(draw(blind.table(), new MadeTrack(judgement), 60, Optional.empty()))
                .isEmpty();
    }

    private static MatchResult first(String svg, String pattern) {
        return Pattern.compile(pattern).matcher(svg).results().findFirst().orElseThrow();
    }

    /** From the tick labels of the angle axis: their text and their height. */
    private static double unitsPerDegree(String svg) {
        List<MatchResult> ticks = Pattern.compile("<text x=\"48\" y=\"([0-9.]+)\" text-anchor=\"end\">([0-9]+)</text>")
                .matcher(svg)
                .results()
                .toList();
        MatchResult low = ticks.get(0);
        MatchResult high = ticks.get(3);
        return (Double.parseDouble(low.group(1)) - Double.parseDouble(high.group(1)))
                / (Double.parseDouble(high.group(2)) - Double.parseDouble(low.group(2)));
    }

    /** A track decoded the other way round. */
    private record Turned(MadeTrack track) implements AngleTrack {
        @Override
        public AngleReader open() {
            return open(0);
        }

        @Override
        public AngleReader open(double fromS) {
            AngleReader reader = track.open(fromS);
            return new AngleReader() {
                @Override
                public boolean next(AngleBlock block) {
                    boolean more = reader.next(block);
                    for (int i = 0; i < block.size(); i++) {
                        block.angleDeg[i] = -block.angleDeg[i];
                    }
                    return more;
                }

                @Override
                public void close() {
                    reader.close();
                }
            };
        }

        @Override
        public Correction correction() {
            return track.correction();
        }

        @Override
        public SampleSource.Channels channels() {
            return track.channels();
        }

        @Override
        public double intervalS() {
            return track.intervalS();
        }

        @Override
        public List<Request> requests() {
            return List.of();
        }

        @Override
        public List<Double> supplyCuts() {
            return List.of();
        }
    }
}
