package org.shiftstand.link;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.link.Arrival.Damaged.Kind;

class ArrivalQueueTest {
    private static final int FULL = ArrivalQueue.MOST_BLOCKS;

    private final ArrivalQueue queue = new ArrivalQueue();

    private static Arrival block(int number) {
        return new Arrival.Received(new Frame(1, MessageCodec.SAMPLES, number, new byte[0]));
    }

    private static Arrival event(int number) {
        return new Arrival.Received(new Frame(1, MessageCodec.EVENT, number, new byte[0]));
    }

    private void put(int from, int to) {
        for (int i = from; i < to; i++) {
            queue.put(block(i));
        }
    }

    /** All that waits: {@code b7} for a block, {@code e7} for an event, {@code -7} for so many dropped. */
    private List<String> taken(int most) throws InterruptedException {
        List<String> taken = new ArrayList<>();
        for (int i = 0; i < most && !queue.isEmpty(); i++) {
            Arrival arrival = queue.poll(0);
            if (arrival instanceof Arrival.Received r) {
                taken.add((r.frame().type() == MessageCodec.SAMPLES ? "b" : "e")
                        + r.frame().sequence());
            } else if (arrival instanceof Arrival.Dropped d) {
                taken.add("-" + d.arrivals());
            } else {
                taken.add("?");
            }
        }
        return taken;
    }

    private List<String> all() throws InterruptedException {
        return taken(Integer.MAX_VALUE);
    }

    @Test
    void what_is_put_comes_out_in_order() throws InterruptedException {
        put(0, 3);
        queue.put(event(3));

        assertThat(all()).containsExactly("b0", "b1", "b2", "e3");
        assertThat(queue.poll(0)).isNull();
    }

    @Test
    void nothing_is_waited_for_as_long_as_asked() throws InterruptedException {
        long before = System.nanoTime();

        assertThat(queue.poll(30_000)).isNull();

        assertThat(System.nanoTime() - before).isGreaterThanOrEqualTo(30_000_000);
    }

    @Nested
    class Full {
        @Test
        void blocks_are_dropped_and_counted_behind_those_that_wait() throws InterruptedException {
            put(0, FULL + 10);

            List<String> all = all();

            assertThat(all).hasSize(FULL + 1);
            assertThat(all.subList(FULL - 1, FULL + 1)).containsExactly("b" + (FULL - 1), "-10");
        }

        @Test
        void one_place_that_gets_free_does_not_end_the_dropping() throws InterruptedException {
            put(0, FULL + 1);
            taken(5);
            put(FULL + 1, FULL + 3);
            taken(FULL / 4);
            put(FULL + 3, FULL + 5);

            List<String> all = all();

            assertThat(all.subList(all.size() - 3, all.size()))
                    .containsExactly("-3", "b" + (FULL + 3), "b" + (FULL + 4));
        }

        @Test
        void an_event_still_has_room_and_the_drop_before_it_is_told_before_it() throws InterruptedException {
            put(0, FULL + 2);
            queue.put(event(FULL + 2));
            put(FULL + 3, FULL + 6);

            List<String> all = all();

            assertThat(all.subList(FULL, all.size())).containsExactly("-2", "e" + (FULL + 2), "-3");
        }

        @Test
        void damage_has_not() throws InterruptedException {
            put(0, FULL);
            queue.put(new Arrival.Damaged(Kind.STUFFING, 3));

            assertThat(all()).endsWith("-1");
        }

        @Test
        void memory_is_bounded_for_events_too_and_all_is_accounted_for() throws InterruptedException {
            int sent = 3 * FULL;
            for (int i = 0; i < sent; i++) {
                queue.put(i % 3 == 0 ? event(i) : block(i));
            }

            List<String> all = all();

            assertThat(all).hasSizeLessThanOrEqualTo(FULL + ArrivalQueue.ROOM_FOR_OTHERS + 2);
            int dropped = 0;
            int expected = 0;
            for (String a : all) {
                if (a.startsWith("-")) {
                    dropped += Integer.parseInt(a.substring(1));
                    expected += Integer.parseInt(a.substring(1));
                } else {
                    assertThat(Integer.parseInt(a.substring(1))).isEqualTo(expected++);
                }
            }
            assertThat(expected).isEqualTo(sent);
            assertThat(dropped).isPositive();
        }
    }
}
