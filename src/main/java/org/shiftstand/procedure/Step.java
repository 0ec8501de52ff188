package org.shiftstand.procedure;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** One step of a procedure. {@code last} in a file is resolved against the profile when the script is laid out. */
public sealed interface Step {
    /** As files write it, such as {@code sweep}. */
    String kind();

    /** Label of its own, by which clauses select its shifts. */
    default Optional<String> label() {
        return Optional.empty();
    }

    /** Sets the unit's supply, volts, above 0. */
    record Supply(double volts) implements Step {
        @Override
        public String kind() {
            return "supply";
        }
    }

    /** Takes the unit's supply away; where it stands is not known after that. */
    record SupplyOff() implements Step {
        @Override
        public String kind() {
            return "supply";
        }
    }

    /** Brings the unit to sprocket 1 by outboard requests until it no longer moves. */
    record Home() implements Step {
        @Override
        public String kind() {
            return "home";
        }
    }

    /**
     * A walk from one sprocket to another, one at a time.
     *
     * @param to empty for {@code last}
     * @param restS pause after each shift came to rest, seconds
     * @param label by which clauses select it; empty: by its kind and place
     */
    record Sweep(int from, OptionalInt to, boolean andBack, int times, double restS, Optional<String> label)
            implements Step {
        /** Without a label of its own. */
        public Sweep(int from, OptionalInt to, boolean andBack, int times, double restS) {
            this(from, to, andBack, times, restS, Optional.empty());
        }

        @Override
        public String kind() {
            return "sweep";
        }
    }

    /** A list of sprockets visited in order, one step at a time. */
    record Visit(List<Integer> sprockets, int times, double restS, Optional<String> label) implements Step {
        public Visit {
            sprockets = List.copyOf(sprockets);
        }

        /** Without a label of its own. */
        public Visit(List<Integer> sprockets, int times, double restS) {
            this(sprockets, times, restS, Optional.empty());
        }

        @Override
        public String kind() {
            return "visit";
        }
    }

    /** A seeded random walk of so many shifts between neighbours. */
    record RandomWalk(int shifts, long seed, double restS, Optional<String> label) implements Step {
        /** Without a label of its own. */
        public RandomWalk(int shifts, long seed, double restS) {
            this(shifts, seed, restS, Optional.empty());
        }

        @Override
        public String kind() {
            return "random-walk";
        }
    }

    /** A pause, seconds. */
    record Rest(double seconds) implements Step {
        @Override
        public String kind() {
            return "rest";
        }
    }

    record Repeat(int times, List<Step> steps) implements Step {
        @Override
        public String kind() {
            return "repeat";
        }
    }
}
