package org.shiftstand.archive;

import java.util.ArrayList;
import java.util.List;

/** Findings as they come up; after the first thousand only counted, so that a hostile bag cannot fill memory. */
final class FindingList {
    private static final int MOST = 1000;

    private final List<Finding> findings = new ArrayList<>();
    private int more;

    void add(String file, Finding.Kind kind, String text) {
        add(new Finding(MemberPath.shown(file), kind, text));
    }

    void container(Finding.Kind kind, String text) {
        add(new Finding(Finding.CONTAINER, kind, text));
    }

    void add(Finding finding) {
        if (findings.size() < MOST) {
            findings.add(finding);
        } else {
            more++;
        }
    }

    /** The finding that reading ended with, which is never left out. */
    void last(Finding finding) {
        findings.add(finding);
    }

    int count() {
        return findings.size() + more;
    }

    List<Finding> list() {
        var all = new ArrayList<>(findings);
        if (more > 0) {
            all.add(new Finding(Finding.CONTAINER, Finding.Kind.FORM, "has " + more + " more findings like these"));
        }
        return all;
    }
}
