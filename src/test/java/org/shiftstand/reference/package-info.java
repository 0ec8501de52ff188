/**
 * Figures that others published, beside those that this project gives.
 *
 * <p>Each {@link org.shiftstand.reference.Published} is one source. {@code ReferencesTest} finds them all, fails where a
 * figure is farther off than stated, and holds {@code src/test/REFERENCES.md} to what the comparisons gave.
 */
@NullMarked
package org.shiftstand.reference;

import org.jspecify.annotations.NullMarked;
