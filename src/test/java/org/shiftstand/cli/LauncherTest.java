package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.jar.Attributes;
import java.util.jar.JarOutputStream;
import java.util.jar.Manifest;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What the launcher's scripts do with an unpacked build: here a jar that leads to the classes under test. */
@DisabledOnOs(value = OS.WINDOWS, disabledReason = "the launcher is a shell script")
class LauncherTest {
    private static final Path SCRIPTS = Path.of("src", "main", "launcher").toAbsolutePath();
    private static final String JAVA =
            Path.of(System.getProperty("java.home"), "bin", "java").toString();

    @TempDir
    Path home;

    @BeforeEach
    void unpack() throws IOException {
        Manifest manifest = new Manifest();
        manifest.getMainAttributes().put(Attributes.Name.MANIFEST_VERSION, "1.0");
        manifest.getMainAttributes().put(Attributes.Name.MAIN_CLASS, "org.shiftstand.cli.Main");
        manifest.getMainAttributes().put(Attributes.Name.CLASS_PATH, classPath());
        try (OutputStream file = Files.newOutputStream(home.resolve("shiftstand.jar"))) {
            new JarOutputStream(file, manifest).close();
        }
    }

    private static String classPath() {
        return Arrays.stream(System.getProperty("java.class.path").split(System.getProperty("path.separator")))
                .map(place -> Path.of(place).toUri().toString())
                .collect(Collectors.joining(" "));
    }

    @ParameterizedTest
    @CsvSource({"--help, --help", "-h, --help", "--version, --version", "-V, --version"})
    void what_a_build_always_answers_is_said_without_java(String asked, String answer) throws Exception {
        run("sh", SCRIPTS.resolve("answers.sh").toString(), JAVA, home.toString());

        assertThat(launched("/no/java/here", asked))
                .isEqualTo(Cli.in(home).run(answer).out());
    }

    @Test
    void a_build_without_written_answers_says_them_by_itself() throws Exception {
        assertThat(launched(JAVA, "--version"))
                .isEqualTo(Cli.in(home).run("--version").out());
    }

    @ParameterizedTest
    @ValueSource(strings = {"judge", "rig probe"})
    void help_of_a_command_is_not_the_help_of_all(String command) throws Exception {
        run("sh", SCRIPTS.resolve("answers.sh").toString(), JAVA, home.toString());
        List<String> words = new ArrayList<>(List.of(command.split(" ")));
        words.add("--help");

        String help = launched(JAVA, words.toArray(String[]::new));

        assertThat(help).startsWith("Usage: shiftstand " + command + " ");
    }

    /** Starts as the launcher and the package do: the variables, then run.sh. */
    private String launched(String java, String... arguments) throws Exception {
        List<String> command = new ArrayList<>(List.of(
                "sh",
                "-euc",
                "home=$1 java=$2 archive=$1/classes.jsa; run=$3; shift 3; . \"$run\"",
                "shiftstand",
                home.toString(),
                java,
                SCRIPTS.resolve("run.sh").toString()));
        command.addAll(List.of(arguments));
        return run(command.toArray(String[]::new));
    }

    private String run(String... command) throws Exception {
        Path out = home.resolve("out");
        Path err = home.resolve("err");
        Process process = new ProcessBuilder(command)
                .redirectOutput(out.toFile())
                .redirectError(err.toFile())
                .start();
        try {
            process.getOutputStream().close();
            assertThat(process.waitFor(2, TimeUnit.MINUTES)).isTrue();
        } finally {
            process.destroyForcibly();
        }
        assertThat(process.exitValue())
                .as(Files.readString(err, StandardCharsets.UTF_8))
                .isZero();
        return Files.readString(out, StandardCharsets.UTF_8);
    }
}
