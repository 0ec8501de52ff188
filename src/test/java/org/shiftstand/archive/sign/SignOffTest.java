package org.shiftstand.archive.sign;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.SortedMap;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

class SignOffTest {
    private static final Instant AT = Instant.parse("2026-11-26T12:00:00.75Z");
    private static final String DIGEST = "sha256:" + "ab".repeat(32);
    private static final Subject PASSED =
            new Subject(DIGEST, "TD-0107", "tarn-drive-end-of-line", 1, "cd".repeat(32), "pass");
    private static final Subject FAILED =
            new Subject(DIGEST, "TD-0107", "tarn-drive-end-of-line", 1, "cd".repeat(32), "fail");

    private final SigningKey fell = SigningKey.generate(new SecureRandom());
    private final SigningKey moss = SigningKey.generate(new SecureRandom());
    private final SaltedName fellName = SaltedName.of("R. Fell", new SecureRandom());
    private final SaltedName mossName = SaltedName.of("H. Moss", new SecureRandom());
    private final SortedMap<String, byte[]> signatures = new TreeMap<>();

    private void sign(Subject subject, SigningKey key, String role, SaltedName name, Optional<String> disposition) {
        SignOff.Signed signed = SignOff.sign(subject, signatures, key, role, name, disposition, AT, "0.1.0");
        signatures.put(signed.path(), signed.content());
    }

    private void bothSign() {
        sign(PASSED, fell, "tested-by", fellName, Optional.empty());
        sign(PASSED, moss, "approved-by", mossName, Optional.empty());
    }

    private TrustedKeys keys(String... more) {
        String text = "keys: quillmoor-works\nversion: 1\nknown:\n  - key: "
                + fell.id().fingerprint()
                + "\n    name: end of line\n" + String.join("", more) + "  - key: "
                + moss.id().fingerprint()
                + "\n    name: H. Moss\n    roles: [approved-by]\n";
        return TrustedKeys.read(TextFile.of("keys.yaml", text));
    }

    private List<SignatureCheck> check(Subject subject, TrustedKeys keys) {
        return SignOff.check(subject, signatures, Map.of(fellName.digest(), "R. Fell"), keys);
    }

    private static String state(SignatureCheck check) {
        return check.getClass().getSimpleName();
    }

    @Test
    void two_people_sign_one_after_another_and_both_are_good() {
        bothSign();

        List<SignatureCheck> checks = check(PASSED, keys());

        assertThat(signatures.keySet())
                .containsExactly("signatures/001-tested-by.json", "signatures/002-approved-by.json");
        assertThat(checks).extracting(SignOffTest::state).containsExactly("Good", "Good");
        SignatureCheck.Said first = ((SignatureCheck.Good) checks.get(0)).said();
        assertThat(first.name()).contains("R. Fell");
        assertThat(first.at()).isEqualTo(Instant.parse("2026-11-26T12:00:00Z"));
        assertThat(first.verdict()).isEqualTo("pass");
    }

    @Test
    void without_its_disclosed_name_a_signature_still_holds() {
        bothSign();

        List<SignatureCheck> checks = SignOff.check(PASSED, signatures, Map.of(), keys());

        assertThat(((SignatureCheck.Good) checks.get(0)).said().name()).contains("end of line");
    }

    @Test
    void an_unknown_signer_is_told_apart_from_a_bad_signature() {
        bothSign();

        assertThat(check(PASSED, TrustedKeys.none()))
                .extracting(SignOffTest::state)
                .containsExactly("UnknownSigner", "UnknownSigner");
    }

    @Test
    void every_changed_byte_of_a_signature_makes_it_bad() {
        bothSign();
        TrustedKeys keys = keys();

        for (String path : List.copyOf(signatures.keySet())) {
            byte[] good = Objects.requireNonNull(signatures.get(path));
            for (int i = 0; i < good.length; i++) {
                for (int mask : new int[] {0x01, 0x20, 0x80}) {
                    byte[] changed = good.clone();
                    changed[i] ^= (byte) mask;
                    signatures.put(path, changed);
                    assertThat(check(PASSED, keys))
                            .as("%s, byte %d ^ %d", path, i, mask)
                            .anyMatch(c -> c.file().equals(path) && c instanceof SignatureCheck.Bad);
                }
            }
            signatures.put(path, good);
        }
    }

    @Test
    void a_signature_that_was_taken_away_renamed_swapped_or_doubled_is_missed_by_the_later_ones() {
        bothSign();
        byte[] first = Objects.requireNonNull(signatures.get("signatures/001-tested-by.json"));
        byte[] second = Objects.requireNonNull(signatures.get("signatures/002-approved-by.json"));

        signatures.remove("signatures/001-tested-by.json");
        assertThat(check(PASSED, keys())).extracting(SignOffTest::state).containsExactly("Bad");
        signatures.clear();
        signatures.put("signatures/001-approved-by.json", second);
        signatures.put("signatures/002-tested-by.json", first);
        assertThat(check(PASSED, keys())).extracting(SignOffTest::state).containsExactly("Bad", "Bad");
        signatures.clear();
        signatures.put("signatures/001-tested-by.json", second);
        signatures.put("signatures/002-approved-by.json", first);
        assertThat(check(PASSED, keys())).extracting(SignOffTest::state).containsExactly("Bad", "Bad");
        signatures.clear();
        signatures.put("signatures/001-tested-by.json", first);
        signatures.put("signatures/002-tested-by.json", first);
        assertThat(check(PASSED, keys())).extracting(SignOffTest::state).containsExactly("Good", "Bad");
    }

    @Test
    void a_statement_of_another_bag_unit_spec_or_verdict_is_bad_and_says_which() {
        bothSign();
        List<Subject> others = List.of(
                new Subject("sha256:" + "00".repeat(32), "TD-0107", PASSED.spec(), 1, PASSED.specSha256(), "pass"),
                new Subject(DIGEST, "TD-0108", PASSED.spec(), 1, PASSED.specSha256(), "pass"),
                new Subject(DIGEST, "TD-0107", PASSED.spec(), 2, PASSED.specSha256(), "pass"),
                FAILED);

        assertThat(others.stream()
                        .map(other -> ((SignatureCheck.Bad) check(other, keys()).get(0)).why()))
                .containsExactly(
                        "it is about another bag",
                        "it is about another unit",
                        "it is about another spec",
                        "it is about another verdict");
    }

    /** Name and version of a spec are two things: "line" 12 is not "line1" 2. */
    @Test
    void a_spec_is_another_one_even_where_name_and_version_read_alike_in_one_word() {
        sign(
                new Subject(DIGEST, "TD-0107", "line", 12, PASSED.specSha256(), "pass"),
                fell,
                "tested-by",
                fellName,
                Optional.empty());

        Subject alike = new Subject(DIGEST, "TD-0107", "line1", 2, PASSED.specSha256(), "pass");
        assertThat(((SignatureCheck.Bad) check(alike, keys()).get(0)).why()).isEqualTo("it is about another spec");
    }

    /** Whoever holds a known key may still write nonsense: it is read as carefully as that of anybody else. */
    @Test
    void a_statement_with_other_members_is_bad_even_where_a_known_key_signed_it() {
        sign(PASSED, fell, "tested-by", fellName, Optional.empty());
        JsonNode good = JsonMapper.shared()
                .readTree(signatures.get("signatures/001-tested-by.json"))
                .path("statement");
        Random random = new Random(20261127);
        for (int round = 0; round < 500; round++) {
            ObjectNode statement = (ObjectNode) good.deepCopy();
            doctor(statement, random);
            if (statement.equals(good)) {
                continue;
            }
            signatures.put("signatures/001-tested-by.json", signedByFell(statement));
            assertThat(check(PASSED, keys()))
                    .as("round %d: %s", round, statement)
                    .extracting(SignOffTest::state)
                    .containsExactly("Bad");
        }
    }

    private byte[] signedByFell(JsonNode statement) {
        String signature = java.util.Base64.getEncoder().encodeToString(fell.sign(Canonical.bytes(statement)));
        return Canonical.line(Canonical.bytes(JsonMapper.shared()
                .createObjectNode()
                .put("signature", signature)
                .set("statement", statement)));
    }

    /** Changes, adds or takes away one member, of the statement or of an object in it. */
    private static void doctor(ObjectNode statement, Random random) {
        List<String> inner = List.of("signer", "software", "spec");
        ObjectNode in = random.nextInt(3) == 0
                ? (ObjectNode) statement.path(inner.get(random.nextInt(inner.size())))
                : statement;
        List<String> members = List.copyOf(in.propertyNames());
        String member = members.get(random.nextInt(members.size()));
        switch (random.nextInt(8)) {
            case 0 -> in.remove(member);
            case 1 -> in.put("more", random.nextInt());
            // which version signed, is the signer's own word: any text
            default -> in.set(member, nonsense(random, !member.equals("version")));
        }
    }

    private static JsonNode nonsense(Random random, boolean texts) {
        List<String> values = List.of(
                "null",
                "true",
                "0",
                "-1",
                "1e+21",
                "1.5",
                "[]",
                "{}",
                "[[]]",
                "[null]",
                "[\"sha256:\"]",
                "{\"a\":{}}",
                "\"\"",
                "\"1\"",
                "\"pass\\u0000\"",
                "\"\u20ac\"",
                "\"2026-13-01T00:00:00Z\"");
        return JsonMapper.shared().readTree(values.get(random.nextInt(texts ? values.size() : 12)));
    }

    @Test
    void another_algorithm_is_refused_even_where_the_signature_over_it_holds() {
        sign(PASSED, fell, "tested-by", fellName, Optional.empty());
        for (String algorithm : List.of("none", "Ed448", "ed25519", "RSA")) {
            String path = "signatures/001-tested-by.json";
            ObjectNode file = (ObjectNode) JsonMapper.shared().readTree(signatures.get(path));
            JsonNode statement = ((ObjectNode) file.path("statement")).put("algorithm", algorithm);
            file.put("signature", java.util.Base64.getEncoder().encodeToString(fell.sign(Canonical.bytes(statement))));
            SortedMap<String, byte[]> doctored = new TreeMap<>(Map.of(path, Canonical.line(Canonical.bytes(file))));

            assertThat(((SignatureCheck.Bad) SignOff.check(PASSED, doctored, Map.of(), keys())
                                    .get(0))
                            .why())
                    .contains("algorithm '" + algorithm + "'");
        }
    }

    @Test
    void a_revoked_key_a_wrong_time_and_a_wrong_role_are_not_to_be_relied_on() {
        sign(PASSED, fell, "tested-by", fellName, Optional.empty());

        assertThat(why(keys("    revoked: { on: 2026-12-01T00:00:00Z, because: lost }\n")))
                .isEqualTo("the key is revoked: lost, on 2026-12-01T00:00:00Z");
        assertThat(why(keys("    from: 2026-12-01T00:00:00Z\n"))).startsWith("the key was not valid at");
        assertThat(why(keys("    until: 2026-11-26T12:00:00Z\n"))).startsWith("the key was not valid at");
        assertThat(why(keys("    roles: [approved-by]\n")))
                .isEqualTo("the key is known for approved-by, not for tested-by");
    }

    private String why(TrustedKeys keys) {
        return ((SignatureCheck.NotTrusted) check(PASSED, keys).get(0)).why();
    }

    @Test
    void a_unit_that_failed_is_signed_with_a_disposition_and_stays_a_fail() {
        assertThatThrownBy(() -> sign(FAILED, fell, "tested-by", fellName, Optional.empty()))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("what is to become of it");
        assertThatThrownBy(() -> sign(FAILED, fell, "tested-by", fellName, Optional.of("  ")))
                .isInstanceOf(BadInput.class);

        sign(FAILED, fell, "tested-by", fellName, Optional.of("back to assembly: screw lead"));

        SignatureCheck.Said said = ((SignatureCheck.Good) check(FAILED, keys()).get(0)).said();
        assertThat(said.verdict()).isEqualTo("fail");
        assertThat(said.disposition()).contains("back to assembly: screw lead");
    }

    @Test
    void nobody_signs_twice_in_one_role_and_a_pass_takes_no_disposition() {
        sign(PASSED, fell, "tested-by", fellName, Optional.empty());

        assertThatThrownBy(() -> sign(PASSED, fell, "tested-by", fellName, Optional.of("ship it")))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("already")
                .hasMessageContaining("for units that did not pass");
        assertThatThrownBy(() -> sign(PASSED, fell, "Tested By", fellName, Optional.empty()))
                .hasMessageContaining("is no role");
    }

    @Test
    void every_changed_byte_of_a_disclosed_name_is_found() {
        byte[] good = fellName.json();

        for (int i = 0; i < good.length; i++) {
            for (int mask : new int[] {0x01, 0x20, 0x80}) {
                byte[] changed = good.clone();
                changed[i] ^= (byte) mask;
                assertThat(SaltedName.read(changed)).as("byte %d ^ %d", i, mask).isEmpty();
            }
        }
        assertThat(SaltedName.read(good)).contains(fellName);
    }

    @Test
    void whatever_lies_in_the_place_of_a_signature_is_bad_and_nothing_worse() {
        Random random = new Random(20261126);
        sign(PASSED, fell, "tested-by", fellName, Optional.empty());
        byte[] good = Objects.requireNonNull(signatures.get("signatures/001-tested-by.json"));
        for (int round = 0; round < 500; round++) {
            byte[] garbage = new byte[random.nextInt(300)];
            random.nextBytes(garbage);
            if (round % 2 == 0) { // a piece of a real one, cut anywhere
                garbage = new String(good, StandardCharsets.UTF_8)
                        .substring(random.nextInt(good.length))
                        .getBytes(StandardCharsets.UTF_8);
                if (garbage.length == good.length) {
                    continue;
                }
            }
            signatures.put("signatures/001-tested-by.json", garbage);
            assertThat(check(PASSED, keys()))
                    .as("round %d", round)
                    .extracting(SignOffTest::state)
                    .containsExactly("Bad");
        }
    }

    @Test
    void everything_that_is_wrong_in_a_file_of_known_keys_is_told_at_once() {
        String text = "keys: quillmoor-works\nversion: 0\nknown:\n  - key: sha256:12\n    nam: x\n    roles: [Tested]\n"
                + "    until: yesterday\n    revoked: { on: 2026-06-01T00:00:00Z }\n";

        assertThatThrownBy(() -> TrustedKeys.read(TextFile.of("known.yaml", text)))
                .isInstanceOf(BadInput.class)
                .hasMessageContaining("known.yaml:2:")
                .hasMessageContaining("known.yaml:4:")
                .hasMessageContaining("unknown key 'nam'")
                .hasMessageContaining("'Tested' is no role")
                .hasMessageContaining("until is 'yesterday'")
                .hasMessageContaining("because");
    }

    /** The reader and specs/schema/keys.schema.json give the same answer. */
    @org.junit.jupiter.params.ParameterizedTest
    @org.junit.jupiter.params.provider.CsvSource(
            delimiter = '|',
            value = {
                "bad  | {\"keys\": \"k\", \"version\": 1, \"known\": []}",
                "good | {\"keys\": \"k\", \"version\": 2, \"known\": [{\"key\": \"KEY\", \"name\": \"x\"}]}",
                "good | {\"keys\": \"k\", \"version\": 2, \"known\": [{\"key\": \"KEY\", \"name\": \"x\", \"roles\": [\"tested-by\"], \"from\": \"2026-06-01T00:00:00Z\", \"until\": \"2027-06-01T00:00:00.5Z\", \"revoked\": {\"on\": \"2026-06-01T00:00:00Z\", \"because\": \"lost\"}}]}",
                "bad  | {\"keys\": \"k\", \"version\": 1}",
                "bad  | {\"keys\": \"a b\", \"version\": 1, \"known\": []}",
                "bad  | {\"keys\": \"k\", \"version\": 0, \"known\": []}",
                "bad  | {\"keys\": \"k\", \"version\": 1, \"known\": [], \"more\": 1}",
                "bad  | {\"keys\": \"k\", \"version\": 1, \"known\": [{\"key\": \"sha256:AB\", \"name\": \"x\"}]}",
                "bad  | {\"keys\": \"k\", \"version\": 1, \"known\": [{\"key\": \"KEY\"}]}",
                "bad  | {\"keys\": \"k\", \"version\": 1, \"known\": [{\"key\": \"KEY\", \"name\": \"x\", \"roles\": [\"Boss\"]}]}",
                "bad  | {\"keys\": \"k\", \"version\": 1, \"known\": [{\"key\": \"KEY\", \"name\": \"x\", \"from\": \"yesterday\"}]}",
                "bad  | {\"keys\": \"k\", \"version\": 1, \"known\": [{\"key\": \"KEY\", \"name\": \"x\", \"revoked\": {\"on\": \"2026-06-01T00:00:00Z\"}}]}",
            })
    void the_schema_of_known_keys_says_what_the_reader_says(String which, String text) throws java.io.IOException {
        String json = text.replace("KEY", fell.id().fingerprint());
        var schema = com.networknt.schema.SchemaRegistry.withDefaultDialect(
                        com.networknt.schema.SpecificationVersion.DRAFT_2020_12)
                .getSchema(
                        java.nio.file.Files.readString(java.nio.file.Path.of("specs/schema/keys.schema.json")),
                        com.networknt.schema.InputFormat.JSON);

        boolean read = true;
        try {
            TrustedKeys.read(TextFile.of("keys.yaml", json));
        } catch (BadInput e) {
            read = false;
        }
        assertThat(read).isEqualTo(which.equals("good"));
        assertThat(schema.validate(json, com.networknt.schema.InputFormat.JSON).isEmpty())
                .isEqualTo(which.equals("good"));
    }
}
