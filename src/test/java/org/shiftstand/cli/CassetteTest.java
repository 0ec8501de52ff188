package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

@Timeout(120)
class CassetteTest {
    private static final String CAPTURE = "src/test/resources/captures/bench-a.csv.gz";

    private static final String THREE = """
            profile: three
            version: 1
            sprockets: 3
            screw-lead: 3.6 mm
            positions: [0 deg, 600 deg, 1300 deg]
            mechanical-limits: { outboard: -200 deg, inboard: 1400 deg }
            overtravel:
              inboard: [100 deg, 0 deg]
              outboard: [50 deg, 80 deg]
            """;

    @TempDir
    private Path folder;

    private static Cli.Result plan(String... words) {
        List<String> all = new ArrayList<>(List.of("cassette"));
        all.addAll(List.of(words));
        return Commands.run(all.toArray(String[]::new));
    }

    private Path three() throws IOException {
        return Files.writeString(folder.resolve("three.profile.yaml"), THREE);
    }

    @Nested
    class Text {
        /** Figures as worked out by hand in CassettePlannerTest. */
        @Test
        void says_the_verdicts_first_then_each_cassette_then_what_it_assumes() throws IOException {
            Cli.Result result = plan(
                    three().toString(),
                    "--sprockets",
                    "5",
                    "--spread",
                    "10deg",
                    "--ringing",
                    "4deg",
                    "--offset",
                    "2deg",
                    "--clearance",
                    "60deg");

            assertThat(result.exitCode()).as(result.err()).isZero();
            assertThat(result.err()).isEmpty();
            assertThat(result.out()).isEqualTo("""
                    Cassettes over the travel of three version 1: 1300.0 deg from sprocket 1 to 3.

                    sprockets       pitch               landing  overtravel      limits   verdict
                    3 now       650.0 deg  6.50 mm        260.1       210.1         0.1   room
                    5           325.0 deg  3.25 mm        110.1        10.1         0.1   room

                    Least that is left, in degrees of the shaft: where a landing falls short of its sprocket, where a
                    shift goes past it, and towards the mechanical limits. Negative is too tight.

                    5 sprockets: room; ends kept
                       Tightest: 4→5 inboard, past sprocket 5 towards the mechanical limit. 40.0 deg to use; scatter
                       32.9 (10.0 deg times 3.29), ringing 4.0, offset of landings 2.0 and uncertainty 1.0:
                       0.095 deg (0.00095 mm) left.
                       Positions, deg: 0.0, 300.0, 600.0, 950.0, 1300.0
                       Overtravel inboard, deg, 1→2 first: 100.0, 100.0, 100.0, 0.0
                       Overtravel outboard, deg, 5→4 first: 50.0, 50.0, 65.0, 80.0

                    What this takes for granted
                     1  Millimetres are cage travel by the screw lead (3.6 mm a turn). A linkage makes a millimetre
                        there another one at the sprockets: give --present-pitch, and the mean of its ratio is taken
                        into account.
                     2  The sprockets of every cassette are equally far apart, and its first sprocket sits where the
                        first of the present one does.
                     3  What is uneven about the present positions comes from linkage and travel, not from single
                        sprockets: the shaft angle is interpolated between them over the place across the cassette
                        (--spacing even lays equal angles instead).
                     4  Where no pitch is given, both ends are kept: the new sprockets share the present travel.
                     5  Overtravel is interpolated from the present table over the place of the sprocket shifted to;
                        where there is none at the nearest present sprocket there stays none, and beside a row that is
                        not known nothing is known. Its angles are kept, though the sprockets are nearer or farther
                        (--overtravel scaled scales them).
                     6  A shaft may get 50 % of the way to a neighbour, overtravel and ringing included, and must
                        leave 60 deg to a mechanical limit. Own rule, no published source; everything counts at its
                        worst at once.
                     7  Landings scatter by 10 deg (as told by --spread), on another cassette as on the present one.
                        That figure is taken as exact (--shifts says how many it rests on): 99.9 % of them lie within
                        3.29 times it, if they are normal.
                     8  Ringing is at most 4 deg, to either side. Mean landings lie within 2 deg of their positions,
                        and an angle is uncertain by 1 deg (k = 2).
                     9  The mechanical limits stay where they are with another cassette: outboard -200 deg, inboard
                        1400 deg.
                    10  The chain is not in this plan: whether it runs quietly at these positions, and whether an
                        overtravel moves it onto the next sprocket, only learning on that cassette proves.

                    Every position and overtravel of a planned cassette is to be proven by learning on that cassette.
                    """);
        }

        @Test
        void says_what_is_not_known_and_how_to_tell_it() {
            Cli.Result result = plan("tarn-drive", "--sprockets", "11");

            assertThat(result.out())
                    .contains("11 sprockets: not decided")
                    .contains("Not known: how landings scatter (--spread, or --measured")
                    .contains("(--ringing, or --measured)");
        }

        @Test
        void says_what_would_make_room() {
            Cli.Result result = plan("tarn-drive", "--sprockets", "14", "--spread", "11deg", "--ringing", "5deg");

            assertThat(result.out())
                    .contains("14 sprockets: no room", "Any one of these would do there: overtravel of at most ")
                    .contains("Landings without overtravel have room");
        }

        @Test
        void fits_a_terminal_of_100_columns() {
            assertThat(plan("tarn-drive", "--pitch", "4.9mm,4.5mm,4mm,3.7mm").lines())
                    .allSatisfy(line -> assertThat(line).hasSizeLessThanOrEqualTo(100));
        }
    }

    @Nested
    class Measured_spread {
        @Test
        void is_taken_from_a_capture_and_its_source_is_said() {
            Cli.Result result = plan("tarn-drive", "--sprockets", "10", "--measured", CAPTURE, "--json");

            JsonNode given = JsonMapper.shared().readTree(result.out()).get("given");
            assertThat(result.exitCode()).as(result.err()).isZero();
            assertThat(given.get("spreadFrom").asString()).isEqualTo("measured in bench-a.csv.gz");
            assertThat(given.get("landingSdDeg").asDouble()).isPositive();
            assertThat(given.get("shifts").asInt()).isGreaterThan(50);
            assertThat(given.get("ringingDeg").isNumber()).isTrue();
        }
    }

    @Nested
    class Draft_profile {
        @Test
        void reads_back_with_the_planned_figures() throws IOException {
            Path file = folder.resolve("draft.profile.yaml");

            Cli.Result result = plan(three().toString(), "--sprockets", "5", "--out", file.toString());

            assertThat(result.exitCode()).as(result.err()).isZero();
            Profile draft = ProfileReader.read(TextFile.read("draft", file));
            assertThat(draft.name()).isEqualTo("three-5");
            assertThat(draft.positionsDeg()).containsExactly(0.0, 300.0, 600.0, 950.0, 1300.0);
            assertThat(draft.overtravelInboardDeg()).containsExactly(100.0, 100.0, 100.0, 0.0);
            assertThat(draft.overtravelOutboardDeg()).containsExactly(50.0, 50.0, 65.0, 80.0);
            assertThat(draft.screwLeadMm()).hasValue(3.6);
            assertThat(draft.outboardLimitDeg()).hasValue(-200);
            assertThat(draft.inboardLimitDeg()).hasValue(1400);
            assertThat(Files.readString(file))
                    .contains("# DRAFT: 5 sprockets", "# What it takes for granted:", "# To be proven by learning");
        }

        @Test
        void reads_back_for_any_drive() throws IOException {
            for (int seed = 1; seed <= 20; seed++) {
                Path from = Files.writeString(folder.resolve("any-" + seed + ".profile.yaml"), anyProfile(seed));
                Path file = folder.resolve("draft-" + seed + ".profile.yaml");
                int count = 7 + seed % 8;

                Cli.Result result =
                        plan(from.toString(), "--sprockets", String.valueOf(count), "--out", file.toString());

                assertThat(result.exitCode())
                        .as("seed %d: %s", seed, result.err())
                        .isZero();
                Profile draft = ProfileReader.read(TextFile.read("draft", file));
                assertThat(draft.sprockets()).as("seed %d", seed).isEqualTo(count);
            }
        }

        private String anyProfile(long seed) {
            Random random = new Random(seed);
            int n = 7 + random.nextInt(8);
            List<String> positions = new ArrayList<>();
            double at = 0;
            for (int k = 0; k < n; k++) {
                positions.add(at + " deg");
                at += 500 + 400 * random.nextDouble();
            }
            String table = random.ints(n - 1, 0, 300)
                    .mapToObj(deg -> deg + " deg")
                    .collect(Collectors.joining(", ", "[", "]"));
            return "profile: any\nversion: 1\nsprockets: " + n + "\npositions: " + positions
                    + "\nmechanical-limits: { outboard: -400 deg, inboard: " + (at + 400)
                    + " deg }\novertravel: { inboard: "
                    + table + ", outboard: " + table + " }\n";
        }

        @Test
        void keeps_a_gap_of_the_table_a_gap() throws IOException {
            Path from = Files.writeString(
                    folder.resolve("gap.profile.yaml"), THREE.replace("[100 deg, 0 deg]", "[100 deg, unknown]"));
            Path file = folder.resolve("draft.profile.yaml");

            Cli.Result result = plan(from.toString(), "--sprockets", "5", "--out", file.toString());

            assertThat(result.exitCode()).as(result.err()).isZero();
            assertThat(result.out()).contains("100.0, 100.0, unknown, unknown", "profile's table stays a gap");
            assertThat(ProfileReader.read(TextFile.read("draft", file)).unknownOvertravel())
                    .containsExactly("3→4", "4→5");
        }

        @Test
        void is_not_written_where_it_would_press_on_a_limit() throws IOException {
            Path file = folder.resolve("draft.profile.yaml");

            Cli.Result result =
                    plan(three().toString(), "--sprockets", "4", "--pitch", "6.5mm", "--out", file.toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err())
                    .isEqualTo(file + ": is not written: 3→4 reaches 1950 deg with 0 deg of overtravel, at or"
                            + " past the inboard limit; a drive must never press on it. Take a smaller pitch, or keep the ends"
                            + System.lineSeparator());
            assertThat(file).doesNotExist();
        }

        @Test
        void never_overwrites_unless_forced() throws IOException {
            Path file = Files.writeString(folder.resolve("draft.profile.yaml"), "mine");
            String[] words = {three().toString(), "--sprockets", "5", "--out", file.toString()};

            assertThat(plan(words).exitCode()).isEqualTo(2);
            assertThat(file).hasContent("mine");
            List<String> forced = new ArrayList<>(List.of(words));
            forced.add("--force");
            assertThat(plan(forced.toArray(String[]::new)).exitCode()).isZero();
            assertThat(Files.readString(file)).contains("profile: three-5");
        }
    }

    @Test
    void json_has_every_check_and_every_assumption() throws IOException {
        JsonNode json = JsonMapper.shared()
                .readTree(plan(three().toString(), "--sprockets", "5,4", "--pitch", "3.25mm", "--json")
                        .out());

        assertThat(json.get("cassettes").size()).isEqualTo(2);
        JsonNode five = json.get("cassettes").get(0);
        assertThat(five.get("verdict").asString()).isEqualTo("not-decided");
        assertThat(five.get("layout").asString()).isEqualTo("pitch");
        assertThat(five.get("checks").size()).isEqualTo(16);
        assertThat(five.get("positionsDeg").get(3).asDouble()).isEqualTo(950);
        assertThat(json.get("assumptions").size()).isGreaterThan(8);
        assertThat(json.get("present").get("sprockets").asInt()).isEqualTo(3);
    }

    @Nested
    class Refusing {
        @Test
        void everything_wrong_is_told_at_once() {
            Cli.Result result = plan(
                    "tarn-drive",
                    "--sprockets",
                    "1,x",
                    "--pitch",
                    "3deg",
                    "--spread",
                    "0deg",
                    "--ringing",
                    "much",
                    "--border",
                    "200%",
                    "--spacing",
                    "odd",
                    "--measured",
                    "none.csv");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.out()).isEmpty();
            assertThat(result.err().lines())
                    .containsExactly(
                            "--sprockets 1,x: '1' is no count of sprockets; expected whole numbers from 2 to 64, such as"
                                    + " 11,12 or 11..14",
                            "--sprockets 1,x: 'x' is no count of sprockets; expected whole numbers from 2 to 64, such as"
                                    + " 11,12 or 11..14",
                            "--pitch 3deg: is an angle; expected a length, such as '2.4 mm'",
                            "--border 200%: is no share; expected more than 0 % and less than 100 %, such as 50%",
                            "--spacing odd: expected measured or even.",
                            "--spread 0deg: is out of range; expected an angle above 0, such as '18 deg'",
                            "--ringing: 'much' is no number with a unit; expected one such as '18 deg' or '700 ms'",
                            "--measured none.csv: tells spread and ringing, and --spread, --shifts or --ringing tells them"
                                    + " too; expected one of both");
        }

        @Test
        void a_pitch_without_any_scale() throws IOException {
            Path noLead =
                    Files.writeString(folder.resolve("x.profile.yaml"), THREE.replace("screw-lead: 3.6 mm\n", ""));

            Cli.Result result = plan(noLead.toString(), "--pitch", "3.7mm");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("--pitch 3.7mm", "no screw-lead", "--present-pitch");
        }

        @Test
        void as_many_pitches_as_fit_nothing() {
            assertThat(plan("tarn-drive", "--pitch", "4mm,3.7mm").err())
                    .contains("has 2 lengths for 4 counts of sprockets; expected one for all, or one for each");
        }

        @Test
        void a_draft_of_several_counts() {
            assertThat(plan("tarn-drive", "--out", folder.resolve("x.yaml").toString())
                            .err())
                    .contains("takes one cassette, and 4 are planned; expected one count, such as --sprockets 12");
        }

        @Test
        void a_capture_that_is_not_there() {
            Cli.Result result =
                    plan("tarn-drive", "--measured", folder.resolve("none.csv").toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("none.csv").contains("no such file");
        }
    }
}
