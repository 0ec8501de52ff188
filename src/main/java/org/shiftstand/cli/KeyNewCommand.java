package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.sign.SigningKey;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Makes a key. */
@Command(
        name = "new",
        sortOptions = false,
        description = {
            "Makes a key to sign archives with: NAME.key.pem, which is secret, and NAME.pub.pem, which is not.",
            "",
            "The secret file is PKCS#8 under a passphrase, and only its owner may read it. Keep one a person; whoever has "
                    + "file and passphrase signs in that person's name. There is no way back to a lost passphrase."
        },
        footer = {"", "Example:", "  shiftstand key new r-fell"})
final class KeyNewCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(paramLabel = "NAME", description = "Name of the files: letters, digits, '.', '_' and '-'.")
    private String name;

    @Option(names = "--out", paramLabel = "DIR", description = "Folder that they go to. Default: this one.")
    private @Nullable Path out;

    @Mixin
    private Passphrase passphrase = new Passphrase();

    @Override
    public Integer call() {
        if (!name.matches("[A-Za-z0-9_-][A-Za-z0-9._-]{0,63}")) {
            throw new BadInput(new Problem(
                    "key new " + name,
                    0,
                    0,
                    "is no name for key files; expected 1 to 64 letters, digits, '.', '_' or '-'"));
        }
        Path folder = out == null ? Path.of("") : out;
        Path secretFile = folder.resolve(name + ".key.pem");
        Path publicFile = folder.resolve(name + ".pub.pem");
        for (Path file : new Path[] {secretFile, publicFile}) {
            if (java.nio.file.Files.exists(file)) {
                throw new BadInput(new Problem(
                        file.toString(), 0, 0, "exists already, and no key is ever overwritten; choose another name"));
            }
        }
        SecureRandom random = new SecureRandom();
        SigningKey key = SigningKey.generate(random);
        passphrase.choose(secretFile.toString(), typed -> {
            key.write(secretFile, publicFile, typed, random);
            return key;
        });
        PrintWriter text = command.commandLine().getOut();
        text.println("Secret key: " + secretFile + " (keep it; it opens with the passphrase only)");
        text.println("Public key: " + publicFile);
        text.println("Fingerprint: " + key.id().fingerprint());
        text.println();
        text.println("Whoever is to trust it adds this to their file of known keys (verify --keys FILE):");
        text.println();
        text.println("keys: quillmoor-works");
        text.println("version: 1");
        text.println("known:");
        text.println("  - key: " + key.id().fingerprint());
        text.println("    name: " + name);
        text.println("    roles: [tested-by, approved-by]");
        return ExitCode.DONE;
    }
}
