/**
 * Clauses, groups, decision, verdict.
 *
 * <p>In: a spec file, read by {@link org.shiftstand.spec.SpecReader} with every problem at once; a shift table; the shifts
 * that a procedure planned. Out: clause results with their groups and a verdict. {@link org.shiftstand.spec.SpecLint}
 * says beforehand which clause a procedure cannot supply and which bound shuts out the profile's own nominal value. What
 * this version cannot judge (a later rule, claim or statistic) is refused while reading, never treated as a simpler one.
 */
@NullMarked
package org.shiftstand.spec;

import org.jspecify.annotations.NullMarked;
