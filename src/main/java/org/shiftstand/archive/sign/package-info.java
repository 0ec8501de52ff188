/**
 * Signatures on bags: keys, statements, and whom to trust.
 *
 * <p>In: a bag's digest with what its result says, a key, a list of known public keys. Out: signed statements, and of each
 * statement whether it holds and whose it is. Ed25519 (RFC 8032) by the JDK, over RFC 8785 canonical JSON. Takes time and
 * randomness as arguments; reads key files only where told.
 */
@NullMarked
package org.shiftstand.archive.sign;

import org.jspecify.annotations.NullMarked;
