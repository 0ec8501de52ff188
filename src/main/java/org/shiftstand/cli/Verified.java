package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import org.shiftstand.archive.Bag;
import org.shiftstand.archive.BagCheck;
import org.shiftstand.archive.Finding;
import org.shiftstand.archive.run.BagNames;
import org.shiftstand.archive.run.Difference;
import org.shiftstand.archive.run.Rejudging;
import org.shiftstand.archive.sign.SignOff;
import org.shiftstand.archive.sign.SignatureCheck;
import org.shiftstand.archive.sign.SignatureCheck.Bad;
import org.shiftstand.archive.sign.SignatureCheck.Said;
import org.shiftstand.archive.sign.Subject;
import org.shiftstand.archive.sign.TrustedKeys;
import org.shiftstand.document.BadInput;
import org.shiftstand.report.JsonWriter;

/**
 * What was found of one bag.
 *
 * @param findings everything that is not as it was archived
 * @param signatures in their order
 * @param missing required roles in which nobody signed
 * @param unproved required roles in which only somebody unknown signed
 * @param again the run judged again; empty where it was not asked for or could not be
 * @param notJudged why it could not be judged again; empty where it could or need not
 */
record Verified(
        Path bag,
        BagCheck check,
        Optional<Subject> subject,
        List<Finding> findings,
        List<SignatureCheck> signatures,
        boolean keysGiven,
        List<String> missing,
        List<String> unproved,
        Optional<Rejudging> again,
        Optional<String> notJudged) {
    static Verified of(Path path, TrustedKeys keys, boolean keysGiven, List<String> required, boolean rejudge)
            throws IOException {
        Bag bag = Bag.open(path);
        try (Scratch scratch = Scratch.make()) {
            BagCheck check = bag.check();
            Optional<Rejudging> again = Optional.empty();
            Optional<String> notJudged = Optional.empty();
            if (rejudge && !check.sound()) {
                notJudged = Optional.of("it is not what was archived");
            } else if (rejudge) {
                try {
                    Path unpacked = bag.extract(scratch.path().resolve("bag"));
                    again = Optional.of(Rejudging.of(unpacked, scratch.folder("again"), Version.number()));
                } catch (BadInput e) {
                    notJudged = Optional.of(String.valueOf(e.getMessage()));
                }
            }
            return of(path, check, keys, keysGiven, required, again, notJudged);
        }
    }

    private static Verified of(
            Path path,
            BagCheck check,
            TrustedKeys keys,
            boolean keysGiven,
            List<String> required,
            Optional<Rejudging> again,
            Optional<String> notJudged) {
        List<Finding> findings = new ArrayList<>(check.findings());
        byte[] result = check.small().getOrDefault(BagNames.RESULT, new byte[0]);
        Optional<Subject> subject = Subject.of(check.digest(), result);
        if (subject.isEmpty() && check.sound()) {
            findings.add(new Finding(
                    BagNames.RESULT, Finding.Kind.FORM, "is no result of a run; it has no unit or verdict"));
        }
        SortedMap<String, byte[]> files = check.below("signatures/");
        Map<String, String> names = names(check, files, new String(result, StandardCharsets.UTF_8), findings);
        List<SignatureCheck> signatures =
                subject.map(s -> SignOff.check(s, files, names, keys)).orElse(List.of());
        List<String> missing = new ArrayList<>();
        List<String> unproved = new ArrayList<>();
        for (String role : required) {
            if (signatures.stream().noneMatch(s -> s.match(new InRole(role, false)))) {
                boolean somebody = signatures.stream().anyMatch(s -> s.match(new InRole(role, true)));
                (somebody ? unproved : missing).add(role);
            }
        }
        return new Verified(path, check, subject, findings, signatures, keysGiven, missing, unproved, again, notJudged);
    }

    /** Names whose digest was signed or stands in the result; any other one was put in. */
    private static Map<String, String> names(
            BagCheck check, SortedMap<String, byte[]> signatures, String result, List<Finding> findings) {
        List<String> wrong = new ArrayList<>();
        Map<String, String> names = SignOff.names(check.below("names/"), wrong);
        wrong.forEach(path ->
                findings.add(new Finding(path, Finding.Kind.CHANGED, "its name is not the one whose digest it gives")));
        List<String> signers = SignOff.signerNames(signatures);
        names.keySet().stream()
                .filter(digest -> !signers.contains(digest) && !result.contains(digest))
                .sorted()
                .forEach(digest -> findings.add(new Finding(
                        "names/", Finding.Kind.EXTRA, "has the name of " + digest + ", whom this bag does not know")));
        return names;
    }

    private record InRole(String role, boolean orUnknown) implements SignatureCheck.Cases<Boolean> {
        @Override
        public Boolean good(Said said) {
            return said.role().equals(role);
        }

        @Override
        public Boolean unknownSigner(Said said) {
            return orUnknown && said.role().equals(role);
        }

        @Override
        public Boolean notTrusted(Said said, String why) {
            return false;
        }

        @Override
        public Boolean bad(Bad bad) {
            return false;
        }
    }

    /** 0: whole and every signature good; 1: something is wrong; 3: nothing is wrong, and nobody known vouches for it. */
    int exit() {
        boolean wrong = !findings.isEmpty()
                || signatures.stream().anyMatch(s -> s.match(Words.STATE).wrong())
                || !missing.isEmpty()
                || notJudged.isPresent()
                || again.filter(a -> !a.differences().isEmpty()).isPresent();
        if (wrong) {
            return ExitCode.FAIL;
        }
        boolean vouched =
                !signatures.isEmpty() && signatures.stream().allMatch(s -> s.match(Words.STATE) == State.GOOD);
        return vouched ? ExitCode.DONE : ExitCode.NO_VERDICT;
    }

    private enum State {
        GOOD("good"),
        UNKNOWN_SIGNER("unknown signer"),
        NOT_TRUSTED("not to be relied on"),
        BAD("bad");

        private final String word;

        State(String word) {
            this.word = word;
        }

        boolean wrong() {
            return this == BAD || this == NOT_TRUSTED;
        }
    }

    /** The state of a signature. */
    private enum Words implements SignatureCheck.Cases<State> {
        STATE;

        @Override
        public State good(Said said) {
            return State.GOOD;
        }

        @Override
        public State unknownSigner(Said said) {
            return State.UNKNOWN_SIGNER;
        }

        @Override
        public State notTrusted(Said said, String why) {
            return State.NOT_TRUSTED;
        }

        @Override
        public State bad(Bad bad) {
            return State.BAD;
        }
    }

    /** The sentence of a signature. */
    private static final class Sentence implements SignatureCheck.Cases<String> {
        @Override
        public String good(Said said) {
            return who(said);
        }

        @Override
        public String unknownSigner(Said said) {
            return who(said) + ". The signature holds, and no known key is behind it";
        }

        @Override
        public String notTrusted(Said said, String why) {
            return who(said) + ". The signature holds, but " + why;
        }

        @Override
        public String bad(Bad bad) {
            return bad.why();
        }

        private static String who(Said said) {
            return said.name().orElse("name not disclosed") + ", " + said.role() + ", at " + said.at() + ", verdict "
                    + said.verdict().replace('-', ' ')
                    + said.disposition()
                            .map(text -> ", disposition '" + text + "'")
                            .orElse("") + ", key "
                    + said.fingerprint();
        }
    }

    void tell(PrintWriter text) {
        say(
                text,
                bag + ": "
                        + subject.map(s -> "unit " + s.unit() + ", verdict "
                                        + s.verdict().replace('-', ' ') + ", spec " + s.spec() + " version "
                                        + s.specVersion())
                                .orElse("says nothing of a run that could be read"));
        if (findings.isEmpty()) {
            say(
                    text,
                    String.format(
                            Locale.ROOT,
                            "  whole: %d files of payload, %.1f MB, every byte as it was archived; %s",
                            check.files(),
                            check.octets() / 1e6,
                            check.digest()));
        }
        findings.forEach(finding -> say(text, "  " + finding));
        signatures.forEach(
                s -> say(text, "  " + s.file() + ": " + s.match(Words.STATE).word + ": " + s.match(new Sentence())));
        unsigned().ifPresent(why -> say(text, "  " + why));
        missing.forEach(role -> say(text, "  nobody signed in the role " + role + ", which was required"));
        unproved.forEach(role -> say(text, "  only somebody unknown signed in the role " + role));
        again.ifPresent(a -> tell(a, text));
        notJudged.ifPresent(why -> say(text, "  not judged again: " + why));
        say(text, "  " + conclusion());
    }

    /** A line that may hold text out of the bag. */
    private static void say(PrintWriter text, String line) {
        text.println(PlainText.of(line));
    }

    private Optional<String> unsigned() {
        if (subject.isPresent() && signatures.isEmpty()) {
            return Optional.of("not signed: nobody vouches for it; 'shiftstand sign' signs it");
        }
        boolean unknown = signatures.stream().anyMatch(s -> s.match(Words.STATE) == State.UNKNOWN_SIGNER);
        return unknown && !keysGiven
                ? Optional.of("no file of known keys was named; --keys FILE says whom you rely on")
                : Optional.empty();
    }

    private static void tell(Rejudging again, PrintWriter text) {
        String by = again.everyFile()
                ? ""
                : " (archived by version " + again.version() + ", so that report and shift table were not compared)";
        if (again.differences().isEmpty()) {
            say(text, "  judged again from its samples: the same, clause by clause" + by);
            return;
        }
        int most = 20;
        say(text, "  judged again from its samples: otherwise" + by);
        again.differences().stream().limit(most).forEach(d -> say(text, "    " + d.toString()));
        if (again.differences().size() > most) {
            say(text, "    and " + (again.differences().size() - most) + " more; --json has all of them");
        }
    }

    private String conclusion() {
        return switch (exit()) {
            case ExitCode.DONE -> "Good.";
            case ExitCode.FAIL -> "NOT good: do not rely on it.";
            default -> "Nothing is wrong with it, and nobody known vouches for it.";
        };
    }

    void write(JsonWriter out) {
        out.object()
                .field("bag", bag.toString())
                .field("digest", Optional.of(check.digest()).filter(digest -> !digest.isEmpty()));
        out.field("state", exit() == ExitCode.DONE ? "good" : exit() == ExitCode.FAIL ? "wrong" : "not-vouched-for");
        out.field("unit", subject.map(Subject::unit)).field("verdict", subject.map(Subject::verdict));
        out.field("files", check.files()).field("octets", check.octets());
        out.array("findings");
        findings.forEach(f -> out.object()
                .field("file", f.file())
                .field("kind", f.word())
                .field("text", f.text())
                .endObject());
        out.endArray().array("signatures");
        signatures.forEach(s -> out.object()
                .field("file", s.file())
                .field("state", s.match(Words.STATE).word)
                .field("text", s.match(new Sentence()))
                .endObject());
        out.endArray().texts("missingRoles", missing).texts("unprovedRoles", unproved);
        out.field("rejudged", again.isPresent()).field("notJudged", notJudged).array("differences");
        for (Difference d : again.map(Rejudging::differences).orElse(List.of())) {
            out.object()
                    .field("where", d.where())
                    .field("archived", d.archived())
                    .field("again", d.again())
                    .endObject();
        }
        out.endArray().endObject();
    }
}
