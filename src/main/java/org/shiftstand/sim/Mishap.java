package org.shiftstand.sim;

/** What can go wrong in a simulated rig and on the line to it, each at times that the options give. */
public enum Mishap {
    LOSE_FRAME("lose-frame-at", "the next frame from the rig is lost"),
    FLIP_BYTE("flip-byte-at", "one byte of the next sample block is flipped"),
    REPEAT_FRAME("repeat-frame-at", "the next sample block comes twice"),
    REORDER_FRAME("reorder-frame-at", "the next sample block comes after the frame that follows it"),
    TRUNCATE_FRAME("truncate-frame-at", "the next sample block loses its second half and its end"),
    GARBAGE("garbage-at", "3000 bytes without a frame's end come before the next frame"),
    OVERRUN("overrun-at", "the rig itself loses samples for 50 ms, and says so"),
    SURGE("surge-at", "10 A too much flow for 50 ms"),
    OVERHEAT("overheat-at", "the rig warms from 25 to 95 degC, by 10 degC a second"),
    ESTOP("estop-at", "the emergency stop is pressed"),
    MUTE("mute-at", "the rig says nothing more until it boots; the port stays"),
    DEAF("deaf-at", "the rig hears nothing more until it boots; the port stays"),
    UNPLUG("unplug-at", "the line breaks");

    private final String word;
    private final String meaning;

    Mishap(String word, String meaning) {
        this.word = word;
        this.meaning = meaning;
    }

    /** As options write it, such as {@code lose-frame-at}. */
    public String word() {
        return word;
    }

    /** What it does, for help texts. */
    public String meaning() {
        return meaning;
    }
}
