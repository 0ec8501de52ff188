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
                "[".repeat(5000) + "]".repeat(5000) + "\n",
                "{\"a\":".repeat(5000) + "1" + "}".repeat(5000) + "\n",
                "[".repeat(20) + "]".repeat(20) + "\n",
                "[1e400]\n",
                "[-1e400]\n",
                "[1e999999999]\n",
                "[1e-999999999]\n",
                "[1E99999999999999999999]\n",
                "[-0]\n",
                "[01]\n",
                "[12345678901234567890123]\n", // more digits than a double has
                "[" + "9".repeat(2000) + "]\n",
                "[0." + "1".repeat(2000) + "]\n",
                "\uFEFF{\"a\":1}\n",
                "{\"a\":1}\r\n",
                " {\"a\":1}\n",
                "{\"a\":\"\\/\"}\n",
                "{\"a\":\"\\u000a\"}\n", // \n is its canonical spelling
                "{\"a\":\"\\ud83d\\ude00\"}\n",
                "{\"a\":\"\t\"}\n",
                "/**/{\"a\":1}\n",
                "{\"a\":1,}\n",
                "{'a':1}\n",
                "{\"a\":NaN}\n",
                "{\"a\":Infinity}\n",
                "{\"a\":\"x\n"));
        refused.add("\"" + "x".repeat(70_000) + "\"\n");

        for (String text : refused) {
            assertThat(Canonical.read(text.getBytes(StandardCharsets.UTF_8)))
                    .as(text.substring(0, Math.min(40, text.length())))
                    .isEqualTo(Optional.empty());
        }
        assertThat(Canonical.read("{\"a\":1,\"b\":\"€\"}\n".getBytes(StandardCharsets.UTF_8)))
                .isPresent();
    }

    /** Neither half a character nor a second spelling of one (RFC 3629, 3), nor the other encodings that JSON once had. */
    @Test
    void only_well_formed_utf_8_is_read() {
        List<String> refused = List.of(
                "5b22eda080225d0a", // U+D800 by itself
                "5b22eda0bdedb880225d0a", // U+1F600 as two halves
                "5b22c081225d0a", // an 'A' in two bytes
                "5b22ff225d0a",
                "5b22e282225d0a", // the euro sign without its end
                "5b225d0a80",
                "feff005b005d000a",
                "5b005d000a00");

        for (String hex : refused) {
            assertThat(Canonical.read(HexFormat.of().parseHex(hex))).as(hex).isEmpty();
        }
        assertThat(Canonical.read(HexFormat.of().parseHex("5b22f09f9880225d0a")))
                .isPresent();
    }

    /** Everything that is read is its own canonical form; nothing breaks the reader. */
    @Test
    void whatever_is_read_is_refused_or_is_its_own_canonical_form() throws IOException {
        java.util.Random random = new java.util.Random(8785);
        List<byte[]> starts = new ArrayList<>();
        for (JsonNode published : json("jcs_cases.json").path("cases")) {
            starts.add((published.path("canonical").asString() + "\n").getBytes(StandardCharsets.UTF_8));
        }
        byte[] marks = "{}[]\",:\\0123456789eE+-.untrfalsdDc \n".getBytes(StandardCharsets.US_ASCII);
        int read = 0;
        for (int round = 0; round < 20_000; round++) {
            byte[] file = starts.get(random.nextInt(starts.size())).clone();
            for (int i = 0; i <= random.nextInt(3); i++) {
                file[random.nextInt(file.length - 1)] = marks[random.nextInt(marks.length)];
            }
            Optional<JsonNode> document = Canonical.read(file);
            read += document.isPresent() ? 1 : 0;
            document.ifPresent(
                    d -> assertThat(Canonical.line(Canonical.bytes(d))).isEqualTo(file));
        }
        assertThat(read).isBetween(100, 19_000);
    }

    @Test
    void a_key_has_one_encoding_only() throws IOException {
        String good = "302a300506032b6570032100"
                + json("ed25519.json")
                        .path("must_verify")
                        .path(0)
                        .path("public")
                        .asString();
        List<String> refused = List.of(
                good + "00", // a byte after it
                good.substring(0, good.length() - 2), // one less
                good.replace("2b6570", "2b656e"), // X25519, RFC 8410, 3
                good.replace("2b6570", "2b6571"), // Ed448
                good.replace("300506032b6570", "300706032b65700500"), // NULL parameters, RFC 8410, 3: absent
                good.replace("032100", "032101"), // a bit unused
                "30812a" + good.substring(4)); // a longer spelling of its length

        for (String hex : refused) {
            assertThat(PublicId.ofSpki(HexFormat.of().parseHex(hex))).as(hex).isEmpty();
        }
        assertThat(PublicId.ofSpki(HexFormat.of().parseHex(good))).isPresent();
    }

    /** A y of p or more has a second spelling (RFC 8032, 5.1.3: decoding fails). */
    @Test
    void a_key_whose_number_is_not_reduced_vouches_for_nothing() {
        String spki = "302a300506032b6570032100";
        for (String y : List.of("ed" + "ff".repeat(30) + "7f", "ee" + "ff".repeat(30) + "7f", "ff".repeat(32))) {
            boolean held = PublicId.ofSpki(HexFormat.of().parseHex(spki + y))
                    .filter(id -> SignOff.holds(id, new byte[0], new byte[64]))
                    .isPresent();
            assertThat(held).as(y).isFalse();
        }
    }
}
