/**
 * Clauses, groups, decision, verdict.
 */
@NullMarked
package org.shiftstand.spec;

import org.jspecify.annotations.NullMarked;
