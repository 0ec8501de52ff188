package org.shiftstand.cli;

/** Packed files that commands fall back on. */
final class Bundles {
    /** What a simulated unit is built by where nothing else is named. */
    static final String TARN_DRIVE = "specs/tarn-drive.profile.yaml";

    private Bundles() {}
}
