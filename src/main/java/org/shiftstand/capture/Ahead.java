package org.shiftstand.capture;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.jspecify.annotations.Nullable;

/**
 * Two steps over blocks at the same time: a second thread fills blocks ahead while the caller's thread takes them, in
 * order; the blocks go round in a small ring. What comes out does not depend on how fast either is.
 */
public final class Ahead {
    private Ahead() {}

    /**
     * Fills and takes blocks until there are no more. Waits for blocks; on return or throw the other thread has ended. An
     * interrupt of the caller is kept for later.
     *
     * @param ring blocks to go round, two or more
     * @param fill fills a block, false at the end; runs in a thread of its own, one call after the other
     * @param take looks at a filled block; runs in the caller's thread
     * @throws RuntimeException what either threw
     */
    public static <B> void run(List<B> ring, Predicate<B> fill, Consumer<B> take) {
        if (ring.size() < 2) {
            throw new IllegalArgumentException("a ring needs two blocks or more: blocks=" + ring.size());
        }
        new Run<B>(ring, fill).take(take);
    }

    /**
     * Blocks on their way. Who waits is woken for half a ring at a time, not for each block: waking costs more than many a
     * block does. When one waits for a block, all are with the other or on their way to it, so that half will come.
     */
    private static final class Run<B> {
        private final Predicate<B> fill;
        private final int half;
        private final Deque<B> empty;
        private final Deque<B> filled;
        private boolean ended;
        private @Nullable Throwable failure;
        private boolean stopped;
        private boolean interrupted;

        Run(List<B> ring, Predicate<B> fill) {
            this.fill = fill;
            this.half = ring.size() / 2;
            this.empty = new ArrayDeque<>(ring);
            this.filled = new ArrayDeque<>(ring.size());
        }

        void take(Consumer<B> take) {
            Thread ahead = new Thread(this::fill, "read-ahead");
            ahead.setDaemon(true);
            ahead.start();
            try {
                for (B block = nextFilled(); block != null; block = nextFilled()) {
                    take.accept(block);
                    emptied(block);
                }
                rethrow();
            } finally {
                end(ahead);
            }
        }

        /** Null at the end. */
        private synchronized @Nullable B nextFilled() {
            while (filled.isEmpty() && !ended) {
                try {
                    wait();
                } catch (InterruptedException e) {
                    interrupted = true;
                }
            }
            return filled.poll();
        }

        private synchronized void emptied(B block) {
            empty.add(block);
            if (empty.size() == half) {
                notifyAll();
            }
        }

        private void fill() {
            Throwable thrown = null;
            try {
                B block = nextEmpty();
                while (block != null && fill.test(block)) {
                    filled(block);
                    block = nextEmpty();
                }
            } catch (InterruptedException e) {
                thrown = new IllegalStateException("only its owner knows this thread, and never interrupts it", e);
            } catch (RuntimeException | Error e) {
                thrown = e;
            }
            ended(thrown);
        }

        /** Null where it is to stop. */
        private synchronized @Nullable B nextEmpty() throws InterruptedException {
            while (empty.isEmpty() && !stopped) {
                wait();
            }
            return stopped ? null : empty.poll();
        }

        private synchronized void filled(B block) {
            filled.add(block);
            if (filled.size() == half) {
                notifyAll();
            }
        }

        private synchronized void ended(@Nullable Throwable thrown) {
            failure = thrown;
            ended = true;
            notifyAll();
        }

        private synchronized void rethrow() {
            if (failure instanceof Error error) {
                throw error;
            }
            if (failure instanceof RuntimeException exception) {
                throw exception;
            }
        }

        /** Waits for the other thread, so that nobody reads a source that the caller closes next. */
        private void end(Thread ahead) {
            stop();
            while (ahead.isAlive()) {
                try {
                    ahead.join();
                } catch (InterruptedException e) {
                    interrupted = true;
                }
            }
            if (interrupted) {
                Thread.currentThread().interrupt();
            }
        }

        private synchronized void stop() {
            stopped = true;
            notifyAll();
        }
    }
}
