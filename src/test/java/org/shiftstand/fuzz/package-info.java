/** Seeded random damage to every input; see "Fuzzing" in DEVELOPERS.md. */
@org.jspecify.annotations.NullMarked
package org.shiftstand.fuzz;
