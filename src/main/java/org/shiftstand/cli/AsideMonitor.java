package org.shiftstand.cli;

import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.RigMessage;
import org.shiftstand.rig.RunMonitor;

/**
 * Passes on what a run tells, on a thread of its own: a terminal that is held or a pipe that nobody reads must not hold up
 * the heartbeat. Of progress only the latest is kept; notices wait, and beyond a thousand of them the run has other troubles.
 */
final class AsideMonitor implements RunMonitor, AutoCloseable {
    private static final int MOST_WAITING = 1000;
    private static final long PATIENCE_MS = 2000;
    private static final long LOOK_MS = 50;

    private final RunMonitor to;
    private final Consumer<RigMessage.Identity> gate;
    private final BlockingQueue<String> notices = new ArrayBlockingQueue<>(MOST_WAITING);
    private final AtomicReference<@Nullable Progress> latest = new AtomicReference<>();
    private final Thread thread;
    private volatile boolean ending;

    /** @param gate looks at the rig before anything is armed, and refuses it by throwing */
    AsideMonitor(RunMonitor to, Consumer<RigMessage.Identity> gate) {
        this.to = to;
        this.gate = gate;
        thread = new Thread(this::pass, "run-told");
        thread.setDaemon(true);
        thread.start();
    }

    /** {@inheritDoc} At once: nothing is armed yet. */
    @Override
    public void connected(RigMessage.Identity identity) {
        gate.accept(identity);
        to.connected(identity);
    }

    @Override
    public void progress(Progress progress) {
        latest.set(progress);
    }

    @Override
    public void notice(String text) {
        notices.offer(text);
    }

    private void pass() {
        try {
            boolean more = true;
            while (more) {
                more = !ending;
                String notice = notices.poll(more ? LOOK_MS : 0, TimeUnit.MILLISECONDS);
                while (notice != null) {
                    to.notice(notice);
                    notice = notices.poll();
                }
                Progress progress = latest.getAndSet(null);
                if (progress != null) {
                    to.progress(progress);
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Passes on what waits, at most for two seconds. */
    @Override
    public void close() {
        ending = true;
        try {
            thread.join(PATIENCE_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
