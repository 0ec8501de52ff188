package org.shiftstand.document;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NearestTest {
    private static final List<String> WORDS = List.of("mean", "median", "minimum", "maximum", "standard-deviation");

    @ParameterizedTest
    @CsvSource({
        "standart-deviation, standard-deviation",
        "standarddeviation, standard-deviation",
        "Mean, mean",
        "maen, mean",
        "medain, median",
        "minium, minimum",
        "maximun, maximum"
    })
    void is_the_word_with_the_fewest_edits(String written, String meant) {
        assertThat(Nearest.to(written, WORDS)).contains(meant);
    }

    @Test
    void is_nothing_where_nothing_is_near() {
        assertThat(Nearest.to("temperature", WORDS)).isEmpty();
        assertThat(Nearest.to("", WORDS)).isEmpty();
        assertThat(Nearest.to("mean".repeat(1000), WORDS)).isEmpty();
    }
}
