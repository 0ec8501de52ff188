package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class CautionsTest {
    @Test
    void speak_of_every_danger() {
        assertThat(String.join("\n", Cautions.lines()))
                .contains("pinches")
                .contains("mechanical limits")
                .contains("emergency stop")
                .contains("Lithium cells")
                .contains("Local codes, the cell maker's data and qualified people come before");
    }
}
