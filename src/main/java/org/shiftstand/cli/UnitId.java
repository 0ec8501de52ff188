package org.shiftstand.cli;

import java.util.regex.Pattern;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** Ids of units: they become names of files and folders. */
final class UnitId {
    private static final Pattern SHAPE = Pattern.compile("[A-Za-z0-9._-]{1,64}");

    private UnitId() {}

    /** @throws BadInput where the id could not be a file name everywhere */
    static String check(String id) {
        if (!SHAPE.matcher(id).matches() || id.contains("..") || id.startsWith(".") || id.startsWith("-")) {
            throw new BadInput(new Problem(
                    "--unit " + id,
                    0,
                    0,
                    "is no unit id; expected 1 to 64 letters, digits, '.', '_' or '-', not beginning with '.' or '-' and"
                            + " without '..', such as TD-0107"));
        }
        return id;
    }
}
