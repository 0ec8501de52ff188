/**
 * Report model and renderings.
 */
@NullMarked
package org.shiftstand.report;

import org.jspecify.annotations.NullMarked;
