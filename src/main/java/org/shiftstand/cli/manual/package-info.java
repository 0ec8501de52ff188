/**
 * The manual: man pages and completions for shells, made from the tree of commands.
 *
 * <p>In: the tree, as picocli holds it. Out: texts of files, the same for the same tree. Nothing about a command is written
 * here: a command, an option or a word that the tree gains is in every page. Writes no file and prints nothing.
 */
@NullMarked
package org.shiftstand.cli.manual;

import org.jspecify.annotations.NullMarked;
