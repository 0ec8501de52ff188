package org.shiftstand.procedure;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.profile.Profile;

/**
 * Lays a procedure out flat against a profile.
 *
 * <p>The unit stands on sprocket 1 after {@code home}, and is taken to stand there at the start. Every shift is one to a
 * neighbour. A cycle is one repetition of a sweep, of a visit, or one whole random walk; cycles are numbered from 1
 * through the whole procedure. A step is labelled by its kind and its place among all steps in reading order, those inside
 * a {@code repeat} counted after it: {@code sweep-3}; unless the file labels it otherwise. Where the unit stands elsewhere than a sweep or visit begins, the
 * shifts that take it there belong to the cycle they lead into and are labelled {@code position-3}.
 *
 * <p>A random walk shifts inboard or outboard with equal chance, and inwards at the ends of the cassette. The choice is the
 * highest bit (1 inboard) of the next number of SplitMix64 (Steele, Lea, Flood 2014), started with the step's seed each
 * time the step is run; no number is drawn at the ends.
 */
public final class Script {
    /** Bounds memory; at a second and a half a shift this is more than two weeks. */
    static final int MOST_ACTIONS = 1_000_000;

    private final Procedure procedure;
    private final Profile profile;
    private final List<Action> actions = new ArrayList<>();
    private int at = 1;
    private int cycle;
    private int place;

    private Script(Procedure procedure, Profile profile) {
        this.procedure = procedure;
        this.profile = profile;
    }

    /**
     * Everything that the runner does, in order.
     *
     * @throws BadInput where the procedure asks for a sprocket that the profile does not have, or for too much
     */
    public static List<Action> layOut(Procedure procedure, Profile profile) {
        var script = new Script(procedure, profile);
        script.refuseMissingSprockets();
        script.run(procedure.steps());
        return List.copyOf(script.actions);
    }

    /** What a procedure comes to, for people. */
    public static Summary summary(Procedure procedure, Profile profile) {
        return Summary.of(layOut(procedure, profile), profile);
    }

    private void run(List<Step> steps) {
        for (Step step : steps) {
            place++;
            if (step instanceof Step.Supply supply) {
                add(new Action.SetSupply(supply.volts()));
            } else if (step instanceof Step.SupplyOff) {
                add(new Action.SupplyOff());
            } else if (step instanceof Step.Home) {
                add(new Action.Home());
                at = 1;
            } else if (step instanceof Step.Rest rest) {
                add(new Action.Pause(rest.seconds()));
            } else if (step instanceof Step.Repeat repeat) {
                repeat(repeat);
            } else {
                shift(step);
            }
        }
    }

    private void repeat(Step.Repeat repeat) {
        int first = place;
        for (int i = 0; i < repeat.times(); i++) {
            place = first; // the same step keeps its label in each repetition
            run(repeat.steps());
        }
    }

    private void shift(Step step) {
        String label = step.label().orElse(step.kind() + "-" + place);
        if (step instanceof Step.Sweep sweep) {
            int to = sweep.to().orElse(profile.sprockets());
            for (int i = 0; i < sweep.times(); i++) {
                begin(sweep.from(), sweep.restS());
                walkTo(to, label, sweep.restS());
                if (sweep.andBack()) {
                    walkTo(sweep.from(), label, sweep.restS());
                }
            }
        } else if (step instanceof Step.Visit visit) {
            for (int i = 0; i < visit.times(); i++) {
                begin(visit.sprockets().get(0), visit.restS());
                visit.sprockets().forEach(sprocket -> walkTo(sprocket, label, visit.restS()));
            }
        } else if (step instanceof Step.RandomWalk walk) {
            cycle++;
            var numbers = new SplitMix64(walk.seed());
            for (int i = 0; i < walk.shifts(); i++) {
                boolean inboard = at == 1 || (at < profile.sprockets() && numbers.next() < 0);
                walkTo(inboard ? at + 1 : at - 1, label, walk.restS());
            }
        }
    }

    /** Opens a cycle and takes the unit to where it begins. */
    private void begin(int from, double restS) {
        cycle++;
        walkTo(from, "position-" + place, restS);
    }

    private void walkTo(int sprocket, String label, double restS) {
        while (at != sprocket) {
            int next = at < sprocket ? at + 1 : at - 1;
            add(new Action.RequestShift(cycle, at, next, label, restS));
            at = next;
        }
    }

    private void add(Action action) {
        if (actions.size() == MOST_ACTIONS) {
            throw bad(
                    place,
                    "the procedure comes to more than " + MOST_ACTIONS + " shifts, pauses and supply changes;"
                            + " expected fewer: split it into several runs");
        }
        actions.add(action);
    }

    private void refuseMissingSprockets() {
        var problems = new ArrayList<Problem>();
        check(procedure.steps(), new int[1], problems);
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }

    private void check(List<Step> steps, int[] count, List<Problem> problems) {
        for (Step step : steps) {
            int here = ++count[0];
            if (step instanceof Step.Sweep sweep) {
                int to = sweep.to().orElse(profile.sprockets());
                missing(here, List.of(sweep.from(), to)).ifPresent(problems::add);
                if (sweep.from() == to) {
                    problems.add(problem(
                            here,
                            "the sweep from sprocket " + to + " to the last one shifts nothing; the profile "
                                    + profile.name() + " has " + profile.sprockets()
                                    + " sprockets: expected another 'from'"));
                }
            } else if (step instanceof Step.Visit visit) {
                missing(here, visit.sprockets()).ifPresent(problems::add);
            } else if (step instanceof Step.Repeat repeat) {
                check(repeat.steps(), count, problems);
            }
        }
    }

    private Optional<Problem> missing(int here, List<Integer> sprockets) {
        return sprockets.stream()
                .filter(sprocket -> sprocket < 1 || sprocket > profile.sprockets())
                .findFirst()
                .map(sprocket -> problem(
                        here,
                        "sprocket " + sprocket + " does not exist; expected 1 to " + profile.sprockets()
                                + ", as the profile " + profile.name() + " has them"));
    }

    private BadInput bad(int here, String text) {
        return new BadInput(problem(here, text));
    }

    private Problem problem(int here, String text) {
        return new Problem(procedure.origin().file(), procedure.origin().line(here), 0, text);
    }
}
