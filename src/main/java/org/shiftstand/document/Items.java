package org.shiftstand.document;

import java.util.List;

/** A list. */
public final class Items extends Node {
    private final List<Node> nodes;

    Items(Problems problems, String name, Place place, List<Node> nodes) {
        super(problems, name, place);
        this.nodes = List.copyOf(nodes);
    }

    /** All items in order, without asking for any. */
    public List<Node> nodes() {
        return nodes;
    }

    @Override
    public List<Node> items(String expected) {
        if (nodes.isEmpty()) {
            refuse(expected);
        }
        return nodes;
    }

    @Override
    public List<Node> oneOrMany() {
        return items("at least one");
    }

    @Override
    String described() {
        return nodes.isEmpty() ? "an empty list" : "a list";
    }
}
