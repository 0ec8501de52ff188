package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeCase;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Named;

/**
 * Judges a record that is still being written, now and then, on a thread of its own with the least priority: never the run's
 * thread, at most as often as asked for and at most a twentieth of the time. Only reads, and only up to the last request. Where it fails, nothing is known, and
 * the run does not notice.
 */
final class LiveFigures implements AutoCloseable {
    private static final int TWENTIETH = 20;
    private static final long LONGEST_STOP_MS = 5000;

    private final Path record;
    private final Thread thread;
    private volatile @Nullable Provisional latest;
    private volatile long judgedAtNanos;
    private volatile boolean over;

    /**
     * Begins.
     *
     * @param firstMs after so long for the first time
     * @param everyMs at least this from one beginning to the next
     */
    LiveFigures(Path record, long firstMs, long everyMs) {
        this.record = record;
        thread = new Thread(() -> work(firstMs, everyMs), "live-figures");
        thread.setDaemon(true);
        thread.setPriority(Thread.MIN_PRIORITY);
        thread.start();
    }

    /** How the run looked when it was last judged; empty where that is not known now. */
    Optional<Provisional> latest() {
        return Optional.ofNullable(latest);
    }

    /** How long ago that was, seconds. */
    double ageS() {
        return (System.nanoTime() - judgedAtNanos) / 1e9;
    }

    private void work(long firstMs, long everyMs) {
        try {
            long wait = firstMs;
            while (!over) {
                Thread.sleep(wait);
                long begun = System.nanoTime();
                judge();
                long tookMs = (System.nanoTime() - begun) / 1_000_000;
                wait = Math.max(everyMs - tookMs, (TWENTIETH - 1) * tookMs);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt(); // the run is over
        }
    }

    private void judge() {
        try {
            Provisional judged = judged(record, () -> over);
            judgedAtNanos = System.nanoTime();
            latest = judged;
        } catch (RuntimeException | OutOfMemoryError e) {
            // whatever it is, a run of hours does not end for a figure that the closed record gives anyway
            latest = null;
        }
    }

    /** Judges a record as far as it is written, up to its last request. */
    static Provisional judged(Path record, BooleanSupplier over) {
        try (JudgeInput input = JudgeInput.open(record, CsvOptions.usual())) {
            JudgeCase judgeCase = input.assemble(Named.nothing(), JudgeOptions.defaults());
            var source = new BeforeLastRequest(input.source(), over);
            return Provisional.of(Judge.judge(source, judgeCase.spec(), judgeCase.profile(), judgeCase.options())
                    .judgement());
        }
    }

    /**
     * Lets go of the record: what is under way is broken off at the next samples. Waits for that, 5 s at most.
     */
    @Override
    public void close() {
        over = true;
        thread.interrupt();
        boolean interrupted = false;
        try {
            thread.join(LONGEST_STOP_MS);
        } catch (InterruptedException e) {
            interrupted = true;
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    /** The run is over: nobody waits for this judging any more. */
    private static final class BrokenOff extends RuntimeException {
        BrokenOff() {
            super("the run is over", null, false, false);
        }
    }

    /**
     * A run up to its last request: the shift under way may rest at its plateau, and would be taken to have landed there. Ends a
     * reading once the run is over.
     */
    private static final class BeforeLastRequest implements SampleSource {
        private final SampleSource all;
        private final List<Request> requests;
        private final double endS;
        private final BooleanSupplier over;

        BeforeLastRequest(SampleSource all, BooleanSupplier over) {
            this.all = all;
            this.over = over;
            int before = Math.max(0, all.requests().size() - 1);
            this.requests = all.requests().subList(0, before);
            this.endS =
                    all.requests().isEmpty() ? 0 : all.requests().get(before).timeS();
        }

        private SampleReader until(SampleReader reader) {
            return new SampleReader() {
                @Override
                public boolean next(SampleBlock block) {
                    if (over.getAsBoolean()) {
                        throw new BrokenOff();
                    }
                    return reader.next(block) && cut(block);
                }

                @Override
                public void close() {
                    reader.close();
                }
            };
        }

        private boolean cut(SampleBlock block) {
            int n = block.size();
            while (n > 0 && block.timeS[n - 1] >= endS) {
                n--;
            }
            block.size(n);
            return n > 0;
        }

        @Override
        public SampleReader open() {
            return until(all.open());
        }

        @Override
        public SampleReader open(long fromSample) {
            return until(all.open(fromSample));
        }

        @Override
        public SourceIdentity identity() {
            return all.identity();
        }

        @Override
        public Channels channels() {
            return all.channels();
        }

        @Override
        public double intervalS() {
            return all.intervalS();
        }

        @Override
        public List<Request> requests() {
            return requests;
        }

        @Override
        public List<Double> supplyCuts() {
            return all.supplyCuts().stream().filter(atS -> atS < endS).toList();
        }

        @Override
        public List<Gap> gaps() {
            return all.gaps().stream().filter(gap -> gap.fromS() < endS).toList();
        }

        @Override
        public List<Break> breaks() {
            return all.breaks().stream().filter(b -> b.toS() < endS).toList();
        }

        @Override
        public List<String> notices() {
            return all.notices();
        }

        @Override
        public void close() {
            all.close();
        }
    }
}
