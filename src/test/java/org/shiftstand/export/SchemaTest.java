package org.shiftstand.export;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Collectors;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The schemas that queries of other people rest on. */
class SchemaTest {
    private static final Path GOLDEN = Path.of("src", "test", "resources", "golden", "export");
    private static final Path PAGE = Path.of("reports", "EXPORT.md");

    /** A column that is gone, renamed or moved breaks queries: only lines at the end may be new in the golden file. */
    @ParameterizedTest
    @EnumSource(Dataset.class)
    void stays_as_it_was_published(Dataset dataset) throws IOException {
        Path golden = GOLDEN.resolve(dataset.word() + ".schema");
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.createDirectories(GOLDEN);
            Files.writeString(golden, dataset.schema());
        }

        assertThat(dataset.schema()).isEqualTo(Files.readString(golden));
    }

    @ParameterizedTest
    @EnumSource(Dataset.class)
    void is_told_column_by_column_on_the_page(Dataset dataset) throws IOException {
        assertThat(Files.readString(PAGE)).contains(table(dataset));
    }

    private static String table(Dataset dataset) {
        return dataset.columns().stream()
                .map(column -> "| `" + column.name() + "` | "
                        + column.kind().name().toLowerCase(java.util.Locale.ROOT) + " | " + column.unit() + " | "
                        + column.meaning() + " |\n")
                .collect(Collectors.joining(
                        "",
                        "### " + dataset.word()
                                + "\n\n| column | holds | unit | meaning |\n| --- | --- | --- | --- |\n",
                        ""));
    }
}
