package org.shiftstand.packaged;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeFalse;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The bill of materials and the list of licences that go with the program. A build with {@code -Dquick} makes no bill, and
 * these tests are left out there. {@code -Dgolden.rewrite=true} writes the list anew.
 */
class LicencesTest {
    private static final Path LIST = Path.of("src", "package", "LICENCES.md");

    /** What Maven resolved, a line a library: {@code group:name:jar:version:scope}, or with a classifier. */
    private static final Path RESOLVED = Path.of("target/classes/org/shiftstand/archive/run/dependencies.txt");

    private static final Pattern LIBRARY = Pattern.compile("([\\w.-]+):([\\w.-]+):jar:([\\w.-]+):(?:compile|runtime)");

    /** Library with version, to its licences. */
    private static final TreeMap<String, List<String>> BILL = new TreeMap<>();

    @BeforeAll
    static void read() throws IOException {
        String file = System.getProperty("sbom.file", "");
        assumeFalse(file.isBlank(), "built with -Dquick");
        JsonNode bill = JsonMapper.shared().readTree(Files.readAllBytes(Path.of(file)));
        for (JsonNode part : bill.path("components")) {
            List<String> licences = new ArrayList<>();
            for (JsonNode licence : part.path("licenses")) {
                licences.add(licence.path("expression")
                        .asString(licence.path("license")
                                .path("id")
                                .asString(licence.path("license").path("name").asString(""))));
            }
            BILL.put(
                    part.path("group").asString() + ":" + part.path("name").asString() + " "
                            + part.path("version").asString(),
                    licences);
        }
    }

    @Test
    void the_bill_names_each_library_that_the_program_takes_along() throws IOException {
        List<String> resolved = new ArrayList<>();
        Matcher library = LIBRARY.matcher(Files.readString(RESOLVED));
        while (library.find()) {
            resolved.add(library.group(1) + ":" + library.group(2) + " " + library.group(3));
        }

        assertThat(resolved).hasSizeGreaterThan(40);
        assertThat(BILL.keySet()).containsExactlyInAnyOrderElementsOf(resolved);
    }

    @Test
    void each_library_has_a_licence() {
        assertThat(BILL).isNotEmpty();
        assertThat(BILL)
                .allSatisfy((library, licences) ->
                        assertThat(licences).as(library).isNotEmpty().noneMatch(String::isBlank));
    }

    @Test
    void the_list_of_licences_is_that_of_the_bill() throws IOException {
        StringBuilder list = new StringBuilder("""
                # Libraries and their licences

                Made from the bill of materials. Several licences of one library: its user may choose.

                """);
        BILL.forEach((library, licences) -> list.append("- ")
                .append(library)
                .append(": ")
                .append(String.join(" or ", licences))
                .append('\n'));
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.writeString(LIST, list, StandardCharsets.UTF_8);
        }

        assertThat(Files.readString(LIST, StandardCharsets.UTF_8)).isEqualTo(list.toString());
    }
}
