package org.shiftstand.report;

import java.util.Objects;

/** The program that wrote a result. */
final class Tool {
    /** Name and version; a build that was never packed has no version of its own. */
    static final String NAME_AND_VERSION = "shiftstand "
            + Objects.requireNonNullElse(Tool.class.getPackage().getImplementationVersion(), "(not packed)");

    private Tool() {}
}
