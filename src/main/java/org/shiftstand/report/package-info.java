/**
 * Report model and renderings.
 *
 * <p>In: a {@code Judgement} and, for drawings, the {@code AngleTrack} it was measured on. Out: one self-contained HTML
 * file, the result document and the shift table. The same judgement gives the same bytes on every machine, but for the
 * one line that says when the report was made. Whatever comes from a file or a person is escaped; nothing is fetched
 * from outside and no script runs. Sizes are bounded: long runs are binned in drawings and capped in tables, and the
 * report says so where it does.
 *
 * <p>Does not measure, judge or decide anything: what it shows as a result was decided before. Opens no file.
 */
@NullMarked
package org.shiftstand.report;

import org.jspecify.annotations.NullMarked;
