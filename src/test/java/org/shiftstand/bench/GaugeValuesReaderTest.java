package org.shiftstand.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.stats.AverageAndRange;
import org.shiftstand.stats.CrossedAnova;

class GaugeValuesReaderTest {
    private static GaugeValues study(String... lines) {
        TextFile file = TextFile.of("mine.csv", String.join("\n", lines));
        return GaugeValues.of(file.name(), GaugeValuesReader.read(file));
    }

    private static void refused(String message, String... lines) {
        assertThatThrownBy(() -> study(lines)).isInstanceOf(BadInput.class).hasMessage(message);
    }

    @Test
    void a_table_is_read_whatever_the_order_of_columns_and_lines() {
        GaugeValues read = study(
                "# two units by hand",
                "Value,mount,UNIT,repeat,remark",
                "4.5,B,TD-2,1,",
                "1,A,TD-1,1,warm",
                "2,A,TD-1,2,",
                "3,B,TD-1,1,",
                "3,B,TD-1,2,",
                "",
                "5,A,TD-2,1,",
                "5,A,TD-2,2,",
                "\"5.5\",B,TD-2,2,");

        assertThat(read.units()).containsExactly("TD-2", "TD-1");
        assertThat(read.mounts()).containsExactly("B", "A");
        assertThat(read.study().repeats()).isEqualTo(2);
        assertThat(read.study().mean()).isCloseTo(3.625, within(1e-12));
        assertThat(read.shifts()).isEqualTo(1);
    }

    @Test
    void other_trades_words_for_the_columns_are_understood() {
        GaugeValues read = study(
                "appraiser,trial,part,value,shifts",
                "A,1,1,1,18",
                "A,2,1,2,18",
                "B,1,1,3,18",
                "B,2,1,4,17",
                "A,1,2,5,18",
                "A,2,2,6,18",
                "B,1,2,7,18",
                "B,2,2,8,18");

        assertThat(read.units()).containsExactly("1", "2");
        assertThat(read.shifts()).isEqualTo(18);
    }

    /** AIAG Measurement Systems Analysis, worked example: repeatability, reproducibility, gauge, distinct categories. */
    @Test
    void the_packed_study_gives_the_printed_figures() {
        GaugeValues read = GaugeValuesReader.find("study-10x3x3");

        AverageAndRange ranges = AverageAndRange.of(read.study());
        assertThat(ranges.variation().repeatability()).isCloseTo(0.20188, within(0.0005));
        assertThat(ranges.variation().reproducibility()).isCloseTo(0.22963, within(0.0005));
        assertThat(ranges.variation().gauge()).isCloseTo(0.30575, within(0.0005));
        assertThat(ranges.variation().distinctCategories()).hasValue(5);
        assertThat(CrossedAnova.of(read.study()).variation().distinctCategories())
                .hasValue(4);
    }

    @Nested
    class What_is_wrong_is_told_all_at_once {
        @Test
        void no_such_columns() {
            refused(
                    "mine.csv:1: has no column repeat, value (its first line is 'unit,mount,angle'); expected columns unit"
                            + " (or part), mount (or appraiser, operator), repeat (or trial) and value",
                    "unit,mount,angle",
                    "1,A,3");
        }

        @Test
        void semicolons() {
            assertThatThrownBy(() -> study("unit;mount;repeat;value", "1;A;1;0,29"))
                    .hasMessageEndingWith("a table with semicolons is to be saved with commas");
        }

        @Test
        void a_column_twice() {
            refused(
                    "mine.csv:1: has the column unit twice; expected it once",
                    "unit,part,mount,repeat,value",
                    "1,1,A,1,3");
        }

        @Test
        void cells_that_are_no_values() {
            refused(
                    """
                    mine.csv:2: has 5 cells; expected 4 as the header has, and a decimal point in numbers, no comma
                    mine.csv:3: value is 'x'; expected a number such as -0.56, without a unit, of 1e9 at most
                    mine.csv:4: value is 'NaN'; expected a number such as -0.56, without a unit, of 1e9 at most
                    mine.csv:5: value is '1e300'; expected a number such as -0.56, without a unit, of 1e9 at most
                    mine.csv:6: has no mount; expected its name or number
                    mine.csv:7: has no value; expected a number. A value that could not be had is to be measured again""",
                    "unit,mount,repeat,value",
                    "1,A,1,3,5",
                    "1,A,2,x",
                    "1,A,3,NaN",
                    "1,A,4,1e300",
                    "1,,5,2",
                    "1,A,6,");
        }

        @Test
        void the_same_repeat_twice() {
            refused(
                    "mine.csv:3: has unit 1, mount A, repeat 1 a second time; expected each once",
                    "unit,mount,repeat,value",
                    "1,A,1,3",
                    "1,A,1,4");
        }

        @Test
        void nothing_at_all() {
            assertThatThrownBy(() -> study("# empty")).hasMessageStartingWith("mine.csv: has no values; ");
            refused(
                    "mine.csv: has a header and no values below it; expected a line for each value",
                    "unit,mount,repeat,value");
        }

        @Test
        void one_unit_one_mount_and_one_repeat_only() {
            refused("""
                    mine.csv: has one unit only, 1; expected 2 units or more, 10 units and 3 mounts by common practice
                    mine.csv: has one mount only, A; expected 2 mounts or more, 10 units and 3 mounts by common practice
                    mine.csv: has 1 value at most of a unit in a mount; expected 2 repeats or more, since nothing else \
                    tells the rig's own spread""", "unit,mount,repeat,value", "1,A,1,3");
        }

        @Test
        void cells_that_are_missing() {
            refused("""
                    mine.csv: unit 1, mount B: 1 of 2 values; expected as many as in the others, 2. Measure what is \
                    missing, or take that unit or mount out
                    mine.csv: unit 2, mount B: no value; expected as many as in the others, 2. Measure what is missing, \
                    or take that unit or mount out""", "unit,mount,repeat,value", "1,A,1,1", "1,A,2,2", "1,B,1,3", "2,A,1,4", "2,A,2,5");
        }

        @Test
        void values_that_are_all_the_same() {
            List<GaugeValue> same = List.of(
                    new GaugeValue("1", "A", "1", 3, 1),
                    new GaugeValue("1", "A", "2", 3, 1),
                    new GaugeValue("1", "B", "1", 3, 1),
                    new GaugeValue("1", "B", "2", 3, 1),
                    new GaugeValue("2", "A", "1", 3, 1),
                    new GaugeValue("2", "A", "2", 3, 1),
                    new GaugeValue("2", "B", "1", 3, 1),
                    new GaugeValue("2", "B", "2", 3, 1));

            assertThatThrownBy(() -> GaugeValues.of("mine.csv", same))
                    .hasMessageStartingWith("mine.csv: all 8 values are 3.0; expected values that differ");
        }
    }
}
