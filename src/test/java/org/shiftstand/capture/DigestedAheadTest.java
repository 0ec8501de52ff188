package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.security.MessageDigest;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is read ahead is what is in the stream, and the digest is that of all of it. */
class DigestedAheadTest {
    private static final int CHUNK = 1 << 18;

    @ParameterizedTest
    @ValueSource(ints = {0, 1, CHUNK - 1, CHUNK, CHUNK + 1, 9 * CHUNK + 17})
    void gives_every_byte_in_order_and_its_digest(int length) throws Exception {
        byte[] bytes = new byte[length];
        new Random(length).nextBytes(bytes);
        MessageDigest digest = MessageDigest.getInstance("SHA-256");

        byte[] read;
        try (InputStream in = new DigestedAhead(new ByteArrayInputStream(bytes), digest)) {
            read = in.readAllBytes();
            assertThat(in.read()).isEqualTo(-1);
        }

        assertThat(read).isEqualTo(bytes);
        assertThat(digest.digest())
                .isEqualTo(MessageDigest.getInstance("SHA-256").digest(bytes));
    }

    @Test
    void tells_what_broke_after_what_came_before_it() throws Exception {
        InputStream broken = new InputStream() {
            private int left = 3;

            @Override
            public int read() throws IOException {
                if (left-- == 0) {
                    throw new IOException("the line was cut");
                }
                return 'x';
            }

            @Override
            public int read(byte[] to, int from, int length) throws IOException {
                to[from] = (byte) read();
                return 1;
            }
        };

        try (InputStream in = new DigestedAhead(broken, MessageDigest.getInstance("SHA-256"))) {
            assertThat(in.readNBytes(3)).isEqualTo(new byte[] {'x', 'x', 'x'});
            assertThatThrownBy(in::read).isInstanceOf(IOException.class).hasMessage("the line was cut");
        }
    }

    @Test
    void closing_early_ends_the_other_thread_and_closes_the_stream() throws Exception {
        boolean[] closed = new boolean[1];
        InputStream endless = new InputStream() {
            @Override
            public int read() {
                return 0;
            }

            @Override
            public int read(byte[] to, int from, int length) {
                return length;
            }

            @Override
            public void close() {
                closed[0] = true;
            }
        };

        InputStream in = new DigestedAhead(endless, MessageDigest.getInstance("SHA-256"));
        assertThat(in.read()).isZero();
        in.close();

        assertThat(closed[0]).isTrue();
        assertThat(Thread.getAllStackTraces().keySet())
                .noneMatch(t -> t.getName().equals("capture digest"));
    }
}
