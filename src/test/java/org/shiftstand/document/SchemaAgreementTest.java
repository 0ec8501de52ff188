package org.shiftstand.document;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.shiftstand.archive.sign.TrustedKeys;
import org.shiftstand.bench.ProbeReportReader;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.bench.UnitLimitsReader;
import org.shiftstand.document.Bundled.Kind;
import org.shiftstand.judge.ParticularsReader;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.SpecReader;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.JsonNodeFactory;
import tools.jackson.databind.node.ObjectNode;

/**
 * The readers check files by their own code, quickly and with messages for people; the JSON Schemas describe the same forms
 * for editors. Here both are held to the same answers, over the files of the project and thousands of damaged ones.
 */
class SchemaAgreementTest {
    private static final JsonNodeFactory JSON = JsonNodeFactory.instance;
    private static final ObjectMapper MAPPER = new ObjectMapper();

    /** Files of people that come with no bundle. */
    private static final String KEYS = "KEYS";

    private static final Map<String, Function<TextFile, ?>> READERS = Map.of(
            KEYS,
            TrustedKeys::read,
            Kind.SPEC.name(),
            SpecReader::read,
            Kind.PROFILE.name(),
            ProfileReader::read,
            Kind.PROCEDURE.name(),
            ProcedureReader::read,
            Kind.RIG.name(),
            RigDescriptionReader::read,
            Kind.LIMITS.name(),
            UnitLimitsReader::read,
            Kind.PARTICULARS.name(),
            ParticularsReader::read,
            Kind.PROBE.name(),
            ProbeReportReader::read);

    private static final Map<String, Schema> SCHEMAS = Map.of(
            KEYS,
            schema("specs/schema/keys.schema.json"),
            Kind.SPEC.name(),
            schema("specs/schema/spec.schema.json"),
            Kind.PROFILE.name(),
            schema("specs/schema/profile.schema.json"),
            Kind.PROCEDURE.name(),
            schema("specs/schema/procedure.schema.json"),
            Kind.RIG.name(),
            schema("specs/schema/rig.schema.json"),
            Kind.LIMITS.name(),
            schema("specs/schema/limits.schema.json"),
            Kind.PARTICULARS.name(),
            schema("specs/schema/particulars.schema.json"),
            Kind.PROBE.name(),
            schema("specs/schema/probe.schema.json"));

    /** What the readers know beyond form: how values go together. A schema cannot say these. */
    private static final Pattern BEYOND_FORM = Pattern.compile(String.join(
            "|",
            // quantities
            "; expected an? \\w+ above 0",
            "is too large",
            "runs backwards",
            "is out of bounds",
            // specs
            "so its bound is too",
            "is never below 0",
            "a count is a whole number",
            "a proportion lies between",
            "the lower bound",
            "is used before in line",
            "mixes their positions",
            "one shift has no",
            "one shift has none",
            "(percentile|confidence|coverage|false-accept|significance) is .* expected more than 0 %",
            "confidence is below 50 %",
            "false-accept sets a guard band",
            "has no long-run value to claim",
            "no confidence limit of it is known",
            "ISO 230-2 defines it of positions",
            "needs is .* expected shifts",
            "is about many cycles, and each group holds one",
            "a reversal is the difference of both directions",
            "needs both limits",
            "may-miss is .* expected a share",
            "needs is .* expected a whole number of shifts",
            "settle-band is .* expected less than",
            "grouping '\\w+' is given twice",
            "'proportion' of ",
            "equivalent-to '\\w+' of an outcome",
            "' of an equivalence; it has a largest difference only",
            "the clause has no margin",
            "a margin (is above 0|of spreads|of shares)",
            "equivalent-to per cycle",
            // profiles
            "is not beyond that of",
            " values; expected \\d+, one",
            "tooth counts; expected",
            "is not outside the positions",
            "overtravel is -",
            "overtravel of ",
            "teeth, not more than",
            // procedures
            "supply is .* expected 'off', or up to",
            "reconnect is .* expected 1 s",
            "is given twice; expected once",
            "sample-rate is .* expected 50 Hz",
            "rest is .* expected 0 ms",
            "shifts nothing",
            "while the unit has no supply",
            "before any 'home'",
            "current-above is .* (for|over) ",
            // rigs
            "the smaller first, within 16 bits",
            "expected at most 60 min/h",
            "a day that no calendar has",
            "(uncertainty|standard|half-width|value|factor|repeatability|reproducibility) is an? \\w+, ",
            ", below 0; expected a standard deviation",
            "are not of one dimension",
            "duty is .* expected more than 0 %",
            "supply runs from",
            // known keys
            "until is not after from",
            // limits and probes
            ", out of bounds; ",
            "is not above the outboard one",
            "a time that no calendar has",
            "is there twice; expected each check once",
            "(^|: )(average-)?current is .* (for|over) ",
            "(on-time|scale) is '[-+]?[0.]+ "));

    private static Schema schema(String path) {
        try {
            return registry().getSchema(Files.readString(Path.of(path)), InputFormat.JSON);
        } catch (java.io.IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private static SchemaRegistry registry() {
        return SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12);
    }

    /** The same value as JSON. */
    private static JsonNode json(Node node) {
        if (node instanceof Table table) {
            ObjectNode object = JSON.objectNode();
            table.keys().forEach(key -> object.set(key, json(table.find(key).orElseThrow())));
            return object;
        }
        if (node instanceof Items items) {
            ArrayNode array = JSON.arrayNode();
            items.nodes().forEach(item -> array.add(json(item)));
            return array;
        }
        Scalar scalar = (Scalar) node;
        return switch (scalar.kind()) {
            case TEXT -> JSON.stringNode(scalar.value());
            case WHOLE, DECIMAL -> JSON.numberNode(new BigDecimal(scalar.value()));
            case TRUTH ->
                JSON.booleanNode(
                        scalar.value().toLowerCase(java.util.Locale.ROOT).equals("true"));
            case NOTHING -> JSON.nullNode();
        };
    }

    record Source(String form, String path) {
        Source(Kind kind, String path) {
            this(kind.name(), path);
        }

        String text() throws Exception {
            return Files.readString(Path.of(path));
        }

        @Override
        public String toString() {
            return path;
        }
    }

    static Stream<Source> sources() {
        return Stream.concat(
                Stream.of(Kind.values())
                        .filter(kind -> READERS.containsKey(
                                kind.name())) // a table of values has no form that a schema could say
                        .flatMap(kind -> Bundled.paths(kind).stream().map(path -> new Source(kind, path))),
                Stream.of(
                        new Source(KEYS, "src/test/resources/schema/everything.keys.yaml"),
                        new Source(Kind.PARTICULARS, "src/test/resources/schema/everything.particulars.yaml"),
                        new Source(Kind.LIMITS, "src/test/resources/schema/probed.limits.yaml"),
                        new Source(Kind.LIMITS, "src/test/resources/schema/by-hand.limits.yaml"),
                        new Source(Kind.PROBE, "src/test/resources/schema/everything.probe.yaml"),
                        new Source(Kind.RIG, "src/test/resources/schema/guarded.rig.yaml"),
                        new Source(Kind.SPEC, "src/test/resources/schema/everything.spec.yaml"),
                        new Source(Kind.PROCEDURE, "src/test/resources/schema/everything.yaml")));
    }

    /** REF-SCHEMA-01: JSON Schema Core and Validation, draft 2020-12; the library that the other tests here rely on. */
    @Test
    void the_library_judges_by_draft_2020_12() throws Exception {
        JsonNode reference =
                MAPPER.readTree(Files.readString(Path.of("src/test/resources/schema/json_schema_2020_12.json")));
        Schema schema = registry().getSchema(reference.get("schema").toString(), InputFormat.JSON);

        reference
                .get("valid")
                .forEach(instance -> assertThat(schema.validate(instance)).isEmpty());
        reference
                .get("invalid")
                .forEach(bad -> assertThat(schema.validate(bad.get("instance")))
                        .as(bad.get("why").stringValue())
                        .isNotEmpty());
        assertThat(reference.get("valid").size()).isEqualTo(2);
        assertThat(reference.get("invalid").size()).isEqualTo(7);
    }

    private static Schema schema(Source source) {
        return Objects.requireNonNull(SCHEMAS.get(source.form()));
    }

    private static Function<TextFile, ?> reader(Source source) {
        return Objects.requireNonNull(READERS.get(source.form()));
    }

    @ParameterizedTest
    @MethodSource("sources")
    void a_file_of_the_project_is_valid_and_is_read(Source source) throws Exception {
        TextFile file = TextFile.of(source.path(), source.text());

        assertThat(schema(source).validate(json(Yaml.read(file, new Problems(source.path()), "a file"))))
                .isEmpty();
        assertThat(reader(source).apply(file)).isNotNull();
    }

    /** Seeds are the numbers of the mutations; one that fails is in the message. */
    @ParameterizedTest
    @MethodSource("sources")
    void a_damaged_file_is_refused_by_both_or_taken_by_both_and_never_breaks_the_reader(Source source)
            throws Exception {
        String text = source.text();
        int refused = 0;
        int compared = 0;
        for (int seed = 0; seed < 300; seed++) {
            String damaged = new Mutation(seed).of(text);
            List<Problem> problems = read(source, damaged, seed);
            refused += problems.isEmpty() ? 0 : 1;
            var form = new Problems("x.yaml");
            JsonNode json;
            try {
                json = json(Yaml.read(TextFile.of("x.yaml", damaged), form, "a file"));
            } catch (BadInput e) {
                continue; // no tree that a schema could judge
            }
            if (form.none()) {
                compared++;
                compare(source, damaged, seed, problems, schema(source).validate(json));
            }
        }
        assertThat(refused).as("mutations that were refused").isGreaterThan(60);
        assertThat(compared).as("mutations that both could judge").isGreaterThan(60);
    }

    private static List<Problem> read(Source source, String damaged, int seed) {
        try {
            assertThat(reader(source).apply(TextFile.of("x.yaml", damaged))).isNotNull();
            return List.of();
        } catch (BadInput e) {
            long lines = damaged.lines().count() + 1;
            assertThat(e.problems()).as("seed %s", seed).isNotEmpty().allSatisfy(problem -> {
                assertThat(problem.line()).isBetween(0, (int) lines);
                assertThat(problem.text()).isNotBlank();
            });
            return e.problems();
        } catch (RuntimeException | StackOverflowError e) {
            return fail("seed " + seed + " of " + source + " broke the reader:\n" + damaged, e);
        }
    }

    private static void compare(
            Source source, String damaged, int seed, List<Problem> problems, List<com.networknt.schema.Error> errors) {
        String told = problems.stream().map(Problem::toString).collect(Collectors.joining("\n"));
        if (!errors.isEmpty() && problems.isEmpty()) {
            fail("seed " + seed + " of " + source + ": the schema refuses what the reader takes: " + errors + "\n"
                    + damaged);
        }
        List<String> ofForm = new ArrayList<>(problems.stream()
                .map(Problem::text)
                .filter(text -> !BEYOND_FORM.matcher(text).find())
                .toList());
        if (errors.isEmpty() && !ofForm.isEmpty()) {
            fail("seed " + seed + " of " + source + ": the reader refuses what the schema takes: " + told + "\n"
                    + damaged);
        }
    }

    /** Damages a text in one to three ways that a slip of the hand, or of an editor, could. */
    private static final class Mutation {
        private static final List<String> WORDS = List.of(
                "0",
                "-1",
                "1.5",
                "1e9",
                "true",
                "null",
                "~",
                "''",
                "[]",
                "{}",
                "[1, 2]",
                "12 deg",
                "700 ms",
                "12 dge",
                "50 %",
                "2..6",
                "6..2",
                "landed",
                "mean",
                "guarded",
                "process",
                "drift",
                "last",
                "20 shifts",
                "9 A for 20 ms",
                "*a",
                "&a 1",
                "!!str x",
                "<<",
                "\"x",
                "'x",
                "9 V..6 V",
                "\t",
                "#",
                "- ",
                ": ",
                "\u00e9",
                "\uFEFF",
                "\u0000",
                "---");

        private final Random random;

        Mutation(int seed) {
            this.random = new Random(seed);
        }

        String of(String text) {
            String damaged = text;
            for (int i = 0; i <= random.nextInt(3); i++) {
                damaged = once(damaged);
            }
            return damaged;
        }

        private String once(String text) {
            if (text.isEmpty()) {
                return "x";
            }
            List<String> lines = new ArrayList<>(List.of(text.split("\n", -1)));
            int line = random.nextInt(lines.size());
            int at = random.nextInt(text.length());
            switch (random.nextInt(9)) {
                case 0 -> lines.remove(line);
                case 1 -> lines.add(line, lines.get(random.nextInt(lines.size())));
                case 2 -> lines.set(line, "  " + lines.get(line));
                case 3 -> lines.set(line, lines.get(line).replaceFirst("^ ", ""));
                case 4 -> {
                    return text.substring(0, at) + text.substring(at + 1);
                }
                case 5 -> {
                    return text.substring(0, at) + (char) (' ' + random.nextInt(95)) + text.substring(at);
                }
                case 6, 7 -> lines.set(line, otherValue(lines.get(line)));
                default -> {
                    return random.nextInt(8) == 0 ? text.substring(0, at) : swapped(lines);
                }
            }
            return String.join("\n", lines);
        }

        private String otherValue(String line) {
            int colon = line.lastIndexOf(": ", Math.max(1, random.nextInt(line.length() + 1)));
            String word = WORDS.get(random.nextInt(WORDS.size()));
            return colon < 0 ? line + " " + word : line.substring(0, colon + 2) + word + rest(line, colon + 2);
        }

        /** What follows a value in a flow mapping. */
        private static String rest(String line, int from) {
            for (int i = from; i < line.length(); i++) {
                if (line.charAt(i) == ',' || line.charAt(i) == '}') {
                    return line.substring(i);
                }
            }
            return "";
        }

        private String swapped(List<String> lines) {
            int a = random.nextInt(lines.size());
            int b = random.nextInt(lines.size());
            String line = lines.get(a);
            lines.set(a, lines.get(b));
            lines.set(b, line);
            return String.join("\n", lines);
        }
    }
}
