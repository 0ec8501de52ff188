package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.Statistic.Kind;

/**
 * Parts of a small report, whole and to the letter, against files that a person has read. Only
 * {@code -Dgolden.rewrite=true} writes them anew; the commit then says why they changed.
 */
class GoldenReportTest {
    private static final Path FOLDER = Path.of("src", "test", "resources", "golden", "report");

    @ParameterizedTest
    @ValueSource(strings = {"header", "clauses", "failed", "landing", "not-measured"})
    void a_part_of_the_page_is_as_it_was_read(String part) throws IOException {
        String now = part(HtmlReportTest.html(small().judged(), false), part);
        Path file = FOLDER.resolve(part + ".html");
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.createDirectories(FOLDER);
            Files.writeString(file, now, StandardCharsets.UTF_8);
        }

        assertThat(now).isEqualTo(Files.readString(file, StandardCharsets.UTF_8));
    }

    /** Three sprockets, three sweeps, one overtravel lacking, one shift unseen. */
    private static Fixture small() {
        Fixture small = new Fixture(3, 3, 42).sweep();
        small.clause("overtravel", Measure.OVERTRAVEL, Kind.EVERY, List.of(Per.PAIR), 60, 340, "the chain must climb");
        small.clause("ringing", Measure.RINGING, Kind.MAXIMUM, List.of(), Double.NaN, 25, "");
        small.clause(
                "travel", Measure.TRAVEL_TIME, Kind.MEAN, List.of(Per.DIRECTION), Double.NaN, 0.3, "slower is felt");
        small.change(5, Fixture::withoutOvertravel);
        small.change(10, Fixture::unseen);
        return small;
    }

    /** The header, or the section of this name. */
    private static String part(String html, String name) {
        int begin =
                name.equals("header") ? html.indexOf("<header>") : html.indexOf("<section aria-labelledby=\"" + name);
        String end = name.equals("header") ? "</header>" : "</section>";
        return html.substring(begin, html.indexOf(end, begin) + end.length()) + "\n";
    }
}
