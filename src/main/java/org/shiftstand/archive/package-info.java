/**
 * Bags and signatures: what one run leaves for the years.
 *
 * <p>In: the files of one judged run. Out: a BagIt 1.0 bag (RFC 8493) as folder, {@code .tar.gz} or {@code .zip}, with Ed25519
 * signatures (RFC 8032) over canonical statements (RFC 8785); and, of any bag, everything that is wrong with it. Reads and
 * writes as a stream, memory independent of the size of a bag. The same input gives the same bytes. Judges nothing and asks
 * nobody: keys, names and clocks come in as arguments.
 */
@NullMarked
package org.shiftstand.archive;

import org.jspecify.annotations.NullMarked;
