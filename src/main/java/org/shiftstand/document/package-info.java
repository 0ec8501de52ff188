/**
 * YAML that people write: marks, schemas, all errors at once with line and column.
 *
 * <p>In: a file's name as the user typed it. {@link org.shiftstand.document.Bundled} finds it (a file on disk first,
 * else the copy packed with the program), {@link org.shiftstand.document.TextFile} reads it, {@link
 * org.shiftstand.document.Yaml} turns it into a tree of {@link org.shiftstand.document.Node nodes} that know their
 * place. Readers of the other packages ask the nodes for what they need; whatever is wrong is collected in {@link
 * org.shiftstand.document.Problems} and thrown at once as {@link org.shiftstand.document.BadInput}.
 *
 * <p>The JSON Schemas under {@code specs/schema/} describe the same forms for editors and other programs. The readers
 * do not evaluate them (that costs a cold start several times what reading does, and their messages are for machines);
 * tests hold both to the same answers.
 */
@NullMarked
package org.shiftstand.document;

import org.jspecify.annotations.NullMarked;
