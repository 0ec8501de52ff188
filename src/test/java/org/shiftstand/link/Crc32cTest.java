package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** REF-CRC-01, row CRC-32/ISCSI (= CRC-32C), the one check sum of the wire; crc.csv: Catalogue of parametrised CRC algorithms. */
class Crc32cTest {
    private final String[] row = ReferenceRows.of("crc.csv").stream()
            .filter(r -> r[0].equals("CRC-32/ISCSI"))
            .findFirst()
            .orElseThrow();

    @Test
    void gives_the_check_value_of_the_catalogue() {
        byte[] digits = "123456789".getBytes(StandardCharsets.US_ASCII);

        assertThat(hex(digits)).isEqualTo(row[7]).isEqualTo("e3069283");
    }

    @Test
    void of_nothing_is_zero() {
        assertThat(hex(new byte[0])).isEqualTo(row[8]);
    }

    @Test
    void covers_every_byte_value() {
        byte[] all = new byte[256];
        for (int i = 0; i < all.length; i++) {
            all[i] = (byte) i;
        }

        assertThat(hex(all)).isEqualTo(row[9]);
    }

    private static String hex(byte[] bytes) {
        return "%08x".formatted(Crc32c.of(bytes, 0, bytes.length));
    }
}
