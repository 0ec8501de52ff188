/**
 * What is nominal for a kind of unit.
 */
@NullMarked
package org.shiftstand.profile;

import org.jspecify.annotations.NullMarked;
