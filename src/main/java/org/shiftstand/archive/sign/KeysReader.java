package org.shiftstand.archive.sign;

import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.shiftstand.archive.sign.TrustedKeys.KnownKey;
import org.shiftstand.document.Dates;
import org.shiftstand.document.Node;
import org.shiftstand.document.Problems;
import org.shiftstand.document.Table;
import org.shiftstand.document.TextFile;
import org.shiftstand.document.Yaml;

/** Reads a file of known keys; gathers everything that is wrong. */
final class KeysReader {
    private static final String KEY = "a key's fingerprint, 'sha256:' and 64 hex digits, as 'key show' prints it";

    private final Problems problems;
    private final Table root;

    KeysReader(TextFile file) {
        this.problems = new Problems(file.name());
        this.root = Yaml.read(file, problems, "a file of known keys");
    }

    List<KnownKey> keys() {
        root.only("keys", "version", "known");
        root.need("keys", "a name for this list of keys").ifPresent(Node::identifier);
        root.need("version", "a whole number").ifPresent(node -> node.whole(1, Integer.MAX_VALUE));
        List<Node> nodes = root.need("known", "a list of keys")
                .map(node -> node.items("a list of keys"))
                .orElse(List.of());
        List<KnownKey> keys = new ArrayList<>();
        Set<String> seen = new HashSet<>();
        for (Node node : nodes) {
            node.table("a key with its name, such as { key: 'sha256:…', name: 'end of line' }")
                    .flatMap(table -> key(table, seen))
                    .ifPresent(keys::add);
        }
        problems.check();
        return keys;
    }

    private Optional<KnownKey> key(Table table, Set<String> seen) {
        table.only("key", "name", "roles", "from", "until", "revoked");
        Optional<String> key = table.need("key", KEY).flatMap(node -> fingerprint(node, seen));
        Optional<String> name = table.need("name", "whose key it is").flatMap(node -> node.text("whose key it is"));
        List<String> roles = table.find("roles").map(KeysReader::roles).orElse(List.of());
        Optional<Instant> from = table.find("from").flatMap(Dates::instant);
        Optional<Instant> until = table.find("until").flatMap(Dates::instant);
        Optional<String> revoked = table.find("revoked").flatMap(KeysReader::revoked);
        if (from.isPresent() && until.isPresent() && !from.get().isBefore(until.get())) {
            table.find("until")
                    .ifPresent(node -> node.problem(
                            "until is not after from, so that the key would never be valid; expected a later time"));
        }
        return key.flatMap(k -> name.map(n -> new KnownKey(k, n, roles, from, until, revoked)));
    }

    private static Optional<String> fingerprint(Node node, Set<String> seen) {
        Optional<String> text = node.text(KEY);
        if (text.isPresent() && !text.get().matches("sha256:[0-9a-f]{64}")) {
            node.problem("key is '" + text.get() + "'; expected " + KEY);
            return Optional.empty();
        }
        if (text.isPresent() && !seen.add(text.get())) {
            node.problem("this key is given twice; expected once");
        }
        return text;
    }

    private static List<String> roles(Node node) {
        List<String> roles = new ArrayList<>();
        for (Node item : node.items("a list of roles, such as [tested-by]")) {
            item.text("a role such as tested-by").ifPresent(role -> {
                if (!SignOff.ROLE.matcher(role).matches()) {
                    item.problem(
                            "'" + role + "' is no role; expected small letters, digits and '-', such as tested-by");
                }
                roles.add(role);
            });
        }
        return roles;
    }

    private static Optional<String> revoked(Node node) {
        Optional<Table> table = node.table("{ on: 2026-06-01T00:00:00Z, because: lost }");
        table.ifPresent(t -> t.only("on", "because"));
        Optional<Instant> on = table.flatMap(t -> t.need("on", "when, such as 2026-06-01T00:00:00Z"))
                .flatMap(Dates::instant);
        Optional<String> because =
                table.flatMap(t -> t.need("because", "why, such as lost")).flatMap(n -> n.text("why, such as lost"));
        return on.flatMap(at -> because.map(why -> why + ", on " + at));
    }
}
