package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.time.Clock;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.Bag;
import org.shiftstand.archive.BagCheck;
import org.shiftstand.archive.run.BagNames;
import org.shiftstand.archive.sign.SaltedName;
import org.shiftstand.archive.sign.SignOff;
import org.shiftstand.archive.sign.SigningKey;
import org.shiftstand.archive.sign.Subject;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Signs an archive. */
@Command(
        name = "sign",
        sortOptions = false,
        description = {
            "Signs the bag of a run: who says, in which role, that this unit had this verdict by this spec.",
            "",
            "Several people sign one after another, each in a role. A unit that did not pass can be signed with a "
                    + "disposition, in writing; it stays what it is. The signer's name is signed as a salted digest and lies "
                    + "beside it, so that it can be taken away later without breaking the signature."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand sign bag --key r-fell.key.pem --role tested-by --name 'R. Fell'",
            "  shiftstand sign bag --key h-moss.key.pem --role approved-by --name 'H. Moss' \\",
            "      --disposition 'back to assembly: screw lead'"
        })
final class SignCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(paramLabel = "BAG", description = "Bag of a run: a folder, .tar.gz or .zip.")
    private Path file;

    @Option(names = "--key", required = true, paramLabel = "FILE", description = "The signer's secret key (.key.pem).")
    private Path keyFile;

    @Option(
            names = "--role",
            required = true,
            paramLabel = "ROLE",
            description = "In which role, such as tested-by or approved-by.")
    private String role;

    @Option(names = "--name", required = true, paramLabel = "NAME", description = "The signer's name.")
    private String name;

    @Option(
            names = "--disposition",
            paramLabel = "TEXT",
            description = "What is to become of a unit that did not pass. Needed for those.")
    private @Nullable String disposition;

    @Mixin
    private Passphrase passphrase = new Passphrase();

    @Override
    public Integer call() {
        if (name.isBlank() || name.length() > 200 || name.chars().anyMatch(Character::isISOControl)) {
            throw new BadInput(new Problem("--name", 0, 0, "is no name; expected 1 to 200 characters on one line"));
        }
        Bag bag = Bag.open(file);
        Optional<ToSign> now = toSign(bag);
        if (now.isEmpty()) {
            return ExitCode.FAIL;
        }
        SigningKey key = passphrase.use(keyFile.toString(), typed -> SigningKey.read(keyFile, typed));
        SaltedName salted = SaltedName.of(name, new SecureRandom());
        while (now.isPresent()) {
            SignOff.Signed signed = SignOff.sign(
                    now.get().subject(),
                    now.get().earlier(),
                    key,
                    role,
                    salted,
                    Optional.ofNullable(disposition),
                    Clock.systemUTC().instant(),
                    Version.number());
            SortedMap<String, byte[]> files = new TreeMap<>();
            files.put(signed.path(), signed.content());
            files.put(signed.path().replace("signatures/", "names/"), salted.json());
            if (bag.addAfter(now.get().earlier(), files)) {
                tell(now.get().subject(), signed, key);
                return ExitCode.DONE;
            }
            now = toSign(bag); // somebody else signed at the same moment, and this signature has to know theirs
        }
        return ExitCode.FAIL;
    }

    /**
     * What is to be signed.
     *
     * @param earlier signatures by path, which the new one names
     */
    private record ToSign(Subject subject, SortedMap<String, byte[]> earlier) {}

    /** Empty where nothing may be signed, which is told. */
    private Optional<ToSign> toSign(Bag bag) {
        BagCheck check = bag.check();
        Optional<Subject> subject = Optional.ofNullable(check.small().get(BagNames.RESULT))
                .flatMap(result -> Subject.of(check.digest(), result));
        if (check.sound() && subject.isPresent()) {
            return Optional.of(new ToSign(subject.get(), check.below("signatures/")));
        }
        PrintWriter err = command.commandLine().getErr();
        check.findings().forEach(finding -> err.println(PlainText.of(finding.toString())));
        err.println(file + ": nothing was signed: "
                + (check.sound()
                        ? "it has no result of a run"
                        : "it is not what was archived; 'shiftstand verify' tells everything that was changed"));
        return Optional.empty();
    }

    private void tell(Subject subject, SignOff.Signed signed, SigningKey key) {
        PrintWriter text = command.commandLine().getOut();
        text.println(PlainText.of("Signed " + file + ", unit " + subject.unit() + ", verdict "
                + subject.verdict().replace('-', ' ') + ": " + signed.path()));
        text.println("By " + name + ", " + role + ", key " + key.id().fingerprint());
    }
}
