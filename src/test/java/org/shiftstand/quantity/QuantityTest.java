package org.shiftstand.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Locale;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class QuantityTest {
    @Nested
    class Reading {
        @ParameterizedTest
        @CsvSource({
            "12 deg, 12, DEG, 12",
            "-520 deg, -520, DEG, -520",
            "+1.5 turn, 1.5, TURN, 540",
            "0.06 mm, 0.06, MM, 0.06",
            "67 um, 67, UM, 0.067",
            "700 ms, 700, MS, 0.7",
            "700ms, 700, MS, 0.7",
            "'  700   ms ', 700, MS, 0.7",
            "1e3 us, 1000, US, 0.001",
            "20 min, 20, MIN, 1200",
            "2 h, 2, H, 7200",
            "2.4 A, 2.4, A, 2.4",
            ".5 mA, 0.5, MA, 0.0005",
            "8.2 V, 8.2, V, 8.2",
            "8200 mV, 8200, MV, 8.2",
            "1 As, 1, AS, 1",
            "1 mAh, 1, MAH, 3.6",
            "12 J, 12, J, 12",
            "4 kHz, 4, KHZ, 4000",
            "60 degC, 60, DEG_C, 60",
            "57 %, 57, PERCENT, 0.57",
            "95%, 95, PERCENT, 0.95",
            "0, 0, ONE, 0",
            "20 shifts, 20, SHIFTS, 20"
        })
        void a_number_and_its_unit(String text, double value, Unit unit, double base) {
            Quantity read = Quantity.parse(text);

            assertThat(read).isEqualTo(new Quantity(value, unit));
            assertThat(read.base()).isEqualTo(base); // exactly: the double nearest to the decimal
        }

        @ParameterizedTest
        @EnumSource(Unit.class)
        void every_unit_reads_back_as_printed(Unit unit) {
            assertThat(Quantity.parse(new Quantity(-2.5, unit).toString())).isEqualTo(new Quantity(-2.5, unit));
        }

        @Test
        void is_the_same_in_every_locale() {
            Locale before = Locale.getDefault();
            try {
                Locale.setDefault(Locale.forLanguageTag("tr-TR")); // where the lower case of I is a letter of its own

                assertThat(Quantity.parse("2.5 MIN".toLowerCase(Locale.ROOT)).unit())
                        .isEqualTo(Unit.MIN);
                assertThatThrownBy(() -> Quantity.parse("2.5 MIN"))
                        .hasMessage("unknown unit 'MIN' in '2.5 MIN'. Did you mean 'min'?");
                assertThat(new Quantity(2.5, Unit.DEG)).hasToString("2.5 deg");
            } finally {
                Locale.setDefault(before);
            }
        }
    }

    @Nested
    class Refusing {
        @ParameterizedTest
        @CsvSource(
                delimiter = '|',
                value = {
                    "18 dge|unknown unit 'dge' in '18 dge'. Did you mean 'deg'?",
                    "18 Deg|unknown unit 'Deg' in '18 Deg'. Did you mean 'deg'?",
                    "18 degrees|unknown unit 'degrees' in '18 degrees'. Did you mean 'deg'?",
                    "18°|unknown unit '°' in '18°'. Did you mean 'deg'?",
                    "3 sec|unknown unit 'sec' in '3 sec'. Did you mean 's'?",
                    "3 µm|unknown unit 'µm' in '3 µm'. Did you mean 'um'?",
                    "3 amps|unknown unit 'amps' in '3 amps'. Did you mean 'A'?",
                    "60 °C|unknown unit '°C' in '60 °C'. Did you mean 'degC'?",
                    "1 shift|unknown unit 'shift' in '1 shift'. Did you mean 'shifts'?",
                    "3 furlongs|unknown unit 'furlongs' in '3 furlongs'; expected one of deg, turn, mm, um, s, ms, us, min,"
                            + " h, A, mA, V, mV, As, mAh, J, Hz, kHz, degC, %, shifts, cycles",
                    "12,5 deg|'12,5 deg' has a comma in its number; expected a decimal point and no grouping: '12.5 deg'",
                    "deg|'deg' is no number with a unit; expected one such as '18 deg' or '700 ms'",
                    "NaN deg|'NaN deg' is no number with a unit; expected one such as '18 deg' or '700 ms'",
                    "Infinity|'Infinity' is no number with a unit; expected one such as '18 deg' or '700 ms'",
                    "1e999 deg|'1e999 deg' is too large; expected a finite number",
                    "0x10 deg|unknown unit 'x10 deg' in '0x10 deg'; expected one of deg, turn, mm, um, s, ms, us, min, h, A,"
                            + " mA, V, mV, As, mAh, J, Hz, kHz, degC, %, shifts, cycles"
                })
        void says_what_is_wrong_and_what_is_expected(String text, String message) {
            assertThatThrownBy(() -> Quantity.parse(text))
                    .isInstanceOf(NotAQuantity.class)
                    .hasMessage(message);
        }

        /** Digits of other scripts are digits to {@code Character.isDigit}, but not to a reader of this file. */
        @ParameterizedTest
        @ValueSource(strings = {"١٢ deg", "１２ deg", "", "  "})
        void takes_only_plain_digits(String text) {
            assertThatThrownBy(() -> Quantity.parse(text)).isInstanceOf(NotAQuantity.class);
        }
    }

    @Nested
    class Printing {
        @ParameterizedTest
        @CsvSource({
            "18, 18",
            "18.50, 18.5",
            "0.06, 0.06",
            "-0.0, 0",
            "1e7, 10000000",
            "1e16, 1E+16",
            "123456.789, 123456.789"
        })
        void is_plain_and_short(double value, String text) {
            assertThat(Decimal.text(value)).isEqualTo(text);
        }

        @Test
        void a_base_value_keeps_no_dirt_of_binary_fractions() {
            assertThat(Quantity.ofBase(0.57, Unit.PERCENT)).hasToString("57 %");
            assertThat(Quantity.ofBase(0.07, Unit.MS)).hasToString("70 ms");
            assertThat(Quantity.ofBase(540, Unit.TURN)).hasToString("1.5 turn");
        }
    }
}
