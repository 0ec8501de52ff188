package org.shiftstand.procedure;

import java.util.List;
import org.shiftstand.document.Place;
import org.shiftstand.document.Problems;

/** Checks that the unit has power and a known place before the first shift is asked of it. */
final class Readiness {
    private final List<Integer> lines;
    private final Problems problems;
    private int place;
    private boolean powered;
    private boolean homed;

    private Readiness(List<Integer> lines, Problems problems) {
        this.lines = lines;
        this.problems = problems;
    }

    static void check(List<Step> steps, List<Integer> lines, Problems problems) {
        new Readiness(lines, problems).walk(steps);
    }

    private void walk(List<Step> steps) {
        for (Step step : steps) {
            place++;
            if (step instanceof Step.Supply supply) {
                powered = supply.volts() > 0;
            } else if (step instanceof Step.Home) {
                needsPower("home");
                homed = true;
            } else if (step instanceof Step.Repeat repeat) {
                walk(repeat.steps());
            } else if (!(step instanceof Step.Rest)) {
                needsPower(step.kind());
                needsHome(step.kind());
            }
        }
    }

    private void needsPower(String kind) {
        if (!powered) {
            problem("'" + kind + "' while the unit has no supply; expected a step such as 'supply: 8.2 V' before it");
            powered = true; // said once
        }
    }

    private void needsHome(String kind) {
        if (!homed) {
            problem("'" + kind
                    + "' before any 'home': where the unit stands is not known; expected 'home: {}' before it");
            homed = true;
        }
    }

    private void problem(String text) {
        problems.add(new Place(lines.get(place - 1), 0), text);
    }
}
