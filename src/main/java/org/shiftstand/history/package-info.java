/**
 * Index over many runs.
 *
 * <p>In: results of judged runs, from a check or from bags. Out: lists, trends, yields over units. In SQLite for one bench, in
 * PostgreSQL for several, by the same migrations; where the server is away entries wait in a folder. An index only: it can
 * always be made again from bags alone. Measures and judges nothing.
 */
@NullMarked
package org.shiftstand.history;

import org.jspecify.annotations.NullMarked;
