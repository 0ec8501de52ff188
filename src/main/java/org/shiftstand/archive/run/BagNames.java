package org.shiftstand.archive.run;

import org.shiftstand.judge.NamedTexts.Role;

/** Where things lie in the bag of a run; all paths from the top of the bag. */
public final class BagNames {
    /** A run record. */
    public static final String RECORD = "data/record.run";

    /** What a killed program had written last to its record; it belongs to {@link #RECORD}. */
    public static final String RECORD_LOG = "data/record.run-wal";

    public static final String CAPTURE = "data/capture.csv";
    public static final String CAPTURE_PACKED = "data/capture.csv.gz";
    public static final String REPORT = "data/report.html";
    public static final String RESULT = "data/result.json";
    public static final String SHIFTS = "data/shifts.csv";

    /** How the run was judged. */
    public static final String JUDGING = "data/judging.json";

    /** What it was judged with. */
    public static final String SOFTWARE = "data/software.json";

    static final String MAPPING = "data/texts/mapping.yaml";

    private BagNames() {}

    /** A text that the run was made or judged by. */
    static String text(Role role) {
        return text(role.word());
    }

    static String text(String role) {
        return "data/texts/" + role + ".yaml";
    }
}
