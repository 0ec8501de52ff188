package org.shiftstand.document;

import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.api.lowlevel.Parse;
import org.snakeyaml.engine.v2.events.AliasEvent;
import org.snakeyaml.engine.v2.events.CollectionStartEvent;
import org.snakeyaml.engine.v2.events.DocumentStartEvent;
import org.snakeyaml.engine.v2.events.Event;
import org.snakeyaml.engine.v2.events.MappingStartEvent;
import org.snakeyaml.engine.v2.events.NodeEvent;
import org.snakeyaml.engine.v2.events.ScalarEvent;
import org.snakeyaml.engine.v2.events.SequenceStartEvent;
import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;

/**
 * Reads the YAML 1.2 of one file: one document, a mapping at its top.
 *
 * <p>Refused with their place, since they let a small file hide what it says or grow without bounds: aliases and
 * anchors, merge keys, tags, keys that are no plain text, keys given twice, nesting over 32. The tree is built from the
 * parser's events, so that all of these are met before anything grows.
 */
public final class Yaml {
    static final int DEEPEST = 32;

    private final Problems problems;
    private final Iterator<Event> events;

    private Yaml(TextFile file, Problems problems) {
        this.problems = problems;
        var settings = LoadSettings.builder()
                .setLabel(file.name())
                .setUseMarks(true)
                .setCodePointLimit(2 * TextFile.MOST_BYTES)
                .build();
        String text = file.text();
        this.events = new Parse(settings)
                .parseString(text.startsWith("\uFEFF") ? text.substring(1) : text)
                .iterator();
    }

    /**
     * The mapping at the top of a file.
     *
     * @param problems collects what is wrong in the form, and is asked again by the caller for what is wrong in content
     * @param kind what the file is, for sentences: {@code a spec}
     * @throws BadInput where the text is no YAML at all, with everything found up to there
     */
    public static Table read(TextFile file, Problems problems, String kind) {
        refuseControlCharacters(file, problems);
        problems.check();
        var yaml = new Yaml(file, problems);
        try {
            return yaml.document(kind);
        } catch (MarkedYamlEngineException e) {
            problems.add(yaml.place(e.getProblemMark().or(e::getContextMark)), "not valid YAML: " + Syntax.plain(e));
        } catch (YamlEngineException e) {
            problems.add(new Place(1, 1), "not valid YAML: " + e.getMessage());
        }
        throw new BadInput(problems.sorted());
    }

    private static void refuseControlCharacters(TextFile file, Problems problems) {
        String text = file.text();
        for (int i = text.startsWith("\uFEFF") ? 1 : 0; i < text.length(); i++) {
            char c = text.charAt(i);
            boolean printable = c >= ' '
                    ? c != 0x7F && (c < 0x80 || c > 0x9F || c == 0x85) && c < 0xFFFE && c != 0xFEFF
                    : c == '\t' || c == '\n' || c == '\r';
            if (!printable) {
                String what = c == 0 ? "a zero byte: this is no text" : String.format(Locale.ROOT, "U+%04X", (int) c);
                problems.add(Place.at(text, i), "control character " + what + "; expected printable text");
                return;
            }
        }
    }

    private Table document(String kind) {
        events.next(); // stream start
        Event first = events.next();
        if (!(first instanceof DocumentStartEvent)) {
            problems.add(new Place(1, 1), "the file is empty; expected " + kind);
            throw new BadInput(problems.sorted());
        }
        Node root = node(events.next(), kind, 1);
        events.next(); // document end
        if (events.next() instanceof DocumentStartEvent second) {
            problems.add(
                    place(second.getStartMark()), "a second document starts here; expected one document in a file");
            throw new BadInput(problems.sorted());
        }
        return root.table(kind + ": keys with their values, such as 'version: 1'")
                .orElseThrow(() -> new BadInput(problems.sorted()));
    }

    private Node node(Event event, String name, int depth) {
        Place place = place(event.getStartMark());
        refuseSharing(event, place);
        if (event instanceof MappingStartEvent) {
            return table(name, place, depth);
        }
        if (event instanceof SequenceStartEvent) {
            return items(name, place, depth);
        }
        if (event instanceof ScalarEvent scalar) {
            return new Scalar(problems, name, place, scalar.getValue(), scalar.isPlain());
        }
        return new Scalar(problems, name, place, "", false); // an alias, noted already
    }

    private void refuseSharing(Event event, Place place) {
        if (event instanceof AliasEvent alias) {
            problems.add(place, "alias '*" + alias.getAlias() + "' is not allowed; write the value out here");
        } else if (event instanceof NodeEvent node && node.getAnchor().isPresent()) {
            problems.add(place, "anchor '&" + node.getAnchor().get() + "' is not allowed; remove it");
        }
        tag(event).ifPresent(tag -> problems.add(place, "tag '" + tag + "' is not allowed; remove it"));
    }

    private static Optional<String> tag(Event event) {
        if (event instanceof ScalarEvent scalar) {
            return scalar.getTag();
        }
        return event instanceof CollectionStartEvent collection ? collection.getTag() : Optional.empty();
    }

    private Items items(String name, Place place, int depth) {
        refuseDepth(place, depth);
        var nodes = new ArrayList<Node>();
        for (Event event = events.next(); event.getEventId() != Event.ID.SequenceEnd; event = events.next()) {
            nodes.add(node(event, "item " + (nodes.size() + 1) + " of " + name, depth + 1));
        }
        return new Items(problems, name, place, nodes);
    }

    private Table table(String name, Place place, int depth) {
        refuseDepth(place, depth);
        Map<String, Node> values = new LinkedHashMap<>();
        Map<String, Place> keys = new LinkedHashMap<>();
        for (Event event = events.next(); event.getEventId() != Event.ID.MappingEnd; event = events.next()) {
            Place keyPlace = place(event.getStartMark());
            String key = key(event, keyPlace, depth);
            Node value = node(events.next(), key, depth + 1);
            if (keys.containsKey(key)) {
                Place before = keys.get(key);
                problems.add(
                        keyPlace,
                        "key '" + Scalar.shortened(key) + "' is given twice, before in line " + before.line()
                                + "; expected it once");
            } else {
                keys.put(key, keyPlace);
                values.put(key, value);
            }
        }
        return new Table(problems, name, place, values, keys);
    }

    private String key(Event event, Place place, int depth) {
        Node node = node(event, "a key", depth + 1);
        if (!(node instanceof Scalar scalar) || event instanceof AliasEvent) {
            if (!(event instanceof AliasEvent)) {
                problems.add(place, "a key is " + node.described() + "; expected a word");
            }
            throw new BadInput(problems.sorted());
        }
        if (scalar.value().equals("<<")) {
            problems.add(place, "merge key '<<' is not allowed; write the keys out here");
            throw new BadInput(problems.sorted());
        }
        return scalar.value();
    }

    private void refuseDepth(Place place, int depth) {
        if (depth > DEEPEST) {
            problems.add(place, "nested deeper than " + DEEPEST + " levels; expected a flatter file");
            throw new BadInput(problems.sorted());
        }
    }

    private Place place(Optional<Mark> mark) {
        return mark.map(m -> new Place(m.getLine() + 1, m.getColumn() + 1)).orElse(new Place(1, 1));
    }
}
