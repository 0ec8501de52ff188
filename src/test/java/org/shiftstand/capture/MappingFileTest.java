package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;

class MappingFileTest {
    private static final String GOOD = """
            mapping: bench-logger
            version: 1
            delimiter: semicolon
            decimal: comma
            grouping: point
            header: true
            time: { column: "t [ms]", unit: ms, from: first sample }
            columns:
              hall_sin: { column: S+, minus: S- }
              hall_cos: { column: C+, minus: C- }
              hall_power: { column: EN, on-above: 1.65 }
              current_a: { column: I (mA), scale: 0.001 }
            periods-per-turn: 2
            """;

    private static Dialect read(String text) {
        return MappingFile.read(TextFile.of("logger.mapping.yaml", text));
    }

    private static List<String> problems(String text) {
        BadInput bad = catchThrowableOfType(BadInput.class, () -> read(text));
        return bad.problems().stream().map(Problem::toString).toList();
    }

    @Test
    void says_how_a_logger_writes_and_where_its_columns_are() {
        Dialect dialect = read(GOOD);

        assertThat(dialect.format())
                .isEqualTo(new Dialect.Format(
                        Dialect.Delimiter.SEMICOLON, Dialect.DecimalMark.COMMA, Dialect.Grouping.POINT, true));
        assertThat(dialect.time()).isEqualTo(new TimeFrom.Numbers("t [ms]", TimeFrom.TimeUnit.MS, true));
        assertThat(dialect.columns().get("hall_sin"))
                .isEqualTo(new ColumnFrom("S+", Optional.of("S-"), 1, OptionalDouble.empty()));
        assertThat(dialect.columns().get("hall_power"))
                .isEqualTo(ColumnFrom.of("EN").above(1.65));
        assertThat(dialect.columns().get("current_a"))
                .isEqualTo(ColumnFrom.of("I (mA)").times(0.001));
        assertThat(dialect.periodsPerTurn()).hasValue(2);
    }

    @Test
    void needs_only_time_and_the_hall_pair() {
        Dialect dialect = read("""
                mapping: a
                version: 1
                time: { rate: 512 Hz }
                columns:
                  hall_sin: { column: a }
                  hall_cos: { column: b }
                """);

        assertThat(dialect.time()).isEqualTo(new TimeFrom.Counted(Optional.empty(), 512));
        assertThat(dialect.format().delimiter()).isEqualTo(Dialect.Delimiter.COMMA);
    }

    @Test
    void what_is_wrong_is_told_at_once_with_its_place() {
        assertThat(problems("""
                        mapping: a b
                        version: 0
                        delimiter: semi-colon
                        header: maybe
                        time: { column: t, unit: msec }
                        columns:
                          hall_sin: { column: 1 }
                          hall_cosine: { column: b }
                          current_a: { column: I, scale: 0 }
                          supply_v: { column: U, scale: 2 V }
                        periods-per-turn: 0.5
                        turns: 1
                        """))
                .containsExactly(
                        "logger.mapping.yaml:1:10: the name 'a b' cannot be used; expected 1 to 64 of A-Z a-z 0-9 . _ -",
                        "logger.mapping.yaml:2:10: version is the number 0; expected a whole number from 1 to 1000000",
                        "logger.mapping.yaml:3:12: unknown delimiter 'semi-colon'; expected one of comma, semicolon, tab."
                                + " Did you mean 'semicolon'?",
                        "logger.mapping.yaml:4:9: header is the text 'maybe'; expected true or false",
                        "logger.mapping.yaml:5:26: unknown unit of time 'msec'; expected one of s, ms, us, ns.",
                        "logger.mapping.yaml:7:3: key 'hall_cos' is missing in columns; expected where it is from, such as"
                                + " { column: CH1 }",
                        "logger.mapping.yaml:7:23: column is the number 1; expected the header of a column, such as CH1, in"
                                + " quotes where it is a number",
                        "logger.mapping.yaml:8:3: unknown key 'hall_cosine' in columns; expected one of hall_sin, hall_cos,"
                                + " hall_power, window, current_a, supply_v, request. Did you mean 'hall_cos'?",
                        "logger.mapping.yaml:9:34: scale is 0.0; expected a number other than 0",
                        "logger.mapping.yaml:10:33: scale is 2 V; expected a bare number such as 0.001",
                        "logger.mapping.yaml:11:19: periods-per-turn is the number 0.5; expected a whole number from 1 to 64",
                        "logger.mapping.yaml:12:1: unknown key 'turns' in a mapping file; expected one of mapping, version,"
                                + " delimiter, decimal, grouping, header, time, columns, periods-per-turn.");
    }

    @Test
    void one_header_is_not_two_columns() {
        assertThat(problems(GOOD.replace("C+, minus: C-", "S+, minus: S-")))
                .containsExactly(
                        "logger.mapping.yaml:10:13: the header 'S+' is read for another column already; expected one"
                                + " column for each");
    }

    @Test
    void what_is_written_is_read_back() {
        var random = new Random(6);
        for (int seed = 0; seed < 200; seed++) {
            Dialect dialect = any(random);

            assertThat(read(MappingText.of(dialect, List.of("found: 'x' # \t" + seed))))
                    .as("seed " + seed)
                    .isEqualTo(dialect);
        }
    }

    private static Dialect any(Random random) {
        List<String> names =
                List.of("a", "I (mA)", "t \"quoted\"", "#1", "- x", "yes", "12", "µ: s", "back\\slash", "{b}");
        TimeFrom time = switch (random.nextInt(4)) {
            case 0 -> new TimeFrom.Stamps(names.get(0));
            case 1 -> new TimeFrom.Counted(Optional.of(names.get(1)), 512);
            case 2 -> new TimeFrom.Counted(Optional.empty(), 0.1 + random.nextInt(100_000));
            default -> new TimeFrom.Numbers(names.get(2), TimeFrom.TimeUnit.US, random.nextBoolean());
        };
        var format = new Dialect.Format(
                Dialect.Delimiter.values()[random.nextInt(3)],
                Dialect.DecimalMark.POINT,
                Dialect.Grouping.values()[random.nextInt(2) * 3],
                random.nextBoolean());
        return new Dialect(
                "any",
                format,
                time,
                Map.of(
                        "hall_sin", ColumnFrom.of(names.get(3 + random.nextInt(3))),
                        "hall_cos",
                                ColumnFrom.of(names.get(6 + random.nextInt(2))).minus(names.get(8)),
                        "current_a", ColumnFrom.of(names.get(9)).times(random.nextBoolean() ? 1e-3 : -3.3e-7),
                        "hall_power", ColumnFrom.of("p").above(random.nextInt(9) - 4.5)),
                random.nextBoolean() ? OptionalInt.empty() : OptionalInt.of(1 + random.nextInt(64)));
    }

    @Nested
    class Schemas {
        private final Schema schema = schema();

        private static Schema schema() {
            try {
                return SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                        .getSchema(Files.readString(Path.of("specs/schema/mapping.schema.json")));
            } catch (IOException e) {
                throw new java.io.UncheckedIOException(e);
            }
        }

        @Test
        void a_good_file_is_good_for_both() {
            assertThat(schema.validate(GOOD, InputFormat.YAML)).isEmpty();
        }

        @ParameterizedTest
        @ValueSource(
                strings = {
                    "version: 1|version: 0",
                    "delimiter: semicolon|delimiter: colon",
                    "decimal: comma|decimal: dot",
                    "header: true|header: 1",
                    "unit: ms|unit: min",
                    "unit: ms|units: ms",
                    "from: first sample|from: start",
                    "from: first sample|form: date and time",
                    "column: S+, minus: S-|minus: S-",
                    "scale: 0.001|scale: 0",
                    "scale: 0.001|scale: '0.001'",
                    "on-above: 1.65|on-above: high",
                    "periods-per-turn: 2|periods-per-turn: 0",
                    "hall_power|hall_pwr",
                    "mapping: bench-logger|mapping: bench logger"
                })
        void a_bad_file_is_bad_for_both(String change) {
            String[] fromTo = change.split("\\|");
            String bad = GOOD.replace(fromTo[0], fromTo[1]);

            assertThat(bad).isNotEqualTo(GOOD);
            assertThat(schema.validate(bad, InputFormat.YAML)).isNotEmpty();
            assertThatThrownBy(() -> read(bad)).isInstanceOf(BadInput.class);
        }
    }

    @Nested
    class A_capture_that_does_not_fit {
        @TempDir
        Path folder;

        private String refusal(String capture) throws IOException {
            Path file = Files.writeString(folder.resolve("x.csv"), capture);
            BadInput bad = catchThrowableOfType(
                    BadInput.class,
                    () -> CsvCapture.open(file, CsvOptions.of(read(GOOD))).close());
            return bad.problems().get(0).toString().replace(folder + "/", "");
        }

        @Test
        void lacks_a_column() throws IOException {
            assertThat(refusal("t [ms];S+;S-;C+;C_;EN;I (mA)\n0;1;2;3;4;5;6\n"))
                    .startsWith(
                            "x.csv:1:1: no column 'C-', which the mapping bench-logger names; found t [ms], S+, S-, C+,"
                                    + " C_, EN, I (mA).");
        }

        @Test
        void is_of_another_logger() throws IOException {
            assertThat(refusal("time,x,y\n0,1,2\n"))
                    .contains("no header row with 't [ms]', 'S+', 'S-', 'C+', 'C-', 'EN', 'I (mA)' by semicolons")
                    .contains("shiftstand import --dry-run");
        }

        @Test
        void has_a_field_that_is_no_number() throws IOException {
            assertThat(refusal("t [ms];S+;S-;C+;C-;EN;I (mA)\n0,5;1;2;3;4;5;6\n1,5;1;2;x3;4;5;6\n2,5;1;2;3;4;5;6\n"))
                    .isEqualTo(
                            "x.csv:3:9: C+ is 'x3'; expected a number. Nothing was measured. Repair or remove the row.");
        }

        @Test
        void has_a_time_that_goes_back() throws IOException {
            assertThat(refusal("t [ms];S+;S-;C+;C-;EN;I (mA)\n2,5;1;2;3;4;5;6\n1,5;1;2;3;4;5;6\n3,5;1;2;3;4;5;6\n"))
                    .startsWith("x.csv:3:1: time goes back by 1.00 ms");
        }

        @Test
        void has_two_rows_at_one_time_that_differ() throws IOException {
            assertThat(refusal("t [ms];S+;S-;C+;C-;EN;I (mA)\n2,5;1;2;3;4;5;6\n2,5;1;2;3;4;5;7\n3,5;1;2;3;4;5;6\n"))
                    .startsWith("x.csv:3:1: time stands still")
                    .contains("with other values");
        }
    }
}
