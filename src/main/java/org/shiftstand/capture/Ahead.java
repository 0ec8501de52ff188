package org.shiftstand.capture;

import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
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

    private static final class Run<B> {
        private final Predicate<B> fill;
        private final BlockingQueue<B> empty;
        /** One place more than blocks, for the end. */
        private final BlockingQueue<Filled<B>> filled;

        private volatile boolean stopped;
        private boolean interrupted;

        /** A filled block; without one, the end, and the failure that brought it where there was one. */
        private record Filled<B>(
                @Nullable B block, @Nullable Throwable failure) {}

        Run(List<B> ring, Predicate<B> fill) {
            this.fill = fill;
            empty = new ArrayBlockingQueue<>(ring.size(), false, ring);
            filled = new ArrayBlockingQueue<>(ring.size() + 1);
        }

        void take(Consumer<B> take) {
            Thread ahead = new Thread(this::fill, "read-ahead");
            ahead.setDaemon(true);
            ahead.start();
            try {
                Filled<B> next = next();
                for (B block = next.block(); block != null; block = next.block()) {
                    take.accept(block);
                    empty.add(block);
                    next = next();
                }
                rethrow(next.failure());
            } finally {
                end(ahead);
            }
        }

        private Filled<B> next() {
            while (true) {
                try {
                    return filled.take();
                } catch (InterruptedException e) {
                    interrupted = true;
                }
            }
        }

        private void fill() {
            Throwable failure = null;
            try {
                B block = empty.take();
                while (!stopped && fill.test(block)) {
                    filled.add(new Filled<>(block, null));
                    block = empty.take();
                }
            } catch (InterruptedException e) {
                failure = new IllegalStateException("only its owner knows this thread, and never interrupts it", e);
            } catch (RuntimeException | Error e) {
                failure = e;
            }
            filled.add(new Filled<>(null, failure));
        }

        private static void rethrow(@Nullable Throwable failure) {
            if (failure instanceof Error error) {
                throw error;
            }
            if (failure instanceof RuntimeException exception) {
                throw exception;
            }
        }

        /** Waits for the other thread, so that nobody reads a source that the caller closes next. */
        private void end(Thread ahead) {
            stopped = true;
            while (ahead.isAlive()) {
                Filled<B> left = filled.poll();
                if (left != null && left.block() != null) {
                    empty.add(left.block()); // it may wait for one, to see that it is to stop
                }
                try {
                    ahead.join(1);
                } catch (InterruptedException e) {
                    interrupted = true;
                }
            }
            if (interrupted) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
