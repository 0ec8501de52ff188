package org.shiftstand.cli;

import java.time.Duration;
import java.util.Locale;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * The line of a command that has none of its own: what is being done, and for how long. It shows once a second, from the second
 * second on, and makes way for whatever the command prints.
 *
 * <p>A thread of this class writes; {@link #clear} may be used from any thread.
 */
final class WorkingLine implements AutoCloseable {
    private final Progress line;
    private final String what;
    private final long startNanos = System.nanoTime();
    private final CountDownLatch over = new CountDownLatch(1);
    private final Thread thread;

    /**
     * Begins to wait.
     *
     * @param line used by this class alone
     * @param every from one showing to the next, and to the first
     */
    WorkingLine(Progress line, String what, Duration every) {
        this.line = line;
        this.what = what;
        thread = new Thread(() -> work(every), "working-line");
        thread.setDaemon(true);
        thread.start();
    }

    private void work(Duration every) {
        try {
            while (!over.await(every.toMillis(), TimeUnit.MILLISECONDS)) {
                synchronized (this) {
                    long seconds = (System.nanoTime() - startNanos) / 1_000_000_000L;
                    line.show(String.format(Locale.ROOT, "%s: %d s …", what, seconds));
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt(); // nobody does; a missing line harms nothing
        }
    }

    /** Takes the line away until it is shown next; from any thread. */
    synchronized void clear() {
        line.clear();
    }

    @Override
    public void close() {
        over.countDown();
        try {
            thread.join();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        clear();
    }
}
