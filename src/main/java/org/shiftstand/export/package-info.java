/**
 * Samples, shifts and clauses of judged runs as Parquet, for the engines that people already run.
 *
 * <p>In: a judged source. Out: files in a folder, partitioned by kind of unit and date, with a stable schema. Streams samples;
 * memory independent of the length of a run. Loaded by the {@code export} command only.
 */
@NullMarked
package org.shiftstand.export;

import org.jspecify.annotations.NullMarked;
