package org.shiftstand.errors;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Every error and notice there is, as a set. {@code src/test/resources/errors/messages.txt} lists them as the sources have them,
 * {@code …} where values go; {@code -Dgolden.rewrite=true} writes it anew, and whoever does that reads what changed as a tired
 * technician would. What it cannot follow: texts that are put together in lists and joined later.
 */
class MessagesTest {
    private static final Path SOURCES = Path.of("src/main/java/org/shiftstand");
    private static final Path FOLDER = Path.of("src/test/resources/errors");
    private static final Path KEPT = FOLDER.resolve("messages.txt");

    /** Messages that say what happened and leave nothing to be done, or whose end another text is; each with its reason. */
    private static final Path WITHOUT_REMEDY = FOLDER.resolve("without-remedy.txt");

    /** What is expected, or what to do. */
    private static final Pattern REMEDY = Pattern.compile(
            "(?i:expected)|such as|\\?$|\\b(?i:check|add|name|give|use|write|take|try|"
                    + "choose|see|repair|remove|cut|install|type|leave|make|change|say|copy|free|rename|save|look|move|put|stand|run|start|"
                    + "export|measure|update|let|unpack|find|delete|wait|begin|probe|go on|read|clear|plug|report|press|keep|mend|judge|"
                    + "archive|sign|end|stop|mount|set|allow|close|lay|declare|confirm)\\b|'shiftstand [a-z -]+'|'rig [a-z]+'");

    private static final Pattern BLAME = Pattern.compile(
            "!|\\b(?i:invalid|illegal|please|sorry|oops|forgot|failed to|unable to|fatal|abort\\w*|bad|wrong user|you must|"
                    + "stupid|null|exception|stack ?trace|internal error)\\b");

    /** {@code ThisCase}, the packages of Java: nothing that a technician knows. Names of trade and formats are written so. */
    private static final Pattern JAVA =
            Pattern.compile("\\b(java|javax|org|com)\\.[a-z]+\\.|\\b[A-Z][a-z]+[A-Z][a-z]\\w*");

    private static final Set<String> NAMES = Set.of("SQLite", "PostgreSQL", "BagIt", "JUnit", "DuckDB");

    private static Map<String, Set<String>> found;

    @BeforeAll
    static void scan() throws IOException {
        found = MessageScan.of(SOURCES);
    }

    private static List<String> all() {
        List<String> all = new ArrayList<>();
        found.forEach((file, texts) -> texts.forEach(text -> all.add(file + ": " + text)));
        return all;
    }

    private static boolean isExpectation(String message) {
        return message.contains(": expected: ");
    }

    @Test
    void the_list_is_what_was_last_read_in_full() throws IOException {
        StringBuilder text = new StringBuilder();
        found.forEach((file, texts) -> {
            text.append(file).append('\n');
            texts.forEach(one -> text.append("    ").append(one).append('\n'));
        });
        if (Boolean.getBoolean("golden.rewrite")) {
            Files.createDirectories(FOLDER);
            Files.writeString(KEPT, text);
        }

        assertThat(text.toString())
                .as("a message was added or changed: read it, then keep it with -Dgolden.rewrite=true")
                .isEqualTo(Files.readString(KEPT));
    }

    @Test
    void the_scan_finds_what_is_shown_in_every_way() {
        assertThat(all())
                .as("given to a problem, by way of other methods, thrown, printed, put together, as an expectation")
                .contains(
                        "cli/UnitId.java: is no unit id; expected 1 to 64 letters, digits, '.', '_' or '-', not beginning"
                                + " with '.' or '-' and without '..', such as TD-0107",
                        "document/Yaml.java: alias '*…' is not allowed; write the value out here",
                        "link/SerialLink.java: serial:…: the port is busy; another program holds it. End that program, then"
                                + " try again.",
                        "cli/CheckAnswer.java: This run could not be added to the history: …. 'shiftstand history rebuild'"
                                + " adds it later.")
                .anyMatch(MessagesTest::isExpectation)
                .hasSizeGreaterThan(500);
    }

    @Test
    void each_says_what_was_expected_or_what_to_do() throws IOException {
        Set<String> without = new TreeSet<>();
        for (String message : all()) {
            if (!isExpectation(message)
                    && !REMEDY.matcher(message.substring(message.indexOf(": "))).find()) {
                without.add(message);
            }
        }
        Set<String> excused = new TreeSet<>(Files.readAllLines(WITHOUT_REMEDY));
        excused.removeIf(line -> line.isBlank() || line.startsWith("#"));

        assertThat(without)
                .as("say what is expected or what to do; only what asks for nothing belongs into %s", WITHOUT_REMEDY)
                .isEqualTo(excused);
    }

    @Test
    void none_blames_shouts_or_speaks_of_the_machinery() {
        assertThat(all())
                .filteredOn(message ->
                        BLAME.matcher(message.substring(message.indexOf(": "))).find())
                .isEmpty();
        assertThat(all())
                .filteredOn(message -> JAVA.matcher(message.substring(message.indexOf(": ")))
                        .results()
                        .anyMatch(name -> !NAMES.contains(name.group())))
                .isEmpty();
    }
}
