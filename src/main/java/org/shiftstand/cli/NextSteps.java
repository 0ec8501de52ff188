package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What to do next, with the commands to type: from the files of a folder and the runs so far. */
final class NextSteps {
    private static final String HELP = "Every command: shiftstand --help. How one is used: shiftstand COMMAND --help.";

    private NextSteps() {}

    /**
     * A few lines for a person.
     *
     * @param here what lies in this folder
     * @param reports where runs go, as the settings have it
     */
    static List<String> of(Workspace here, Path reports, RunsSoFar runs) {
        List<String> lines = new ArrayList<>();
        if (runs.newest().isPresent()) {
            afterRuns(here, reports, runs, runs.newest().get(), lines);
        } else if (here.ready()) {
            workspace(here, lines);
        } else {
            nothing(here, lines);
        }
        lines.add("");
        lines.add(HELP);
        return lines;
    }

    private static void nothing(Workspace here, List<String> lines) {
        lines.add("Nothing of Shiftstand is in this folder yet: no spec and no reports.");
        Map<String, String> steps = new LinkedHashMap<>();
        here.captures().stream().findFirst().ifPresent(capture -> {
            steps.put(
                    "What does the capture here show?",
                    "shiftstand judge " + quoted(capture) + " --spec passive-capture");
            steps.put("Where that cannot read it", "shiftstand import --dry-run " + quoted(capture));
        });
        steps.put("Look first; nothing needs to be attached", "shiftstand demo");
        steps.put("Make the files for your own kind of unit", "shiftstand init my-drive");
        if (here.captures().isEmpty()) {
            steps.put("Or judge a capture that you have", "shiftstand judge capture.csv --spec passive-capture");
        }
        add(steps, lines);
    }

    private static void workspace(Workspace here, List<String> lines) {
        String spec = quoted(here.specs().get(0));
        lines.add("This folder has the spec " + here.specs().get(0)
                + others(here.specs().size() - 1) + ", and no reports yet.");
        Map<String, String> steps = new LinkedHashMap<>();
        steps.put("Are the files right?", "shiftstand spec lint " + spec + " --procedure " + quoted(here.procedure()));
        steps.put("Try them on a simulated rig", check(here, "sim:seed=7", "TRY-1"));
        steps.put("Find the rig's port", "shiftstand rig list");
        steps.put("Check a unit on it, standing by", check(here, "serial:" + here.port(), "UNIT") + " --attended");
        add(steps, lines);
    }

    private static void afterRuns(
            Workspace here, Path reports, RunsSoFar runs, RunsSoFar.Newest newest, List<String> lines) {
        Map<String, String> steps = new LinkedHashMap<>();
        String folder = quoted(newest.folder().toString());
        String record = quoted(newest.record().map(Path::toString).orElse(folder));
        Optional<String> verdict = newest.verdict();
        lines.add(runs.count() + (runs.count() == 1 ? " run in " : " runs in ") + reports + ". The newest is of unit "
                + newest.unit() + ": "
                + verdict.map(word -> word.replace('-', ' '))
                        .orElse("no verdict yet; it is still running, or was broken off")
                + ".");
        if (verdict.isEmpty()) {
            steps.put("Go on with it, standing by", "shiftstand check --resume " + record + " --attended");
            steps.put("Or judge what was recorded", "shiftstand judge " + record + " --report again");
        } else {
            lines.add("Its report: " + newest.folder().resolve(Reports.HTML));
            if (newest.simulated()) {
                steps.put("It was simulated. Find the port of a real rig", "shiftstand rig list");
            } else if (verdict.get().equals("pass")) {
                steps.put(
                        "Pack it for sign-off", "shiftstand archive " + folder + " --out " + newest.unit() + ".tar.gz");
            } else {
                steps.put("Which clauses decided, and why?", "shiftstand judge " + record);
            }
        }
        if (here.ready()) {
            steps.put("Check the next unit", check(here, "serial:" + here.port(), "UNIT") + " --attended");
        } else {
            steps.put("Make the files for your own kind of unit", "shiftstand init my-drive");
        }
        steps.put("All runs so far", "shiftstand history list");
        add(steps, lines);
    }

    private static String check(Workspace here, String rig, String unit) {
        return "shiftstand check --rig " + quoted(rig)
                + here.rig().map(file -> " --rig-description " + quoted(file)).orElse("") + " \\\n      --spec "
                + quoted(here.specs().get(0)) + " \\\n      --procedure " + quoted(here.procedure()) + " --unit "
                + unit;
    }

    private static void add(Map<String, String> steps, List<String> lines) {
        steps.forEach((what, command) -> {
            lines.add("");
            lines.add(what + (what.endsWith("?") ? "" : ":"));
            ("  " + command).lines().forEach(lines::add);
        });
    }

    private static String others(int more) {
        return more == 0 ? "" : more == 1 ? " and one more" : " and " + more + " more";
    }

    /** As a shell takes it: names with spaces and the like in quotes. */
    static String quoted(String name) {
        return name.matches("[A-Za-z0-9._/,=:+@%-]+") ? name : "'" + name.replace("'", "'\\''") + "'";
    }
}
