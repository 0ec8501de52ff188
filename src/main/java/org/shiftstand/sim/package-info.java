/**
 * Simulated rig and unit with faults; own random numbers and truth.
 */
@NullMarked
package org.shiftstand.sim;

import org.jspecify.annotations.NullMarked;
