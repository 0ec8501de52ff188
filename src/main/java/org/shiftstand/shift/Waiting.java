package org.shiftstand.shift;

import java.util.Optional;
import org.shiftstand.capture.Request;

/** A request, or a cut of the supply where empty, that came while the shaft moved, just before sample {@code index}. */
final class Waiting {
    final Optional<Request> request;
    int index;

    Waiting(Optional<Request> request, int index) {
        this.request = request;
        this.index = index;
    }
}
