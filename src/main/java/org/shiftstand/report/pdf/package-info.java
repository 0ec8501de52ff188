/**
 * Sets a finished page of {@code org.shiftstand.report} as PDF: the same words, tables and drawings on A4.
 *
 * <p>In: the text of the page, well-formed. Out: a tagged PDF with title, language, outline, links, and fonts of its own; the same
 * page gives the same bytes. Fetches nothing. Its libraries are on the class path only where a PDF was asked for; not
 * thread-safe while they start, since their logging is silenced for the whole program.
 */
@NullMarked
package org.shiftstand.report.pdf;

import org.jspecify.annotations.NullMarked;
