package org.shiftstand.document;

import java.util.Map;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;

/** What the YAML parser stumbled over, in plain words. */
final class Syntax {
    private static final Map<String, String> PLAIN = Map.ofEntries(
            Map.entry(
                    "mapping values are not allowed here",
                    "a ':' stands where no key can be; expected one 'key: value' a line, or quotes around text that has"
                            + " a ': ' in it"),
            Map.entry("could not find expected ':'", "a key without its ':'; expected 'key: value'"),
            Map.entry("expected ',' or ']', but got", "a list in [ ] is not closed here; expected ',' or ']'"),
            Map.entry("expected ',' or '}', but got", "a mapping in { } is not closed here; expected ',' or '}'"),
            Map.entry(
                    "expected <block end>, but found",
                    "this does not line up with what stands above; expected the same indentation for the keys of one"
                            + " mapping and the items of one list"),
            Map.entry("found unexpected end of stream", "a quoted text is not closed before the end of the file"),
            Map.entry("'\\t(TAB)'", "a tab; expected spaces for indentation"),
            Map.entry("found character '@'", "text starts with '@'; expected quotes around it"),
            Map.entry("found character '`'", "text starts with '`'; expected quotes around it"),
            Map.entry("found character '%'", "text starts with '%'; expected quotes around it"),
            Map.entry("found undefined tag handle", "a tag that is not defined; tags are not allowed"),
            Map.entry("found unknown escape character", "unknown escape in a text in double quotes; use single quotes"),
            Map.entry(
                    "sequence entries are not allowed here",
                    "a '-' stands where no list item can be; expected it on its own" + " line"));

    private Syntax() {}

    static String plain(MarkedYamlEngineException e) {
        String problem = e.getProblem() == null ? String.valueOf(e.getMessage()) : e.getProblem();
        return PLAIN.entrySet().stream()
                .filter(entry -> problem.contains(entry.getKey()))
                .map(Map.Entry::getValue)
                .findFirst()
                .orElse(problem + "; expected lines such as 'key: value', or '- item' in a list");
    }
}
