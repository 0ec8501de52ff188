package org.shiftstand.history;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Random;
import org.shiftstand.report.JsonWriter;

/** Results as {@code result.json} has them, made from a seed. */
final class MadeResults {
    /** What has broken programs that build their sentences, tables or pages from text. */
    static final String[] HOSTILE = {
        "'; DROP TABLE run; --",
        "\" OR 1=1 --",
        "<script>alert(1)</script>",
        "=cmd|' /C calc'!A0",
        "+1+1",
        "@SUM(A1)",
        "a,b\n\"c\";d",
        "naïve € 漢字 😀",
        "\u202egnp.exe",
        "%s%n{0}${x}",
        "null",
        "a|b",
    };

    private MadeResults() {}

    /** One run. */
    static byte[] result(
            String source,
            String unit,
            String firmware,
            Instant started,
            String verdict,
            double value,
            boolean simulated) {
        return result(source, unit, firmware, started, verdict, value, simulated, "landing-spread", "bench two");
    }

    static byte[] result(
            String source,
            String unit,
            String firmware,
            Instant started,
            String verdict,
            double value,
            boolean simulated,
            String clause,
            String text) {
        StringBuilder out = new StringBuilder();
        JsonWriter json = new JsonWriter(out);
        json.object()
                .field("format", 1)
                .field("verdict", verdict)
                .field("reason", "because of " + text)
                .field("unit", unit);
        json.object("identity")
                .field("rig", text)
                .field("unit-firmware", firmware)
                .field("started", started.toString());
        if (simulated) {
            json.field("simulated", "yes");
        }
        json.endObject()
                .object("source")
                .field("kind", "record")
                .field("sha256", source)
                .endObject();
        json.object("spec")
                .field("name", "tarn-drive-end-of-line")
                .field("version", 1)
                .field("sha256", "5e")
                .endObject();
        json.object("profile").field("name", "tarn-drive").field("sha256", "9a").endObject();
        json.object("counts").field("landed", 100).field("short", 2).endObject();
        json.array("clauses");
        json.object().field("id", clause).field("verdict", verdict).field("unit", "deg");
        json.object("bound").nothing("atLeast").field("atMost", 18).endObject();
        json.field("value", value).field("margin", 18 - value).array("groups");
        json.object()
                .object("key")
                .field("sprocket", 4)
                .field("direction", "inboard")
                .endObject();
        json.field("margin", 18 - value).endObject();
        json.endArray().endObject();
        json.object()
                .field("id", "hold")
                .field("verdict", "pass")
                .field("unit", "ms")
                .object("bound");
        json.field("atLeast", 650)
                .field("atMost", 800)
                .endObject()
                .nothing("value")
                .nothing("margin");
        json.array("groups").endArray().endObject();
        json.endArray().endObject().end();
        return out.toString().getBytes(StandardCharsets.UTF_8);
    }

    /** A run of a seed. */
    static byte[] random(Random random, int number) {
        String[] verdicts = {"pass", "pass", "pass", "fail", "no-verdict"};
        return result(
                "source" + number,
                "TD-" + random.nextInt(150),
                "1." + random.nextInt(3),
                Instant.parse("2026-10-01T00:00:00Z").plusSeconds(random.nextInt(60 * 86_400)),
                verdicts[random.nextInt(5)],
                10 + random.nextGaussian(),
                random.nextInt(10) == 0);
    }
}
