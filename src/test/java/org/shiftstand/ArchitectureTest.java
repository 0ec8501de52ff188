package org.shiftstand;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/** The house: which package may use which. The table in DEVELOPERS.md says the same in words. */
@AnalyzeClasses(packages = "org.shiftstand", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    private static final String ROOT = "org.shiftstand.";

    private static final List<String> ABOVE_ARCHIVE = List.of(
            "quantity",
            "document",
            "capture",
            "angle",
            "profile",
            "shift",
            "stats",
            "bench",
            "spec",
            "procedure",
            "planning",
            "record",
            "judge",
            "learn",
            "report");

    static final Map<String, List<String>> MAY_USE = new TreeMap<>(Map.ofEntries(
            Map.entry("quantity", List.of()),
            Map.entry("document", List.of("quantity")),
            Map.entry("capture", List.of("quantity", "document")),
            Map.entry("angle", List.of("capture", "quantity")),
            Map.entry("profile", List.of("quantity", "document")),
            Map.entry("shift", List.of("capture", "angle", "profile", "quantity")),
            Map.entry("stats", List.of()),
            Map.entry("bench", List.of("quantity", "document", "angle", "stats")),
            Map.entry("spec", List.of("quantity", "document", "shift", "profile", "stats", "bench")),
            Map.entry("procedure", List.of("quantity", "document", "profile")),
            Map.entry("planning", List.of("quantity", "document", "profile", "shift", "spec", "stats", "procedure")),
            Map.entry("record", List.of("quantity", "document", "capture", "shift", "spec")),
            Map.entry(
                    "judge",
                    List.of(
                            "quantity",
                            "document",
                            "capture",
                            "angle",
                            "profile",
                            "shift",
                            "stats",
                            "bench",
                            "spec",
                            "procedure",
                            "record")),
            Map.entry(
                    "learn",
                    List.of(
                            "quantity",
                            "document",
                            "capture",
                            "angle",
                            "profile",
                            "shift",
                            "stats",
                            "bench",
                            "spec",
                            "procedure",
                            "record",
                            "judge")),
            Map.entry("link", List.of("quantity")),
            Map.entry("sim", List.of("link", "profile", "quantity")),
            Map.entry("rig", List.of("link", "procedure", "bench", "profile", "record", "judge", "stats", "quantity")),
            Map.entry(
                    "report",
                    List.of(
                            "quantity",
                            "document",
                            "capture",
                            "angle",
                            "profile",
                            "shift",
                            "stats",
                            "bench",
                            "spec",
                            "procedure",
                            "planning",
                            "record",
                            "judge",
                            "learn")),
            Map.entry("archive", ABOVE_ARCHIVE),
            Map.entry("history", with(ABOVE_ARCHIVE, "archive")),
            Map.entry("export", ABOVE_ARCHIVE)));

    private final com.tngtech.archunit.core.domain.JavaClasses classes =
            new com.tngtech.archunit.core.importer.ClassFileImporter()
                    .withImportOption(new ImportOption.DoNotIncludeTests())
                    .importPackages("org.shiftstand");

    @TestFactory
    List<DynamicTest> a_package_uses_only_what_the_house_allows() {
        return MAY_USE.entrySet().stream()
                .map(room -> DynamicTest.dynamicTest(
                        room.getKey(),
                        () -> rule(room.getKey(), room.getValue()).check(classes)))
                .toList();
    }

    @ArchTest
    static final ArchRule spring_is_known_to_the_commands_only = noClasses()
            .that()
            .resideOutsideOfPackage(ROOT + "cli..")
            .should()
            .dependOnClassesThat()
            .resideInAPackage("org.springframework..");

    @ArchTest
    static final ArchRule only_the_commands_print_and_exit = noClasses()
            .that()
            .resideOutsideOfPackage(ROOT + "cli..")
            .should()
            .accessField(System.class, "out")
            .orShould()
            .accessField(System.class, "err")
            .orShould()
            .callMethod(System.class, "exit", int.class);

    private static List<String> with(List<String> rooms, String more) {
        List<String> all = new ArrayList<>(rooms);
        all.add(more);
        return all;
    }

    private static ArchRule rule(String room, List<String> allowed) {
        Set<String> rooms = new TreeSet<>(allowed);
        rooms.add(room);
        var outside = new DescribedPredicate<JavaClass>("another room than " + rooms) {
            @Override
            public boolean test(JavaClass c) {
                String name = c.getPackageName();
                return name.startsWith(ROOT)
                        && !rooms.contains(name.substring(ROOT.length()).replaceFirst("\\..*", ""));
            }
        };
        return classes()
                .that()
                .resideInAPackage(ROOT + room + "..")
                .should()
                .onlyDependOnClassesThat(DescribedPredicate.not(outside))
                .allowEmptyShould(true);
    }
}
