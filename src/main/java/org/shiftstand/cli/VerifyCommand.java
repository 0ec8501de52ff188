package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.sign.SignOff;
import org.shiftstand.archive.sign.TrustedKeys;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.report.JsonWriter;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Checks archives. */
@Command(
        name = "verify",
        sortOptions = false,
        description = {
            "Checks bags of runs: that no byte was changed, added or taken away, and who signed.",
            "",
            "A signature counts where its key is in the file of known keys. Exit 0: whole, and every signature good. "
                    + "Exit 1: something was changed, or a signature is bad, or its key revoked or not for that role or "
                    + "time. Exit 3: whole, but not signed, or signed by somebody whom the file of known keys does not have.",
            "",
            "With --rejudge the run is judged again from its samples, and the archived result is held against what comes "
                    + "out, clause by clause."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand verify bag --keys known-keys.yaml",
            "  shiftstand verify archive/*.zip --keys known-keys.yaml --require approved-by --rejudge"
        })
final class VerifyCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(arity = "1..*", paramLabel = "BAG", description = "Bags of runs: folders, .tar.gz or .zip.")
    private List<Path> bags = List.of();

    @Option(
            names = "--keys",
            paramLabel = "FILE",
            description = "Public keys that you rely on, whose they are, and for which roles (a YAML file).")
    private @Nullable Path keys;

    @Option(
            names = "--require",
            split = ",",
            paramLabel = "ROLE",
            description = "Roles that must have signed, such as tested-by,approved-by.")
    private List<String> required = List.of();

    @Option(names = "--rejudge", description = "Judge the run again, and compare.")
    private boolean rejudge;

    @Option(names = "--json", description = "Print the findings as JSON.")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        for (String role : required) {
            if (!SignOff.ROLE.matcher(role).matches()) {
                throw new BadInput(new Problem("--require " + role, 0, 0, "is no role; expected such as tested-by"));
            }
        }
        TrustedKeys trusted = keys == null ? TrustedKeys.none() : TrustedKeys.read(keys);
        PrintWriter text = command.commandLine().getOut();
        List<Verified> all = new ArrayList<>();
        for (Path bag : bags) {
            Verified verified = Verified.of(bag, trusted, keys != null, required, rejudge);
            all.add(verified);
            if (!json) {
                verified.tell(text);
                text.flush();
            }
        }
        if (json) {
            JsonWriter out = new JsonWriter(text);
            out.object().field("format", 1).array("bags");
            all.forEach(verified -> verified.write(out));
            out.endArray().endObject().end();
        }
        return exit(all);
    }

    /** The worst of all: bad before not decided before good. */
    private static int exit(List<Verified> all) {
        List<Integer> codes = all.stream().map(Verified::exit).toList();
        return codes.contains(ExitCode.FAIL)
                ? ExitCode.FAIL
                : codes.contains(ExitCode.NO_VERDICT) ? ExitCode.NO_VERDICT : ExitCode.DONE;
    }
}
