package org.shiftstand.capture;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(20)
class AheadTest {
    private static List<int[]> ring(int blocks) {
        return IntStream.range(0, blocks).mapToObj(i -> new int[1]).toList();
    }

    /** Fills 0, 1, 2, … up to {@code end} − 1. */
    private static final class Counting {
        private final int end;
        private int next;
        private final AtomicReference<Thread> thread = new AtomicReference<>();

        Counting(int end) {
            this.end = end;
        }

        boolean fill(int[] block) {
            thread.set(Thread.currentThread());
            block[0] = next;
            return next++ < end;
        }
    }

    @Test
    void every_block_is_taken_once_and_in_order() {
        List<Integer> taken = new ArrayList<>();

        Ahead.run(ring(3), new Counting(10_000)::fill, block -> taken.add(block[0]));

        assertThat(taken).isEqualTo(IntStream.range(0, 10_000).boxed().toList());
    }

    @Test
    void nothing_to_fill_is_nothing_to_take() {
        List<Integer> taken = new ArrayList<>();

        Ahead.run(ring(2), block -> false, block -> taken.add(block[0]));

        assertThat(taken).isEmpty();
    }

    @Test
    void what_filling_throws_comes_after_the_blocks_before_it() {
        List<Integer> taken = new ArrayList<>();
        Counting counting = new Counting(100);
        IllegalStateException torn = new IllegalStateException("torn");

        assertThatThrownBy(() -> Ahead.run(
                        ring(4),
                        block -> {
                            if (counting.next == 7) {
                                throw torn;
                            }
                            return counting.fill(block);
                        },
                        block -> taken.add(block[0])))
                .isSameAs(torn);

        assertThat(taken).containsExactly(0, 1, 2, 3, 4, 5, 6);
    }

    @Test
    void what_taking_throws_ends_the_other_thread_first() {
        Counting counting = new Counting(Integer.MAX_VALUE);

        assertThatThrownBy(() -> Ahead.run(ring(4), counting::fill, block -> {
                    if (block[0] == 50) {
                        throw new IllegalStateException("enough");
                    }
                }))
                .hasMessage("enough");

        assertThat(counting.thread.get()).isNotNull().matches(thread -> !thread.isAlive());
    }

    @Test
    void an_interrupt_is_kept_and_nothing_is_lost() {
        List<Integer> taken = new ArrayList<>();

        Thread.currentThread().interrupt();
        Ahead.run(ring(2), new Counting(1000)::fill, block -> taken.add(block[0]));

        assertThat(Thread.interrupted()).isTrue();
        assertThat(taken).hasSize(1000);
    }
}
