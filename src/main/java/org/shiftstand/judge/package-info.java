/**
 * Sample source to shift table and verdict; live, again, verifying.
 */
@NullMarked
package org.shiftstand.judge;

import org.jspecify.annotations.NullMarked;
