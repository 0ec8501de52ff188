package org.shiftstand.learn.compare;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** What has to be alike in all runs of a comparison, by the word that lets it differ. */
public enum Aspect {
    UNIT("unit", "unit"),
    RIG("rig", "rig"),
    RIG_DESCRIPTION("rig-description", "text of the rig description"),
    SIMULATED("simulated", "real or simulated"),
    PROFILE("profile", "profile"),
    LIMITS("limits", "mechanical limits"),
    PROCEDURE("procedure", "procedure"),
    SUPPLY("supply", "supply"),
    SAMPLE_RATE("sample-rate", "sample rate"),
    SETTLE_BAND("settle-band", "settle band");

    private final String word;
    private final String phrase;

    Aspect(String word, String phrase) {
        this.word = word;
        this.phrase = phrase;
    }

    /** As the command takes it. */
    public String word() {
        return word;
    }

    /** For sentences. */
    public String phrase() {
        return phrase;
    }

    /** All words, for messages. */
    public static List<String> words() {
        return Arrays.stream(values()).map(Aspect::word).toList();
    }

    public static Optional<Aspect> of(String word) {
        return Arrays.stream(values()).filter(a -> a.word.equals(word)).findFirst();
    }
}
