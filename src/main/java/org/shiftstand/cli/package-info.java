/**
 * Commands; the only place that prints, exits, knows Spring.
 */
@NullMarked
package org.shiftstand.cli;

import org.jspecify.annotations.NullMarked;
