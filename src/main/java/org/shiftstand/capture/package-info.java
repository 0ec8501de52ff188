/**
 * Samples, sources of samples, CSV and its dialects.
 *
 * <p>In: a CSV capture ({@code CsvCapture.open}). Out: a {@code SampleSource}, read as
 * often as needed, block by block. A file is parsed once and spooled losslessly, up to 64 MiB in memory and beyond that
 * in a temporary file that vanishes with the process; memory is independent of its length, and nothing is allocated for
 * a row. What cannot be used is refused as {@code BadInput} with line, column and what to do. Readers are not
 * thread-safe; a source may have several. Knows nothing of angles.
 */
@NullMarked
package org.shiftstand.capture;

import org.jspecify.annotations.NullMarked;
