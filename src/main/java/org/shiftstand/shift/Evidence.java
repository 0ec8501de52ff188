package org.shiftstand.shift;

/** What the capture can show of one shift. */
public enum Evidence {
    COMPLETE("complete"),
    GAP("gap"),
    SENSOR_FAULT("sensor-fault"),
    PARTIAL("partial"),
    CLOCK_STOPPED("clock-stopped");

    private final String word;

    Evidence(String word) {
        this.word = word;
    }

    /** As in files. */
    public String word() {
        return word;
    }
}
