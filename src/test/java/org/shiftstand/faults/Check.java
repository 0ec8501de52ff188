package org.shiftstand.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;

/** A check under way in a process of its own, and the record that grows. */
record Check(Child child, Path out) implements AutoCloseable {
    static final Duration STARTS = Duration.ofSeconds(90);

    /** Few shifts: about a dozen seconds on a rig in real time. */
    static final String SHORT = """
            procedure: short
            version: 1
            sample-rate: 512 Hz
            steps:
              - supply: 8.2 V
              - home: {}
              - sweep: { from: 1, to: 3, and-back: true, times: 2, rest: 100 ms }
            """;

    /** Many: about a second of this machine's time on a rig in simulated time. */
    static final String LONG = """
            procedure: long
            version: 1
            sample-rate: 512 Hz
            steps:
              - supply: 8.2 V
              - home: {}
              - sweep: { from: 1, to: last, and-back: true, times: 30, rest: 350 ms }
            """;

    /** Starts one on a rig; a real one is attended. */
    static Check start(Path folder, String name, String rig, String unit, String procedure, String... javaOptions)
            throws IOException {
        Path file = Files.writeString(folder.resolve(name + ".procedure.yaml"), procedure);
        Path out = folder.resolve(name + "-out");
        List<String> arguments = new ArrayList<>(List.of(
                "check",
                "--rig",
                rig,
                "--procedure",
                file.toString(),
                "--spec",
                "tarn-drive-end-of-line",
                "--unit",
                unit,
                "--out",
                out.toString()));
        if (rig.startsWith("serial:")) {
            arguments.add("--attended");
        }
        return new Check(Child.start(folder, name, List.of(javaOptions), arguments.toArray(String[]::new)), out);
    }

    /** Goes on with a record. */
    static Check resume(Path folder, String name, Left left, boolean real) {
        List<String> arguments =
                new ArrayList<>(List.of("check", "--resume", left.file().toString()));
        if (real) {
            arguments.add("--attended");
        }
        return new Check(Child.start(folder, name, arguments.toArray(String[]::new)), folder);
    }

    /** Waits until its record is there. */
    Left left() {
        Wait.until(STARTS, () -> Left.in(out).isPresent() || !child.alive());
        return Left.in(out).orElseThrow(() -> new AssertionError("no record was made: " + child.said()));
    }

    /** Waits for the end and for one of these exit codes; a stack trace is never an answer. */
    int ended(Duration longest, Integer... codes) {
        int code = child.exit(longest);
        assertThat(code).as(child.said()).isIn((Object[]) codes);
        assertThat(child.err() + child.out()).doesNotContain("\tat ", "Exception in thread");
        return code;
    }

    @Override
    public void close() {
        child.close();
    }
}
