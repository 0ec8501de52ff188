package org.shiftstand.cli;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.Measurement;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.Named;
import org.shiftstand.report.ShiftCsv;
import org.shiftstand.report.ShiftJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Writes the shift table of a record or capture. */
@Command(
        name = "measure",
        sortOptions = false,
        description = {
            "Writes the shift table of a run record or a CSV capture.",
            "",
            "Angles are degrees of output shaft, times seconds. A cell is empty where there is no "
                    + "number; the notes say why. A capture needs the columns time_s, hall_sin, hall_cos; "
                    + "hall_power or window, current_a, supply_v and request are used where they are there. It may "
                    + "be compressed (.gz)."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand measure capture.csv --out shifts.csv",
            "  shiftstand measure logger.csv --column hall_sin=CH1 --column hall_cos=CH2 --sense reversed --json"
        })
final class MeasureCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(paramLabel = "FILE", description = "Run record (.run) or CSV capture (.csv, .csv.gz).")
    private Path file;

    @Mixin
    private MeasureOptions options = new MeasureOptions();

    @Option(names = "--out", paramLabel = "FILE", description = "Write to this file instead of standard output.")
    private @Nullable Path out;

    @Option(names = "--force", description = "Overwrite the file that --out names.")
    private boolean force;

    @Option(names = "--json", description = "Write JSON instead of CSV.")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        var judgeOptions = options.judgeOptions();
        try (JudgeInput input = JudgeInput.open(file, options.csv())) {
            Named named = new Named(Optional.empty(), options.profile(), Optional.empty()).withLimits(options.limits());
            JudgeInput.MeasureCase by = input.measuring(named, judgeOptions);
            Measurement measured = Measuring.measure(input.source(), by.profile(), by.options());
            measured.notices().forEach(notice -> spec.commandLine().getErr().println("note: " + notice));
            if (out == null) {
                write(measured, System.out);
                System.out.flush();
            } else {
                Output.writeWhole(out, force, stream -> write(measured, stream));
            }
        }
        return ExitCode.DONE;
    }

    private void write(Measurement measured, OutputStream to) throws IOException {
        if (json) {
            ShiftJson.write(measured, to);
            return;
        }
        Writer text = new OutputStreamWriter(to, StandardCharsets.UTF_8);
        ShiftCsv.write(measured.table(), text);
        text.flush();
    }
}
