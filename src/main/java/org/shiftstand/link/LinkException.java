package org.shiftstand.link;

/**
 * A link that cannot be opened or used: where, what, and what to do. Commands print the message and end with exit code 4.
 */
public final class LinkException extends RuntimeException {
    private static final long serialVersionUID = 1;

    public LinkException(String message) {
        super(message);
    }
}
