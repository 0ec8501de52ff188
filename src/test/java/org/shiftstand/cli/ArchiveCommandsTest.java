package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Comparator;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.archive.BagForm;
import org.shiftstand.archive.BagWriter;
import org.shiftstand.archive.Payload;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Archive, sign, verify: as people type it. */
class ArchiveCommandsTest {
    private static final String CAPTURE = "src/test/resources/captures/bench-a.csv.gz";

    @TempDir
    Path folder;

    private Path passphrase;
    private Path keys;

    @BeforeEach
    void a_key_and_who_is_known() throws IOException {
        passphrase = Files.writeString(folder.resolve("passphrase"), "marsh and moor\n");
        Files.setPosixFilePermissions(passphrase, PosixFilePermissions.fromString("rw-------"));
        String told = Commands.run(
                        "key", "new", "fell", "--out", folder.toString(), "--passphrase-file", passphrase.toString())
                .out();
        keys = Files.writeString(folder.resolve("known.yaml"), told.substring(told.indexOf("keys: ")));
    }

    private Path archived(String run, String name, String... more) {
        Path bag = folder.resolve(name);
        String[] arguments = Stream.concat(Stream.of("archive", run, "--out", bag.toString()), Stream.of(more))
                .toArray(String[]::new);
        assertThat(Commands.run(arguments)).matches(r -> r.exitCode() == 0, "archived");
        return bag;
    }

    private Cli.Result signed(Path bag, String... more) {
        return Commands.run(Stream.concat(
                        Stream.of(
                                "sign",
                                bag.toString(),
                                "--key",
                                folder.resolve("fell.key.pem").toString(),
                                "--passphrase-file",
                                passphrase.toString(),
                                "--role",
                                "tested-by",
                                "--name",
                                "R. Fell"),
                        Stream.of(more))
                .toArray(String[]::new));
    }

    private Cli.Result verified(Path bag, String... more) {
        return Commands.run(
                Stream.concat(Stream.of("verify", bag.toString(), "--keys", keys.toString()), Stream.of(more))
                        .toArray(String[]::new));
    }

    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void a_signed_archive_of_a_capture_is_good_elsewhere_with_only_the_keys_file(String name) throws IOException {
        Path bag = archived(CAPTURE, name, "--spec", "passive-capture", "--unit", "TD-0107");
        assertThat(verified(bag).exitCode()).isEqualTo(3);
        assertThat(signed(bag).exitCode()).isZero();
        Path elsewhere = Files.createDirectory(folder.resolve("elsewhere"));
        Files.move(bag, elsewhere.resolve("renamed" + name.substring(3)), StandardCopyOption.ATOMIC_MOVE);

        Cli.Result result = verified(elsewhere.resolve("renamed" + name.substring(3)), "--rejudge");

        assertThat(result.out())
                .contains("unit TD-0107")
                .contains("good: R. Fell, tested-by")
                .contains("judged again from its samples: the same, clause by clause")
                .contains("Good.");
        assertThat(result.exitCode()).isZero();
        Cli.Result unknown = Commands.run(
                "verify", elsewhere.resolve("renamed" + name.substring(3)).toString());
        assertThat(unknown.out()).contains("unknown signer").contains("no file of known keys was named");
        assertThat(unknown.exitCode()).isEqualTo(3);
    }

    @ParameterizedTest
    @ValueSource(strings = {"v1.run", "v2.run", "v1-crashed.run"})
    void a_record_of_every_version_is_archived_and_judged_again(String record) throws IOException {
        Path from = Files.createDirectory(folder.resolve("record"));
        for (String suffix : new String[] {"", "-wal"}) {
            Path file = Path.of("src/test/resources/record", record + suffix);
            if (Files.exists(file)) {
                Files.copy(file, from.resolve(record + suffix));
            }
        }
        Path bag = archived(
                from.resolve(record).toString(),
                "bag.zip",
                "--spec",
                "tarn-drive-end-of-line",
                "--profile",
                "tarn-drive",
                "--procedure",
                "quick-look");
        assertThat(signed(bag).err()).contains("--disposition").contains("is missing");
        assertThat(verified(bag).out()).contains("not signed");
        assertThat(signed(bag, "--disposition", "kept as an example").exitCode())
                .isZero();

        Cli.Result result = verified(bag, "--rejudge");

        assertThat(result.out())
                .contains("judged again from its samples: the same, clause by clause")
                .contains("disposition 'kept as an example'");
        assertThat(result.exitCode()).isZero();
    }

    /** One figure of one group: text, verdicts and signature are as they should be. */
    @Test
    void a_doctored_figure_in_a_validly_signed_archive_is_named_with_its_clause_and_group() throws IOException {
        Path honest = archived(CAPTURE, "honest", "--spec", "passive-capture", "--unit", "TD-0107");
        Path doctored = rebuilt(honest, "data/result.json", text -> {
            JsonNode result = JsonMapper.shared().readTree(text);
            ((ObjectNode) group(result)).put("value", 6.5);
            return result.toString();
        });
        assertThat(signed(doctored).exitCode()).isZero();

        assertThat(verified(doctored).exitCode()).isZero();
        Cli.Result again = verified(doctored, "--rejudge");

        double honestValue = group(JsonMapper.shared().readTree(Files.readString(honest.resolve("data/result.json"))))
                .path("value")
                .doubleValue();
        assertThat(again.exitCode()).isEqualTo(1);
        assertThat(again.out())
                .contains("clause landing-spread, groups sprocket 3 direction outboard, value: archived 6.5, "
                        + "from the samples " + honestValue)
                .contains("NOT good");
        JsonNode json = JsonMapper.shared()
                .readTree(verified(doctored, "--rejudge", "--json").out())
                .path("bags")
                .path(0);
        assertThat(json.path("state").asString()).isEqualTo("wrong");
        assertThat(json.path("signatures").path(0).path("state").asString()).isEqualTo("good");
        assertThat(json.path("differences").size()).isEqualTo(1);
        assertThat(json.path("differences").path(0).path("archived").asString()).isEqualTo("6.5");
    }

    private static JsonNode group(JsonNode result) {
        return result.path("clauses")
                .valueStream()
                .filter(clause -> clause.path("id").asString().equals("landing-spread"))
                .flatMap(clause -> clause.path("groups").valueStream())
                .filter(group -> group.path("reason").asString().startsWith("sprocket 3 outboard"))
                .findFirst()
                .orElseThrow();
    }

    /** Whoever makes a bag chooses its texts: none of them may move the cursor, or turn the direction of what is read. */
    @Test
    void texts_in_a_hostile_archive_do_nothing_to_a_terminal() throws IOException {
        Path honest = archived(CAPTURE, "honest", "--spec", "passive-capture", "--unit", "TD-0107");
        String evil = "\\u001b[2J\\u009b1A\\u202e\\u2028x";
        Path result = rebuilt(
                honest,
                "data/result.json",
                text -> text.replaceAll(
                        "\"(unit|verdict|sha256|name|id|reason)\"\\s*:\\s*\"", "$0" + evil.replace("\\", "\\\\")));
        assertQuiet(verified(result, "--rejudge"));
        assertQuiet(signed(result));
        assertQuiet(signed(result, "--disposition", "kept"));
        assertThat(verified(result).out()).contains("TD-0107").contains("disposition 'kept'");
        assertQuiet(verified(result));
        for (String member : new String[] {"\"file\"", "\"name\"", "\"role\""}) {
            Path bag = rebuilt(
                    honest,
                    "data/judging.json",
                    text -> text.replaceFirst(member + "\\s*:\\s*\"", "$0" + evil.replace("\\", "\\\\")));
            assertQuiet(verified(bag, "--rejudge"));
            delete(bag);
        }
    }

    private static void assertQuiet(Cli.Result result) {
        assertThat((result.out() + result.err())
                        .codePoints()
                        .filter(c -> c != '\n')
                        .filter(c -> Character.isISOControl(c)
                                || Character.getType(c) == Character.FORMAT
                                || Character.getType(c) == Character.LINE_SEPARATOR)
                        .mapToObj(Integer::toHexString))
                .as(result.out() + result.err())
                .isEmpty();
    }

    private static void delete(Path bag) throws IOException {
        try (Stream<Path> files = Files.walk(bag)) {
            for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(file);
            }
        }
    }

    @Test
    void a_signature_that_was_taken_away_or_comes_from_another_archive_is_found() throws IOException {
        Path bag = archived(CAPTURE, "bag", "--spec", "passive-capture", "--unit", "TD-0107");
        Path other = archived(CAPTURE, "other", "--spec", "passive-capture", "--unit", "TD-0108");
        signed(bag);
        assertThat(signedAs(bag, "approved-by").exitCode()).isZero();
        signed(other);
        assertThat(verified(bag).exitCode()).isZero();
        assertThat(signedAs(bag, "approved-by").err()).contains("already");

        Path first = bag.resolve("signatures/001-tested-by.json");
        byte[] kept = Files.readAllBytes(first);
        Files.copy(other.resolve("signatures/001-tested-by.json"), first, StandardCopyOption.REPLACE_EXISTING);
        Cli.Result exchanged = verified(bag);
        assertThat(exchanged.exitCode()).isEqualTo(1);
        assertThat(exchanged.out())
                .contains("signatures/001-tested-by.json: bad: it is about another bag, another unit")
                .contains("signatures/002-approved-by.json: bad: it was given after other signatures");
        Files.delete(first);
        assertThat(verified(bag).exitCode()).isEqualTo(1);
        Files.write(first, kept);
        assertThat(verified(bag).exitCode()).isZero();

        Path name = bag.resolve("names/001-tested-by.json");
        Files.delete(name);
        assertThat(verified(bag).out()).contains("good: fell, tested-by").doesNotContain("wrong");
        Files.copy(other.resolve("names/001-tested-by.json"), name);
        Cli.Result strange = verified(bag);
        assertThat(strange.exitCode()).isEqualTo(1);
        assertThat(strange.out()).contains("whom this bag does not know");
    }

    private Cli.Result signedAs(Path bag, String role) {
        return Commands.run(
                "sign",
                bag.toString(),
                "--key",
                folder.resolve("fell.key.pem").toString(),
                "--passphrase-file",
                passphrase.toString(),
                "--role",
                role,
                "--name",
                "R. Fell");
    }

    @Test
    void nothing_is_signed_with_a_passphrase_that_is_wrong_or_that_others_may_read() throws IOException {
        Path bag = archived(CAPTURE, "bag.zip", "--spec", "passive-capture", "--unit", "TD-0107");
        byte[] before = Files.readAllBytes(bag);

        Files.writeString(passphrase, "moor and marsh\n");
        Cli.Result wrong = signed(bag);
        Files.writeString(passphrase, "marsh and moor\n");
        Files.setPosixFilePermissions(passphrase, PosixFilePermissions.fromString("rw-r--r--"));
        Cli.Result open = signed(bag);

        assertThat(wrong.exitCode()).isEqualTo(2);
        assertThat(wrong.err()).contains("the passphrase is wrong");
        assertThat(open.exitCode()).isEqualTo(2);
        assertThat(open.err()).contains("chmod 600").doesNotContain("marsh");
        assertThat(bag).hasBinaryContent(before);
    }

    /** Everything signed validly, only the result says otherwise than the samples. */
    @Test
    void a_doctored_verdict_in_a_validly_signed_archive_is_found_by_judging_again() throws IOException {
        Path honest = archived(CAPTURE, "honest", "--spec", "passive-capture", "--unit", "TD-0107");
        String result = Files.readString(honest.resolve("data/result.json"));
        String verdict = JsonMapper.shared().readTree(result).path("verdict").asString();
        String other = verdict.equals("pass") ? "fail" : "pass";
        Path doctored =
                rebuilt(honest, "data/result.json", text -> text.replace("\"" + verdict + "\"", "\"" + other + "\""));
        assertThat(signed(doctored, other.equals("pass") ? new String[0] : new String[] {"--disposition", "scrap"})
                        .exitCode())
                .isZero();

        assertThat(verified(doctored).exitCode()).isZero();
        Cli.Result again = verified(doctored, "--rejudge");

        assertThat(again.exitCode()).isEqualTo(1);
        assertThat(again.out())
                .contains("verdict: archived " + other + ", from the samples " + verdict)
                .containsPattern("clause [a-z-]+, verdict: archived " + other)
                .contains("NOT good");
    }

    @Test
    void a_doctored_report_or_shift_table_is_found_by_judging_again() throws IOException {
        Path honest = archived(CAPTURE, "honest", "--spec", "passive-capture", "--unit", "TD-0107");
        Path report = rebuilt(honest, "data/report.html", text -> text.replaceFirst("TD-0107", "TD-0108"));
        assertThat(signed(report).exitCode()).isZero();
        assertThat(verified(report).exitCode()).isZero();
        assertThat(verified(report, "--rejudge"))
                .matches(result -> result.exitCode() == 1, "found")
                .extracting(Cli.Result::out)
                .asString()
                .contains("data/report.html, line ")
                .contains("TD-0108");
        Path table = rebuilt(honest, "data/shifts.csv", text -> text.replaceFirst("landed", "missed"));
        assertThat(signed(table).exitCode()).isZero();
        assertThat(verified(table).exitCode()).isZero();
        assertThat(verified(table, "--rejudge"))
                .matches(result -> result.exitCode() == 1, "found")
                .extracting(Cli.Result::out)
                .asString()
                .contains("data/shifts.csv, line 2: archived '");
    }

    private interface Doctor {
        String change(String text);
    }

    private Path rebuilt(Path honest, String path, Doctor doctor) throws IOException {
        SortedMap<String, Payload> payload = new TreeMap<>();
        try (Stream<Path> files = Files.walk(honest.resolve("data"))) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                payload.put(honest.resolve("data").relativize(file).toString(), Payload.of(file));
            }
        }
        String changed = doctor.change(Files.readString(honest.resolve(path)));
        assertThat(changed).isNotEqualTo(Files.readString(honest.resolve(path)));
        payload.put(path.substring("data/".length()), Payload.of(changed.getBytes(StandardCharsets.UTF_8)));
        Path bag = folder.resolve("doctored-" + path.replaceAll("\\W", "-"));
        BagWriter.write(bag, BagForm.FOLDER, "TD-0107", "shiftstand", payload, new TreeMap<>(Map.of()), false);
        return bag;
    }

    @Test
    void a_changed_byte_is_named_with_its_file_and_nothing_of_it_can_be_signed() throws IOException {
        Path bag = archived(CAPTURE, "bag", "--spec", "passive-capture", "--unit", "TD-0107");
        signed(bag);
        byte[] bytes = Files.readAllBytes(bag.resolve("data/shifts.csv"));
        bytes[100] ^= 1;
        Files.write(bag.resolve("data/shifts.csv"), bytes);

        Cli.Result result = verified(bag, "--rejudge");

        assertThat(result.exitCode()).isEqualTo(1);
        assertThat(result.out()).contains("data/shifts.csv: has changed").contains("not judged again");
        assertThat(signed(bag).err()).contains("nothing was signed");
        assertThat(JsonMapper.shared()
                        .readTree(verified(bag, "--json").out())
                        .path("bags")
                        .path(0)
                        .path("findings")
                        .path(0)
                        .path("file")
                        .asString())
                .isEqualTo("data/shifts.csv");
    }

    @Test
    void roles_that_must_have_signed_are_asked_for() {
        Path bag = archived(CAPTURE, "bag", "--spec", "passive-capture", "--unit", "TD-0107");
        signed(bag);

        assertThat(verified(bag, "--require", "tested-by").exitCode()).isZero();
        Cli.Result missing = verified(bag, "--require", "tested-by,approved-by");

        assertThat(missing.out()).contains("nobody signed in the role approved-by");
        assertThat(missing.exitCode()).isEqualTo(1);
        assertThat(verified(bag, "--require", "Boss").err()).contains("--require Boss: is no role");
    }

    @Test
    void the_same_run_gives_the_same_bytes_in_every_form() throws IOException {
        for (String ending : new String[] {".tar.gz", ".zip"}) {
            Path one = archived(CAPTURE, "one/bag" + ending, "--spec", "passive-capture", "--unit", "TD-0107");
            Path other = archived(CAPTURE, "other/bag" + ending, "--spec", "passive-capture", "--unit", "TD-0107");
            assertThat(Files.mismatch(one, other)).isEqualTo(-1);
        }
    }

    @Test
    void what_cannot_be_archived_says_why() {
        Cli.Result nameless = Commands.run(
                "archive",
                CAPTURE,
                "--spec",
                "passive-capture",
                "--out",
                folder.resolve("bag").toString());
        Path there = archived(CAPTURE, "there", "--spec", "passive-capture", "--unit", "TD-0107");
        Cli.Result again = Commands.run(
                "archive", CAPTURE, "--spec", "passive-capture", "--unit", "TD-0107", "--out", there.toString());

        assertThat(nameless.exitCode()).isEqualTo(2);
        assertThat(nameless.err()).contains("add --unit");
        assertThat(again.exitCode()).isEqualTo(2);
        assertThat(again.err()).contains("exists already");
    }

    @Test
    void a_forgotten_name_is_gone_and_the_signature_holds() throws IOException {
        Path bag = archived(CAPTURE, "bag.tar.gz", "--spec", "passive-capture", "--unit", "TD-0107");
        signed(bag);
        String history = folder.resolve("history.db").toString();
        Commands.run("history", "rebuild", folder.toString(), "--history", history);

        Cli.Result forgotten =
                Commands.run("history", "forget", "--operator", "R. Fell", folder.toString(), "--history", history);

        assertThat(forgotten.out()).contains("1 in the history and 1 files were deleted");
        Cli.Result result = verified(bag, "--rejudge");
        assertThat(result.exitCode()).isZero();
        assertThat(result.out()).contains("good: fell, tested-by").doesNotContain("R. Fell");
        Commands.run("history", "rebuild", folder.toString(), "--history", history, "--anew");
        assertThat(Commands.run("history", "show", "TD-0107", "--json", "--history", history)
                        .out())
                .doesNotContain("R. Fell");
    }
}
