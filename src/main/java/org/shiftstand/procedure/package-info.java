/**
 * Scripts of sweeps, as data.
 *
 * <p>In: a procedure file, read by {@link org.shiftstand.procedure.ProcedureReader} with every problem at once. Out: a
 * {@link org.shiftstand.procedure.Procedure}, and laid out against a profile by {@link org.shiftstand.procedure.Script} a
 * flat list of {@link org.shiftstand.procedure.Action actions}, at most a million. The same file and profile give the same
 * list on every machine, random walks too. Drives nothing and knows no rig.
 */
@NullMarked
package org.shiftstand.procedure;

import org.jspecify.annotations.NullMarked;
