package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.shiftstand.document.BadInput;

@Timeout(30)
class RoomTest {
    private static final long MIB = 1 << 20;

    private final AtomicLong usable = new AtomicLong();
    private final Room room = new Room(Path.of("out"), 1000 * MIB, usable::get);

    @Test
    void without_room_for_the_run_nothing_starts_and_both_figures_are_told() {
        usable.set(900 * MIB);

        assertThatThrownBy(room::refuse)
                .isInstanceOf(BadInput.class)
                .hasMessage("out: has not the room for this run: it takes about 1.0 GiB, 900 MiB are free; nothing was"
                        + " started. Make room, or choose another folder with --out");
    }

    @Test
    void with_room_it_starts() {
        usable.set(1041 * MIB);

        room.refuse();

        assertThat(room.look(1)).isEqualTo(new Room.Finding.Enough());
    }

    @Test
    void what_is_left_of_the_run_is_what_counts_on_the_way() {
        usable.set(500 * MIB);

        assertThat(room.look(0.4)).isEqualTo(new Room.Finding.Enough());
        assertThat(room.look(0.5))
                .isEqualTo(
                        new Room.Finding.Short("the rest of the run takes about 540 MiB, only 500 MiB are free in out;"
                                + " make room, or the run will be stopped early"));
    }

    @Test
    void a_run_is_stopped_before_the_disk_is_full() {
        usable.set(39 * MIB);

        assertThat(room.look(0))
                .isEqualTo(new Room.Finding.Full(
                        "only 39 MiB are free in out: the run is stopped as long as there is room to"
                                + " close its record"));
    }

    @Test
    void a_disk_that_does_not_say_its_room_hinders_nothing() {
        var silent = new Room(Path.of("out"), 1000 * MIB, () -> {
            throw new UncheckedIOException(new IOException("not known"));
        });

        silent.refuse();

        assertThat(silent.look(1)).isEqualTo(new Room.Finding.Enough());
    }

    @Test
    void the_watch_warns_once_and_then_wants_the_end() {
        List<String> told = new CopyOnWriteArrayList<>();
        usable.set(500 * MIB);
        try (var watch = new RoomWatch(room, 5, () -> 0.9, told::add)) {
            await().until(() -> told.size() == 1);
            assertThat(watch.getAsBoolean()).isFalse();

            usable.set(10 * MIB);

            await().until(watch::getAsBoolean);
            await().until(() -> told.size() == 2);
            assertThat(watch.reason()).contains(told.get(1));
        }
        assertThat(told.get(0)).startsWith("the rest of the run takes about 940 MiB");
        assertThat(told.get(1)).startsWith("only 10 MiB are free in out");
    }
}
