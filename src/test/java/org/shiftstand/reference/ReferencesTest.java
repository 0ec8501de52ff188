package org.shiftstand.reference;

import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

class ReferencesTest {
    private static final Path TABLE = Path.of("src", "test", "REFERENCES.md");

    private static final List<Published> ALL = new ClassFileImporter()
            .importPackages("org.shiftstand.reference").stream()
                    .filter(type -> type.isAssignableTo(Published.class) && !type.isInterface())
                    .map(JavaClass::reflect)
                    .map(ReferencesTest::made)
                    .sorted(Comparator.comparing((Published p) -> p.source().id())
                            .thenComparing(p -> p.getClass().getSimpleName()))
                    .toList();

    private static Published made(Class<?> type) {
        try {
            var constructor = type.getDeclaredConstructor();
            constructor.setAccessible(true);
            return (Published) constructor.newInstance();
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException(
                    "a published source needs a constructor without arguments: type=" + type, e);
        }
    }

    @TestFactory
    List<DynamicNode> ours_is_what_was_published() {
        List<DynamicNode> nodes = new ArrayList<>();
        for (Published published : ALL) {
            String id = published.source().id() + ", " + published.getClass().getSimpleName();
            nodes.add(DynamicTest.dynamicTest(id, () -> {
                List<Comparisons.Row> rows = rows(published);

                assertThat(rows).as("comparisons with %s", id).isNotEmpty();
                assertThat(rows).filteredOn(row -> !row.problem().isEmpty()).isEmpty();
            }));
        }
        return nodes;
    }

    @Test
    void the_committed_table_is_what_the_comparisons_give() throws IOException {
        String table = table();
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.writeString(TABLE, table);
        }

        assertThat(table).isEqualTo(Files.readString(TABLE));
    }

    private static List<Comparisons.Row> rows(Published published) {
        Comparisons comparisons = new Comparisons();
        published.compare(comparisons);
        return comparisons.rows();
    }

    private static String table() {
        StringBuilder text = new StringBuilder("""
                # References

                Figures that others published or worked out, beside those that this project gives for the same data. The tests
                of `src/test/java/org/shiftstand/reference` compute and compare them, fail where one is farther off than allowed,
                and write this page (`-Dgolden.rewrite=true`); a test run fails where the page differs from what they found.
                The labels are explained in `src/test/resources/README.md`. *Allowed* is half a unit of the last printed digit,
                or what the source itself allows; differences below a hundredth of it are not told apart, since their digits are
                not the same on every processor.
                """);
        for (Published published : ALL) {
            Published.Source source = published.source();
            text.append("\n## ").append(source.id()).append(": ").append(source.title());
            text.append("\n\nLabel: ").append(source.label()).append(".\n\n");
            text.append("| figure | published | ours | difference | allowed |\n|---|---:|---:|---:|---:|\n");
            for (Comparisons.Row row : rows(published)) {
                text.append("| ")
                        .append(String.join(
                                " | ", row.what(), row.published(), row.ours(), row.difference(), row.allowed()))
                        .append(" |\n");
            }
        }
        return text.toString();
    }
}
