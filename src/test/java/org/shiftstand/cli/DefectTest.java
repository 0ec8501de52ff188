package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;
import picocli.CommandLine.Command;

class DefectTest {
    @Command(name = "breaks")
    static final class Breaks implements Runnable {
        private final boolean memory;

        Breaks(boolean memory) {
            this.memory = memory;
        }

        @Override
        public void run() {
            if (memory) {
                throw new OutOfMemoryError("heap");
            }
            throw new IllegalStateException("wrong");
        }
    }

    @Test
    void is_exit_70_and_one_line_never_the_1_of_a_failed_unit() {
        String said = ended(false);

        assertThat(said.lines()).hasSize(1);
        assertThat(said).startsWith("shiftstand: a defect of this program; details are in ");
    }

    @Test
    void memory_that_does_not_suffice_says_how_to_give_more() {
        String said = ended(true);

        assertThat(said.lines()).hasSize(1);
        assertThat(said).contains("MiB, does not suffice").contains("SHIFTSTAND_JAVA_OPTS=-Xmx2g");
    }

    private static String ended(boolean memory) {
        var said = new StringWriter();
        var err = new PrintWriter(said, true);
        var line = new CommandLine(new Breaks(memory));
        line.setErr(err);
        line.setExecutionExceptionHandler(new Failures());

        assertThat(Main.execute(line, err)).isEqualTo(70);
        return said.toString();
    }

    @Test
    void the_exit_code_of_a_command_that_works_is_its_own() {
        var err = new PrintWriter(new StringWriter());

        assertThat(Main.execute(new CommandLine(new Works()), err)).isZero();
    }

    @Command(name = "works")
    static final class Works implements Runnable {
        @Override
        public void run() {
            Thread.onSpinWait();
        }
    }
}
