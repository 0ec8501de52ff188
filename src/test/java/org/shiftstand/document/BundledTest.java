package org.shiftstand.document;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.SpecReader;

class BundledTest {
    @Test
    void specs_are_read() {
        var file = Bundled.find("tarn-drive-end-of-line", Bundled.Kind.SPEC);
        var spec = SpecReader.read(file);
        assertThat(spec.clauses()).hasSize(16);
        var profile = ProfileReader.read(SpecReader.profileOf(file, spec).orElseThrow());
        assertThat(profile.overtravelDeg(2, 1)).isEqualTo(160);
        assertThat(SpecReader.find("specs/passive-capture.spec.yaml").clauses()).hasSize(9);
    }
}
