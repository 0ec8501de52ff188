/** What a package holds beside the program: bill of materials and licences. */
@NullMarked
package org.shiftstand.packaged;

import org.jspecify.annotations.NullMarked;
