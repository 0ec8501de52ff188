package org.shiftstand.spec;

import java.util.Optional;
import java.util.OptionalDouble;

/** One shift that a procedure asks for: what the expected groups of a clause are made of. */
public record PlannedShift(int cycle, int from, int to, Optional<String> step, OptionalDouble supplyV) {}
