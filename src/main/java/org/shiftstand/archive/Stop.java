package org.shiftstand.archive;

import java.io.IOException;

/** Reading of a bag ends here, for a reason that is a finding. */
final class Stop extends IOException {
    private static final long serialVersionUID = 1L;

    private final transient Finding finding;

    Stop(Finding finding) {
        super(finding.toString());
        this.finding = finding;
    }

    /** The archive file cannot be read on. */
    static Stop unreadable(String text) {
        return new Stop(new Finding(Finding.CONTAINER, Finding.Kind.UNREADABLE, text));
    }

    static Stop bomb(String text) {
        return new Stop(new Finding(Finding.CONTAINER, Finding.Kind.BOMB, text));
    }

    Finding finding() {
        return finding;
    }
}
