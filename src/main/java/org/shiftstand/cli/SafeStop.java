package org.shiftstand.cli;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;

/**
 * Turns Ctrl-C and SIGTERM into an orderly stop: the run sees the wish at its next arrival, cuts the supply, closes the
 * record, and only then may the process end. A second signal changes nothing: the machine is already ending, and waits.
 */
final class SafeStop implements BooleanSupplier, AutoCloseable {
    /** A cut takes three tries of 200 ms; judging and writing the report of a long run take seconds. */
    private static final long PATIENCE_S = 60;

    private final CountDownLatch finished = new CountDownLatch(1);
    private final Thread hook;
    private volatile boolean wanted;

    SafeStop() {
        hook = new Thread(this::stopAndWait, "safe-stop");
        Runtime.getRuntime().addShutdownHook(hook);
    }

    @Override
    public boolean getAsBoolean() {
        return wanted;
    }

    private void stopAndWait() {
        wanted = true;
        boolean interrupted = false;
        try {
            finished.await(PATIENCE_S, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            interrupted = true;
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    /** The run is over and its files are written: the process may end. */
    @Override
    public void close() {
        finished.countDown();
        if (!wanted) {
            try {
                Runtime.getRuntime().removeShutdownHook(hook);
            } catch (IllegalStateException ending) {
                // the signal came just now: the hook finds nothing left to wait for
                wanted = true;
            }
        }
    }
}
