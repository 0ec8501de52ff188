package org.shiftstand.procedure;

import java.util.List;
import org.shiftstand.document.Place;
import org.shiftstand.document.Problems;

/** Checks that the unit has power and a known place before a shift is asked of it: at the start, and after a cut. */
final class Readiness {
    private final List<Integer> lines;
    private final Problems problems;
    private int place;
    private boolean powered;
    private boolean homed;
    private int cutAt;

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
            if (step instanceof Step.Supply) {
                powered = true;
            } else if (step instanceof Step.SupplyOff) {
                powered = false;
                homed = false;
                cutAt = place;
            } else if (step instanceof Step.Home) {
                needsPower("home");
                homed = true;
            } else if (step instanceof Step.Repeat repeat) {
                repeat(repeat);
            } else if (!(step instanceof Step.Rest)) {
                needsPower(step.kind());
                needsHome(step.kind());
            }
        }
    }

    private void repeat(Step.Repeat repeat) {
        int first = place;
        walk(repeat.steps());
        if (repeat.times() > 1) { // what its end takes away is missing at its second beginning; a third is like it
            place = first;
            walk(repeat.steps());
        }
    }

    private void needsPower(String kind) {
        if (!powered) {
            problem("'" + kind + "' while the unit has no supply" + since()
                    + "; expected a step such as 'supply: 8.2 V' before it");
            powered = true; // said once
        }
    }

    private void needsHome(String kind) {
        if (!homed) {
            problem("'" + kind + "' before any 'home'" + since()
                    + ": where the unit stands is not known; expected 'home: {}' before it");
            homed = true;
        }
    }

    /** What made it so, where a step did. */
    private String since() {
        return cutAt == 0 ? "" : " after the supply was taken away in line " + lines.get(cutAt - 1);
    }

    private void problem(String text) {
        problems.add(new Place(lines.get(place - 1), 0), text);
    }
}
