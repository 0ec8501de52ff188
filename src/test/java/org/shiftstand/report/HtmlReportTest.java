package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.shiftstand.judge.Judgement;

class HtmlReportTest {
    static final ReportOptions OPTIONS = new ReportOptions(Instant.parse("2026-11-25T12:00:00.5Z"), "0.1.0");

    static String html(Judgement judgement, boolean withTrack) {
        StringWriter out = new StringWriter();
        try {
            HtmlReport.write(
                    judgement, withTrack ? Optional.of(new MadeTrack(judgement)) : Optional.empty(), OPTIONS, out);
        } catch (IOException e) {
            throw new AssertionError("a string takes everything", e);
        }
        return out.toString();
    }

    @Test
    void pages_to_look_at() throws IOException {
        Path folder = Files.createDirectories(Path.of("target", "reports"));
        Fixture small = new Fixture(1, 0, 1);
        Fixture long14 = new Fixture(14, 3847, 3);
        long14.sweep().endOfLine();
        Fixture bare = Fixture.good();
        bare.withProfile = false;
        for (var page : java.util.Map.of(
                        "good", Fixture.good(),
                        "faulty", Fixture.faulty(),
                        "ended", Fixture.endedEarly(),
                        "empty", small.endOfLine(),
                        "bare", bare,
                        "long", long14)
                .entrySet()) {
            String html = html(page.getValue().judged(), true);
            Files.writeString(folder.resolve(page.getKey() + ".html"), html);
            assertThat(html).endsWith("</html>\n");
        }
    }
}
