package org.shiftstand.quantity;

/** A text that is no quantity. The message says what is wrong and what is expected, ready to follow a file's place. */
public final class NotAQuantity extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    NotAQuantity(String message) {
        super(message);
    }
}
