package org.shiftstand.faults;

import java.nio.file.Path;

/** One fault, done once. */
interface Trial {
    /**
     * Does it.
     *
     * @param seed of everything random in it
     * @param folder its own, empty; kept where the trial fails
     * @throws AssertionError where the fault was not survived
     */
    Seen run(long seed, Path folder) throws Exception;
}
