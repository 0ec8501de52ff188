/**
 * Benchmarks, and what they need: long captures and records tiled from a short one, timings of whole processes.
 *
 * <p>Not part of the program and not run by the build; {@code src/bench/run.sh} runs everything and prints tables. Not
 * null-marked: JMH sets the fields of a state after construction.
 */
package org.shiftstand.speed;
