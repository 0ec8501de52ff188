/**
 * Faults done to runs from outside, and what became of them: programs killed, stopped and crashed, lines torn, disks filled.
 *
 * <p>In: a seed for each trial. Out: a row of a table, and each failure with its seed. A usual test run makes a few trials
 * ({@code FaultsTest}); {@code src/bench/faults.sh} makes them all and writes {@code src/bench/FAULTS.md}. Programs run in
 * Java machines of their own; rigs are simulated in yet another, which outlives the host.
 */
@org.jspecify.annotations.NullMarked
package org.shiftstand.faults;
