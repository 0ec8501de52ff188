/**
 * Frames, codec, messages, serial port; owns time.
 */
@NullMarked
package org.shiftstand.link;

import org.jspecify.annotations.NullMarked;
