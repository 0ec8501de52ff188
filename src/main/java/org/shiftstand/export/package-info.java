/**
 * Samples, shifts and clauses of judged runs as Parquet, for the engines that people already run.
 *
 * <p>In: a judged source. Out: files in a folder, partitioned by kind of unit and date, with a stable schema; each appears whole
 * or not at all, and the same run exported again gives the same bytes in the same place. Streams samples; memory independent of
 * the length of a run. Loaded by the {@code export} command only: the Parquet library is not on other commands' class path.
 *
 * <p>Does not judge, and decides nothing: {@code reports/EXPORT.md} says what each column means.
 */
@NullMarked
package org.shiftstand.export;

import org.jspecify.annotations.NullMarked;
