package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.Named;
import org.shiftstand.learn.LearnOptions;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.Learning;
import org.shiftstand.learn.LearningInput;
import org.shiftstand.learn.Traces;
import org.shiftstand.report.LearnedText;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Learns what a good unit does. */
@Command(
        name = "characterise",
        sortOptions = false,
        description = {"Learns what a good unit does."})
final class CharacteriseCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(arity = "1..*", paramLabel = "FILE", description = "Captures or run records of one kind of unit.")
    private List<Path> files = new ArrayList<>();

    @Mixin
    private MeasureOptions options = new MeasureOptions();

    @Override
    public Integer call() {
        JudgeOptions said = options.judgeOptions();
        List<JudgeInput> open = new ArrayList<>();
        try {
            List<LearningInput> inputs = new ArrayList<>();
            for (Path file : files) {
                JudgeInput input = JudgeInput.open(file, options.csv());
                open.add(input);
                Named named =
                        new Named(Optional.empty(), options.profile(), Optional.empty()).withLimits(options.limits());
                JudgeInput.MeasureCase by = input.measuring(named, said);
                inputs.add(new LearningInput(
                        file.getFileName().toString(),
                        input.unit().orElse("unit"),
                        input.identity(),
                        Measuring.measure(input.source(), by.profile(), by.options()),
                        OptionalInt.empty()));
            }
            Learned learned = Learning.learn(inputs, LearnOptions.of("drive"), OptionalDouble.empty());
            Traces.Drawn drawn = Traces.of(inputs, learned);
            LearnedText.of(learned.with(drawn.signatures()))
                    .forEach(command.commandLine().getOut()::println);
        } finally {
            open.forEach(JudgeInput::close);
        }
        return ExitCode.DONE;
    }
}
