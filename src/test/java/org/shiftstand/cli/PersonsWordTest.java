package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PipedInputStream;
import java.io.PipedOutputStream;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(20)
class PersonsWordTest {
    private final PipedOutputStream keyboard = new PipedOutputStream();
    private final InputStream in = connected(keyboard);

    @Test
    void go_typed_after_the_question_is_a_persons_word() {
        assertThat(asked("go\n").given("The line is back.")).isTrue();
    }

    @Test
    void anything_else_is_none() {
        assertThat(asked("yes\n").given("The line is back.")).isFalse();
    }

    @Test
    void go_typed_before_the_question_is_no_answer_to_it() throws IOException {
        keyboard.write("go\ngo\n".getBytes(StandardCharsets.US_ASCII));

        assertThat(asked("\n").given("The line is back.")).isFalse();
    }

    @Test
    void a_wish_to_stop_ends_the_waiting() {
        var word = new PersonsWord(new PrintWriter(new ByteArrayOutputStream()), in, true, () -> true);

        assertThat(word.given("The line is back.")).isFalse();
    }

    @Test
    void without_a_terminal_nobody_is_asked() {
        var word = new PersonsWord(new PrintWriter(new ByteArrayOutputStream()), in, false, () -> false);

        assertThat(word.given("The line is back.")).isFalse();
        assertThat(word.answer("Is it so?")).isEqualTo(Optional.empty());
    }

    /** A person who types once they have read the question. */
    private PersonsWord asked(String answer) {
        OutputStream screen = new ByteArrayOutputStream() {
            private boolean typed;

            @Override
            public synchronized void flush() {
                if (!typed && toString(StandardCharsets.US_ASCII).contains("Type 'go'")) {
                    typed = true;
                    type(answer);
                }
            }
        };
        return new PersonsWord(new PrintWriter(screen), in, true, () -> false);
    }

    private void type(String text) {
        try {
            keyboard.write(text.getBytes(StandardCharsets.US_ASCII));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static InputStream connected(PipedOutputStream keyboard) {
        try {
            return new PipedInputStream(keyboard);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
