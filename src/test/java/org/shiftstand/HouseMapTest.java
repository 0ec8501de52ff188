package org.shiftstand;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The map of the house in DEVELOPERS.md: rooms, their edges and every class it names are there. */
class HouseMapTest {
    private static final Path MAIN = Path.of("src/main/java/org/shiftstand");
    private static final List<Path> SOURCES = List.of(MAIN, Path.of("src/test/java/org/shiftstand"));

    private static final Pattern ROW =
            Pattern.compile("^\\| `(?<room>[a-z]+)` \\|(?<holds>.*)\\| (?<uses>[^|]*) \\|$", Pattern.MULTILINE);
    private static final Pattern LISTED = Pattern.compile("–|[a-z]+(, [a-z]+)*");
    /** {@code `room.Class.member`}, room and member where they are named; {@code `room.Start…`} for several classes. */
    private static final Pattern NAMED = Pattern.compile(
            "`@?(?<room>(?:[a-z]+\\.)*)(?<type>[A-Z][A-Za-z0-9]*)(?<more>…)?(?<members>(?:\\.[A-Za-z]+)*)`");

    private final String guide = Files.readString(Path.of("DEVELOPERS.md"));

    HouseMapTest() throws IOException {}

    @Test
    void the_table_has_every_room_and_no_other() throws IOException {
        assertThat(rows().keySet()).containsExactlyInAnyOrderElementsOf(folders(MAIN));
    }

    @Test
    void a_room_within_a_room_is_told_with_it() throws IOException {
        for (String room : folders(MAIN)) {
            for (String inner : folders(MAIN.resolve(room))) {
                assertThat(guide).contains("`" + room + "." + inner + "`");
            }
        }
    }

    @Test
    void the_table_says_who_may_use_whom() {
        Map<String, List<String>> listed = new TreeMap<>();
        rows().forEach((room, uses) -> {
            if (LISTED.matcher(uses).matches() && !uses.equals("all")) {
                listed.put(room, uses.equals("–") ? List.of() : List.of(uses.split(", ")));
            }
        });

        assertThat(listed).hasSizeGreaterThan(10);
        listed.forEach((room, uses) -> assertThat(uses)
                .as(room)
                .containsExactlyInAnyOrderElementsOf(ArchitectureTest.MAY_USE.getOrDefault(room, List.of())));
    }

    @Test
    void every_class_that_is_named_is_there() throws IOException {
        List<String> missing = new ArrayList<>();
        int named = 0;
        Map<String, Path> sources = sources();
        for (String section : List.of("The house", "How to add …")) {
            Matcher name = NAMED.matcher(section(section));
            while (name.find()) {
                named++;
                if (!isThere(name, sources)) {
                    missing.add(name.group());
                }
            }
        }

        assertThat(missing).isEmpty();
        assertThat(named).isGreaterThan(50);
    }

    private static boolean isThere(Matcher name, Map<String, Path> sources) throws IOException {
        String room = name.group("room").replace('.', '/');
        String file = name.group("type") + (name.group("more") == null ? "" : "\\w*") + "\\.java";
        Pattern wanted = Pattern.compile(room.isEmpty() ? ".*/" + file : "/" + room + file);
        String[] members = name.group("members")
                .substring(Math.min(1, name.group("members").length()))
                .split("\\.");
        for (Map.Entry<String, Path> each : sources.entrySet()) {
            if (wanted.matcher(each.getKey()).matches() && holds(Files.readString(each.getValue()), members)) {
                return true;
            }
        }
        return false;
    }

    private static boolean holds(String text, String[] members) {
        return Stream.of(members)
                .allMatch(word ->
                        Pattern.compile("\\b" + word + "\\b").matcher(text).find());
    }

    /** By their path below the root package. */
    private static Map<String, Path> sources() throws IOException {
        Map<String, Path> all = new TreeMap<>();
        for (Path root : SOURCES) {
            try (Stream<Path> files = Files.walk(root)) {
                files.forEach(file ->
                        all.put(file.toString().substring(root.toString().length()), file));
            }
        }
        return all;
    }

    private Map<String, String> rows() {
        Map<String, String> rows = new TreeMap<>();
        Matcher row = ROW.matcher(section("The house"));
        while (row.find()) {
            rows.put(row.group("room"), row.group("uses"));
        }
        return rows;
    }

    private String section(String head) {
        int from = guide.indexOf("\n## " + head + "\n");
        assertThat(from).as("section " + head).isNotNegative();
        return guide.substring(from, guide.indexOf("\n## ", from + 1));
    }

    private static TreeSet<String> folders(Path in) throws IOException {
        TreeSet<String> names = new TreeSet<>();
        try (Stream<Path> inside = Files.list(in)) {
            inside.filter(Files::isDirectory)
                    .forEach(folder -> names.add(folder.getFileName().toString()));
        }
        return names;
    }
}
