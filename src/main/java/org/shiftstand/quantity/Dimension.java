package org.shiftstand.quantity;

/** What kind of quantity a unit measures; two quantities compare only within one dimension. */
public enum Dimension {
    ANGLE("an angle", "18 deg"),
    LENGTH("a length", "2.4 mm"),
    TIME("a duration", "700 ms"),
    CURRENT("a current", "2.4 A"),
    VOLTAGE("a voltage", "8.2 V"),
    CHARGE("a charge", "1.5 As"),
    ENERGY("an energy", "12 J"),
    FREQUENCY("a frequency", "512 Hz"),
    TEMPERATURE("a temperature", "60 degC"),
    RATIO("a ratio", "95 %"),
    COUNT("a count", "20 shifts");

    private final String phrase;
    private final String example;

    Dimension(String phrase, String example) {
        this.phrase = phrase;
        this.example = example;
    }

    /** For sentences, with its article: {@code an angle}. */
    public String phrase() {
        return phrase;
    }

    /** One quantity of this dimension as people write it: {@code 18 deg}. */
    public String example() {
        return example;
    }
}
