/**
 * YAML that people write: marks, schemas, all errors at once with line and column.
 */
@NullMarked
package org.shiftstand.document;

import org.jspecify.annotations.NullMarked;
