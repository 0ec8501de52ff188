package org.shiftstand.archive.sign;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.JsonNodeFactory;

/** Signatures and canonical JSON against RFC 8032 and RFC 8785; see {@code src/test/resources/reference/signature}. */
class PublishedSignaturesTest {
    private static final Path FOLDER = Path.of("src/test/resources/reference/signature");
    /** Order of the base point, RFC 8032, 5.1. */
    private static final BigInteger ORDER =
            BigInteger.TWO.pow(252).add(new BigInteger("27742317777372353535851937790883648493"));

    private static JsonNode json(String file) throws IOException {
        return JsonMapper.shared().readTree(Files.readString(FOLDER.resolve(file)));
    }

    private static byte[] hex(JsonNode node, String key) {
        return HexFormat.of().parseHex(node.path(key).asString());
    }

    private static PublicId key(JsonNode vector) {
        byte[] spki = HexFormat.of()
                .parseHex("302a300506032b6570032100" + vector.path("public").asString()); // RFC 8410, 10.1
        return PublicId.ofSpki(spki).orElseThrow();
    }

    /** REF-SIG-01: RFC 8032, 7.1. */
    @Test
    void published_signatures_hold_and_changed_ones_do_not() throws IOException {
        JsonNode vectors = json("ed25519.json");

        for (JsonNode good : vectors.path("must_verify")) {
            assertThat(SignOff.holds(key(good), hex(good, "message"), hex(good, "signature")))
                    .as(good.path("name").asString())
                    .isTrue();
        }
        for (JsonNode bad : vectors.path("must_fail")) {
            assertThat(SignOff.holds(key(bad), hex(bad, "message"), hex(bad, "signature")))
                    .as(bad.path("name").asString())
                    .isFalse();
        }
        assertThat(vectors.path("must_verify").size()).isEqualTo(2);
    }

    /** RFC 8032, 5.1.7: S must be below the order, else a signature has a second spelling. */
    @Test
    void a_signature_whose_scalar_is_not_reduced_is_refused() throws IOException {
        JsonNode good = json("ed25519.json").path("must_verify").path(1);
        byte[] signature = hex(good, "signature");
        byte[] reversed = new byte[32];
        for (int i = 0; i < 32; i++) {
            reversed[i] = signature[63 - i];
        }
        byte[] larger = new BigInteger(1, reversed).add(ORDER).toByteArray();
        for (int i = 0; i < 32; i++) {
            signature[32 + i] = larger[larger.length - 1 - i];
        }

        assertThat(SignOff.holds(key(good), hex(good, "message"), signature)).isFalse();
    }

    @Test
    void keys_of_another_algorithm_or_length_are_none() {
        String ed448 = "3043300506032b6571033a00" + "11".repeat(57); // RFC 8410: another object identifier

        assertThat(PublicId.ofSpki(HexFormat.of().parseHex(ed448))).isEmpty();
        assertThat(PublicId.ofSpki(new byte[44])).isEmpty();
        assertThat(PublicId.ofSpki(new byte[0])).isEmpty();
        assertThat(PublicId.ofBase64("MCowBQYDK2VwAyEA")).isEmpty();
        assertThat(PublicId.ofBase64("%%%")).isEmpty();
    }

    /** REF-JCS-01: the RFC author's test data. */
    @Test
    void canonical_json_is_that_of_the_rfc() throws IOException {
        for (JsonNode published : json("jcs_cases.json").path("cases")) {
            JsonNode input =
                    JsonMapper.shared().readTree(published.path("input").asString());

            assertThat(new String(Canonical.bytes(input), StandardCharsets.UTF_8))
                    .as(published.path("name").asString())
                    .isEqualTo(published.path("canonical").asString());
        }
    }

    /** REF-JCS-02: RFC 8785, Appendix B. */
    @Test
    void numbers_are_written_as_in_the_rfc() throws IOException {
        List<String> rows = Files.readAllLines(FOLDER.resolve("jcs_numbers.csv")).stream()
                .filter(line -> !line.startsWith("#") && !line.startsWith("ieee754"))
                .toList();

        for (String row : rows) {
            String[] cells = row.split(",");
            double value = Double.longBitsToDouble(Long.parseUnsignedLong(cells[0], 16));
            byte[] canonical =
                    Canonical.bytes(JsonNodeFactory.instance.arrayNode().add(value));
            assertThat(new String(canonical, StandardCharsets.US_ASCII)).as(row).isEqualTo("[" + cells[1] + "]");
        }
        assertThat(rows).hasSizeGreaterThan(20);
    }

    /** REF-JCS-03: RFC 8785, 3.2.2.3: there is no JSON for what is no number. */
    @Test
    void what_is_no_number_has_no_canonical_form() throws IOException {
        for (JsonNode refused : json("jcs_errors.json").path("must_reject")) {
            double value = Double.longBitsToDouble(
                    Long.parseUnsignedLong(refused.path("ieee754_hex").asString(), 16));
            String text = "{\"a\":" + value + "}\n";
            assertThat(Canonical.read(text.getBytes(StandardCharsets.UTF_8)))
                    .as(refused.path("why").asString())
                    .isEmpty();
        }
    }

    @Test
    void only_the_canonical_form_itself_is_read() {
        List<String> refused = new ArrayList<>(List.of(
                "{\"a\":1}", // no line feed
                "{\"a\":1}\n\n",
                "{\"a\": 1}\n",
                "{\"b\":1,\"a\":1}\n",
                "{\"a\":1,\"a\":1}\n",
                "{\"a\":1,\"a\":2}\n",
                "{\"a\":1.0}\n",
                "{\"a\":1e0}\n",
                "{\"a\":\"\\u0041\"}\n",
                "{\"a\":\"\\ud800\"}\n",
                "{\"a\":1}x\n",
                "{\"a\":1}{\"a\":1}\n",
                "{a:1}\n",
                "[1,2\n",
                "",
                "\n",
                "\u0000\n",
                "[".repeat(5000) + "]".repeat(5000) + "\n"));
        refused.add("\"" + "x".repeat(70_000) + "\"\n");

        for (String text : refused) {
            assertThat(Canonical.read(text.getBytes(StandardCharsets.UTF_8)))
                    .as(text.substring(0, Math.min(40, text.length())))
                    .isEqualTo(Optional.empty());
        }
        assertThat(Canonical.read("{\"a\":1,\"b\":\"€\"}\n".getBytes(StandardCharsets.UTF_8)))
                .isPresent();
    }
}
